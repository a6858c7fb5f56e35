"""Through what to discharge a reservoir by hand: I = V0 / R, P = V0^2 / R."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.discharge.arithmetic import energy, most_ohm, returning, seconds_to
from shop.calc.discharge.shared import (
    RECHECK_SECONDS,
    SAFE_VOLT,
    Farad,
    SafeVolt,
    given_lines,
    working,
)
from shop.calc.fields import fit
from shop.calc.preferred_values import SERIES_SOURCE, at_most
from shop.calc.registry import calculator
from shop.calc.shown import ohms
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status

RATINGS_WATT: Final = (1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 17.0, 25.0, 50.0, 100.0)
# A wirewound resistor stands ten times its rating, but not for longer than this.
OVERLOAD_SECONDS: Final = 5.0
OVERLOAD_TIMES: Final = 10.0
OVERLOAD_DIFFERS: Final = _noop(
    "Short overload: ten times the rated watts here, for wirewound; ordinary resistors are tested "
    "at 2.5 times the rated volts, 6.25 times the watts."
)
SOURCES: Final = [
    Source("a wirewound resistor stands ten times its rating for 5 s", Status.FROM_MEMORY),
    Source("overload test at 2.5 times the rated volts", Status.SECOND_HAND,
           "electrical-information.com/resistor-overload-voltage-and-maximum-overload-voltage"),
    SERIES_SOURCE,
]  # fmt: skip


class ResistorIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A charged reservoir to discharge by hand within some seconds."""

    farad: Farad
    from_volt: Annotated[
        float,
        Meta(title="Charged to", ge=1, le=20000, description="V at the start, measured or rated"),
    ]
    seconds: Annotated[
        float,
        Meta(title="Time to take", ge=0.5, le=600, description="seconds, 5 if left out"),
    ] = 5.0
    safe_volt: SafeVolt = SAFE_VOLT
    most_peak_a: Annotated[
        float,
        Meta(title="Most peak current", ge=0.001, le=100, description="ampere, 2 if left out"),
    ] = 2.0


class Resistor(msgspec.Struct, frozen=True):
    """The resistor of the E12 series, what it takes at the first moment, and its rating."""

    ohm: float
    seconds: float
    peak_watt: float
    peak_a: float
    energy_joule: float
    rating_watt: float | None
    recheck_after_seconds: float
    may_return_volt: tuple[float, float]


RESISTOR_EXAMPLE = {"farad": 470e-6, "from_volt": 400.0, "seconds": 5.0}


@calculator(
    "discharge.resistor",
    "Choose the resistor to discharge a reservoir",
    question="Which resistor empties this reservoir within a few seconds, and how big must it be?",
    example=RESISTOR_EXAMPLE,
)
def resistor(given: ResistorIn) -> Answer[Resistor]:
    """The largest E12 value that is quick enough. Warns if its peak current is above the limit.

    Units: farad, volt, second, ampere in; ohm, watt, joule out. Formula: R <= t / (C ln(V0 / Vs)).
    Rating: a tenth of the peak power if it is over within 5 s, else the whole of it.
    Raises BadInput if the reservoir is already at a safe voltage.
    Source: as `discharge.wait`; the tenfold overload is from memory.
    """
    given = fit(given)
    if given.from_volt <= given.safe_volt:
        reason = _("It is already at or below the safe voltage: measure and leave it.")
        raise BadInput("from_volt", reason, "already_safe")
    ohm = at_most(most_ohm(given.seconds, given.farad, given.from_volt, given.safe_volt), "E12")
    peak_watt = given.from_volt**2 / ohm
    value = Resistor(
        ohm=ohm,
        seconds=seconds_to(ohm, given.farad, given.from_volt, given.safe_volt),
        peak_watt=peak_watt,
        peak_a=given.from_volt / ohm,
        energy_joule=energy(given.farad, given.from_volt),
        rating_watt=_rating(peak_watt, given.seconds),
        recheck_after_seconds=RECHECK_SECONDS,
        may_return_volt=returning(given.from_volt),
    )
    is_harsh = value.peak_a > given.most_peak_a or value.rating_watt is None
    text = _("{ohm}; measure again after {wait:.0f} s.", ohm=ohms(value.ohm), wait=RECHECK_SECONDS)
    if is_harsh:
        text += " " + _("That is harsh: take more seconds.")
    outcome = Outcome.WARN if is_harsh else Outcome.OK
    return Answer(
        outcome, text, value, working(_resistor_lines(given, value), SOURCES, [_(OVERLOAD_DIFFERS)])
    )


def _rating(peak_watt: float, seconds: float) -> float | None:
    """The smallest usual rating that stands it; None above 100 W.

    The overload is for seconds only: a slow discharge counts as if its peak power stayed.
    """
    times = OVERLOAD_TIMES if seconds <= OVERLOAD_SECONDS else 1.0
    return next((watt for watt in RATINGS_WATT if times * watt >= peak_watt), None)


def _resistor_lines(given: ResistorIn, value: Resistor) -> list[Line]:
    low, high = value.may_return_volt
    return [
        *given_lines(given.farad, given.from_volt, given.safe_volt),
        Line(_("to take"), "t", f"{given.seconds:g} s"),
        Line(_("resistor"), "E12 <= t / (C ln(V0/Vs))", ohms(value.ohm)),
        Line(_("takes"), "R C ln(V0/Vs)", f"{value.seconds:.2f} s"),
        Line(_("first moment"), "V0/R, V0^2/R", f"{value.peak_a:.3g} A, {value.peak_watt:.3g} W"),
        Line(_("energy"), "C V^2 / 2", f"{value.energy_joule:.3g} J"),
        Line(_("may return"), "10 to 15 % of V0", f"{low:.0f} to {high:.0f} V"),
    ]
