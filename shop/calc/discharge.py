"""Stored charge: how long to wait, through what to discharge, what comes back, the plug's pins.

t = R C ln(V0 / Vs), R_max = t / (C ln(V0 / Vs)), E = C V0^2 / 2, I = V0 / R, P = V0^2 / R.
Units: ohm, farad, volt, second, joule, ampere, watt. Safe to touch here is 50 V d.c., stricter
than the 60 V of the standards; above 60 V counts as live.
"""

from __future__ import annotations

from math import ceil, exp, inf, log
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.preferred_values import SERIES_SOURCE, at_most
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

SAFE_VOLT: Final = 50.0
LIVE_VOLT: Final = 60.0
RECHECK_SECONDS: Final = 60.0
# Wet aluminium parts give back 10 to 15 % of the volts they had.
ABSORPTION: Final = (0.10, 0.15)
# Old parts were made to -10/+50 %, bleeders to 20 %.
CAPACITOR_HIGH: Final = 1.5
BLEEDER_HIGH: Final = 1.2
RATINGS_WATT: Final = (1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 17.0, 25.0, 50.0, 100.0)
# A wirewound resistor stands ten times its rating, but not for longer than this.
OVERLOAD_SECONDS: Final = 5.0
OVERLOAD_TIMES: Final = 10.0

Farad = Annotated[
    float,
    Meta(
        title="Reservoir",
        ge=1e-12,
        le=10,
        description="capacitance in farad, all that is in parallel",
        examples=[0.0001],
    ),
]
StoredVolt = Annotated[
    float, Meta(title="Charged to", ge=0, le=20000, description="V at the start, measured or rated")
]
SafeVolt = Annotated[
    float,
    Meta(
        title="Safe from",
        ge=1,
        le=LIVE_VOLT,
        description="V to come down to, 50 if left out, never above 60",
    ),
]
Bleeder = Annotated[
    Annotated[float, Meta(ge=0.1, le=1e9)] | None,
    Meta(title="Bleeder", description="ohm; leave it out if there is none or it is not known"),
]


def seconds_to(ohm: float, farad: float, from_volt: float, to_volt: float) -> float:
    """t = R C ln(V0 / Vs); nothing if it is there already."""
    return ohm * farad * log(from_volt / to_volt) if from_volt > to_volt else 0.0


def most_ohm(seconds: float, farad: float, from_volt: float, to_volt: float) -> float:
    """R_max = t / (C ln(V0 / Vs)); without bound if it is there already."""
    return seconds / (farad * log(from_volt / to_volt)) if from_volt > to_volt else inf


def volts_after(seconds: float, ohm: float, farad: float, from_volt: float) -> float:
    """V = V0 exp(-t / RC). An infinite resistance leaves it as it was."""
    return from_volt * exp(-seconds / (ohm * farad))


def energy(farad: float, volt: float) -> float:
    """E = C V^2 / 2, joule."""
    return 0.5 * farad * volt**2


def charge(farad: float, volt: float) -> float:
    """Q = C V, coulomb."""
    return farad * volt


class WaitIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A reservoir and its bleeder; null if there is none or it is not known to be there."""

    farad: Farad
    from_volt: StoredVolt
    bleeder_ohm: Bleeder = None
    safe_volt: SafeVolt = SAFE_VOLT


class Wait(msgspec.Struct, frozen=True):
    """Seconds by the marked values, and to wait with both parts at their upper tolerance."""

    seconds: float
    wait_seconds: float
    seconds_to_60_volt: float
    energy_joule: float
    may_return_volt: tuple[float, float]


# A published case: 400 V, 470 uF, 10 kohm to 50 V in 9.8 s (resicalc.com, capacitor discharge).
WAIT_EXAMPLE = {"farad": 470e-6, "from_volt": 400.0, "bleeder_ohm": 10_000.0}


@calculator(
    "discharge.wait",
    "How long to wait for a reservoir to bleed down",
    question="How long after pulling the plug may I reach in?",
    example=WAIT_EXAMPLE,
)
def wait(given: WaitIn) -> Answer[Wait]:
    """Waiting time through a bleeder presumed sound; without one it never falls.

    Units: farad, volt, ohm in; seconds, joule, volt out. Formula: t = R C ln(V0 / Vs), then x 1.8
    for tolerances of both parts. Raises BadInput for a safe voltage above 60 V.
    Source: resicalc.com and sdev.dk/?p=356 (formula); the tolerances are our choice.
    """
    given = fit(given)
    if given.bleeder_ohm is None and given.from_volt > given.safe_volt:
        text = _("Without a bleeder it never falls by itself: measure, then discharge it.")
        return Answer(Outcome.NO_ANSWER, text, None, _working(_given_lines(given)))
    ohm = given.bleeder_ohm or 0.0
    seconds = seconds_to(ohm, given.farad, given.from_volt, given.safe_volt)
    value = Wait(
        seconds=seconds,
        wait_seconds=seconds * CAPACITOR_HIGH * BLEEDER_HIGH,
        seconds_to_60_volt=seconds_to(ohm, given.farad, given.from_volt, LIVE_VOLT),
        energy_joule=energy(given.farad, given.from_volt),
        may_return_volt=returning(given.from_volt),
    )
    text = _(
        "Wait {seconds} s, then measure: this presumes a sound bleeder. An open one means it "
        "never falls.",
        seconds=ceil(value.wait_seconds),
    )
    return Answer(Outcome.OK, text, value, _working(_wait_lines(given, value)))


def _wait_lines(given: WaitIn, value: Wait) -> list[Line]:
    bleeder = [Line(_("bleeder"), "R", f"{given.bleeder_ohm:g} ohm")] if given.bleeder_ohm else []
    return [
        *bleeder,
        *_given_lines(given),
        Line(_("by the marked values"), "R C ln(V0/Vs)", f"{value.seconds:.1f} s"),
        Line(_("to wait"), "x 1.5 x 1.2", f"{value.wait_seconds:.1f} s"),
        Line(_("to 60 V, the standards' figure"), "R C ln(V0/60)",
             f"{value.seconds_to_60_volt:.1f} s"),
        Line(_("energy"), "C V^2 / 2", f"{value.energy_joule:.3g} J"),
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
    text = _("{ohm:g} ohm; measure again after {wait:.0f} s.", ohm=ohm, wait=RECHECK_SECONDS)
    if is_harsh:
        text += " " + _("That is harsh: take more seconds.")
    outcome = Outcome.WARN if is_harsh else Outcome.OK
    return Answer(outcome, text, value, _working(_resistor_lines(given, value)))


def _rating(peak_watt: float, seconds: float) -> float | None:
    """The smallest usual rating that stands it; None above 100 W.

    The overload is for seconds only: a slow discharge counts as if its peak power stayed.
    """
    times = OVERLOAD_TIMES if seconds <= OVERLOAD_SECONDS else 1.0
    return next((watt for watt in RATINGS_WATT if times * watt >= peak_watt), None)


def _given_lines(given: WaitIn | ResistorIn) -> list[Line]:
    """What it was worked out from."""
    return [
        Line(_("reservoir"), "C", f"{given.farad * 1e6:.6g} uF"),
        Line(_("charged to"), "V0", f"{given.from_volt:g} V"),
        Line(_("safe to touch from here down"), "Vs", f"{given.safe_volt:g} V"),
    ]


def _resistor_lines(given: ResistorIn, value: Resistor) -> list[Line]:
    low, high = value.may_return_volt
    return [
        *_given_lines(given),
        Line(_("to take"), "t", f"{given.seconds:g} s"),
        Line(_("resistor"), "E12 <= t / (C ln(V0/Vs))", f"{value.ohm:g} ohm"),
        Line(_("takes"), "R C ln(V0/Vs)", f"{value.seconds:.2f} s"),
        Line(_("first moment"), "V0/R, V0^2/R", f"{value.peak_a:.3g} A, {value.peak_watt:.3g} W"),
        Line(_("energy"), "C V^2 / 2", f"{value.energy_joule:.3g} J"),
        Line(_("may return"), "10 to 15 % of V0", f"{low:.0f} to {high:.0f} V"),
    ]


def returning(volt: float) -> tuple[float, float]:
    """Volts that may come back by dielectric absorption after a short discharge."""
    return volt * ABSORPTION[0], volt * ABSORPTION[1]


def cautions() -> list[str]:
    """What belongs to every answer about a charged reservoir."""
    return [
        _("Unplugged, plug in sight. Measure every reservoir before touching; above 60 V is live."),
        _("Discharge through a resistor rated for the voltage, never with a screwdriver."),
        _("Measure again after a minute: volts come back. Then leave it shorted."),
        _("Prove the meter on a known source before and after."),
        _("Local codes and licensed practice come first."),
    ]


def _working(lines: list[Line]) -> Working:
    disagreements = [
        _("Safe d.c. volts: 60 V (IEC 62368-1, IEC 61140 dry), 42.4 V (IEC 60335-1), 120 V (upper "
          "bound of extra-low voltage); the bench rule here is 50 V."),
    ]  # fmt: skip
    return Working(lines, SOURCES, cautions(), disagreements)


SOURCES: Final = [
    Source("t = R C ln(V0/Vs)", Status.SECOND_HAND, "resicalc.com; sdev.dk/?p=356"),
    Source("60 V d.c. in dry places", Status.VERIFIED, "IEC 61140 as excerpted in IEC 63044-3"),
    Source("50 V before touching", Status.PROPOSED),
    Source("upper tolerances 1.5 and 1.2", Status.PROPOSED),
    Source("10 to 15 % come back in wet aluminium parts", Status.SECOND_HAND,
           "encyclopaedia article on aluminium electrolytic capacitors"),
    Source("a wirewound resistor stands ten times its rating for 5 s", Status.FROM_MEMORY),
    SERIES_SOURCE,
]  # fmt: skip
