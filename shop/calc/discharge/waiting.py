"""How long a reservoir takes to bleed down by itself."""

from __future__ import annotations

from math import ceil
from typing import Final

import msgspec

from shop.calc.discharge.arithmetic import energy, returning, seconds_to
from shop.calc.discharge.shared import (
    LIVE_VOLT,
    SAFE_VOLT,
    Bleeder,
    Farad,
    SafeVolt,
    StoredVolt,
    given_lines,
    working,
)
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.shown import ohms, watts
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status

# Old parts were made to -10/+50 %, bleeders to 20 %.
CAPACITOR_HIGH: Final = 1.5
BLEEDER_HIGH: Final = 1.2
TOLERANCES: Final = [Source("upper tolerances 1.5 and 1.2", Status.PROPOSED)]


class WaitIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A reservoir and its bleeder; null if there is none or it is not known to be there."""

    farad: Farad
    from_volt: StoredVolt
    bleeder_ohm: Bleeder = None
    safe_volt: SafeVolt = SAFE_VOLT


class Wait(msgspec.Struct, frozen=True):
    """Seconds by the marked values, and to wait with both parts at their upper tolerance.

    `bleeder_watt` is what the bleeder takes for as long as the unit is powered.
    """

    seconds: float
    wait_seconds: float
    seconds_to_60_volt: float
    energy_joule: float
    may_return_volt: tuple[float, float]
    bleeder_watt: float | None = None


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
        return Answer(
            Outcome.NO_ANSWER,
            text,
            None,
            working(given_lines(given.farad, given.from_volt, given.safe_volt), TOLERANCES),
        )
    ohm = given.bleeder_ohm or 0.0
    seconds = seconds_to(ohm, given.farad, given.from_volt, given.safe_volt)
    value = Wait(
        seconds=seconds,
        wait_seconds=seconds * CAPACITOR_HIGH * BLEEDER_HIGH,
        seconds_to_60_volt=seconds_to(ohm, given.farad, given.from_volt, LIVE_VOLT),
        energy_joule=energy(given.farad, given.from_volt),
        may_return_volt=returning(given.from_volt),
        bleeder_watt=given.from_volt**2 / given.bleeder_ohm if given.bleeder_ohm else None,
    )
    text = _(
        "Wait {seconds} s{minutes}, then measure: this presumes a sound bleeder. An open one "
        "means it never falls.",
        seconds=ceil(value.wait_seconds),
        minutes=_in_minutes(value.wait_seconds),
    )
    return Answer(Outcome.OK, text, value, working(_wait_lines(given, value), TOLERANCES))


def _in_minutes(seconds: float) -> str:
    """The same in begun minutes, as a clock on the wall shows them; nothing up to two."""
    minutes = ceil(seconds / 60)
    return _(" ({minutes} min)", minutes=minutes) if minutes > 2 else ""


def _wait_lines(given: WaitIn, value: Wait) -> list[Line]:
    bleeder = [Line(_("bleeder"), "R", ohms(given.bleeder_ohm))] if given.bleeder_ohm else []
    return [
        *bleeder,
        *given_lines(given.farad, given.from_volt, given.safe_volt),
        Line(_("by the marked values"), "R C ln(V0/Vs)", f"{value.seconds:.1f} s"),
        Line(_("to wait"), "x 1.5 x 1.2", f"{value.wait_seconds:.1f} s"),
        Line(_("to 60 V, the standards' figure"), "R C ln(V0/60)",
             f"{value.seconds_to_60_volt:.1f} s"),
        Line(_("energy"), "C V^2 / 2", f"{value.energy_joule:.3g} J"),
        *_watt_lines(value),
    ]  # fmt: skip


def _watt_lines(value: Wait) -> list[Line]:
    if value.bleeder_watt is None:
        return []
    shown = watts(value.bleeder_watt)
    return [Line(_("watts of the bleeder while powered"), "V0^2 / R", shown)]
