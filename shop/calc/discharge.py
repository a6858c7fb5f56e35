"""Stored charge: how long to wait, through what to discharge, what comes back, the plug's pins.

t = R C ln(V0 / Vs), R_max = t / (C ln(V0 / Vs)), E = C V0^2 / 2, I = V0 / R, P = V0^2 / R.
Units: ohm, farad, volt, second, joule, ampere, watt. Safe to touch here is 50 V d.c., stricter
than the 60 V of the standards; above 60 V counts as live.
"""

from __future__ import annotations

from math import exp, inf, log
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
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
E12: Final = (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)

Farad = Annotated[float, Meta(ge=1e-12, le=10, description="farad", examples=[0.0001])]
StoredVolt = Annotated[float, Meta(ge=0, le=20000, description="volt at the start")]
SafeVolt = Annotated[float, Meta(ge=1, le=LIVE_VOLT, description="volt to come down to")]


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


def is_charge_touchable(farad: float, peak_volt: float) -> bool:
    """May an accessible part carry this charge: IEC 60335-1, 8.1.4 (an excerpt was read).

    Up to 42.4 V always; to 450 V with at most 0.1 uF; to 15 kV with at most 45 uC; above with at
    most 350 mJ.
    """
    if peak_volt <= 42.4:
        return True
    if peak_volt <= 450:
        return farad <= 0.1e-6
    if peak_volt <= 15_000:
        return charge(farad, peak_volt) <= 45e-6
    return energy(farad, peak_volt) <= 0.35


class WaitIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A reservoir and its bleeder; null if there is none or it is not known to be there."""

    farad: Farad
    from_volt: StoredVolt
    bleeder_ohm: Annotated[float, Meta(ge=0.1, le=1e9, description="ohm")] | None = None
    safe_volt: SafeVolt = SAFE_VOLT


class Wait(msgspec.Struct, frozen=True):
    """Seconds by the marked values, and to wait with both parts at their upper tolerance."""

    seconds: float
    wait_seconds: float
    seconds_to_60_volt: float
    energy_joule: float
    may_return_volt: tuple[float, float]


@calculator("discharge.wait", "How long to wait for a reservoir to bleed down")
def wait(given: WaitIn) -> Answer[Wait]:
    """Waiting time through a bleeder presumed sound; without one it never falls."""
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
        may_return_volt=_returning(given.from_volt),
    )
    text = _(
        "Wait {seconds:.0f} s, then measure: this presumes a sound bleeder. An open one means it "
        "never falls.",
        seconds=value.wait_seconds,
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
    from_volt: Annotated[float, Meta(ge=1, le=20000, description="volt, measured or rated")]
    seconds: Annotated[float, Meta(ge=0.5, le=600, description="seconds to take")] = 5.0
    safe_volt: SafeVolt = SAFE_VOLT
    most_peak_a: Annotated[float, Meta(ge=0.001, le=100, description="peak ampere allowed")] = 2.0


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


@calculator("discharge.resistor", "Choose the resistor to discharge a reservoir")
def resistor(given: ResistorIn) -> Answer[Resistor]:
    """The largest E12 value that is quick enough. Warns if its peak current is above the limit."""
    given = fit(given)
    if given.from_volt <= given.safe_volt:
        reason = _("It is already at or below the safe voltage: measure and leave it.")
        raise BadInput("from_volt", reason, "already_safe")
    ohm = e12_at_most(most_ohm(given.seconds, given.farad, given.from_volt, given.safe_volt))
    peak_watt = given.from_volt**2 / ohm
    value = Resistor(
        ohm=ohm,
        seconds=seconds_to(ohm, given.farad, given.from_volt, given.safe_volt),
        peak_watt=peak_watt,
        peak_a=given.from_volt / ohm,
        energy_joule=energy(given.farad, given.from_volt),
        rating_watt=next((watt for watt in RATINGS_WATT if 10 * watt >= peak_watt), None),
        recheck_after_seconds=RECHECK_SECONDS,
        may_return_volt=_returning(given.from_volt),
    )
    is_harsh = value.peak_a > given.most_peak_a or value.rating_watt is None
    text = _("{ohm:g} ohm; measure again after {wait:.0f} s.", ohm=ohm, wait=RECHECK_SECONDS)
    if is_harsh:
        text += " " + _("That is harsh: take more seconds.")
    outcome = Outcome.WARN if is_harsh else Outcome.OK
    return Answer(outcome, text, value, _working(_resistor_lines(given, value)))


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


def e12_at_most(ohm: float) -> float:
    """The largest E12 value not above `ohm`, within a billionth. Source: IEC 60063."""
    decade = 10.0 ** len(str(int(ohm))) if ohm >= 1 else 1.0
    while decade > 1e-6:
        fitting = [step for step in E12 if step * decade <= ohm * (1 + 1e-9)]
        if fitting:
            return float(f"{fitting[-1] * decade:.3g}")
        decade /= 10.0
    raise BadInput("seconds", _("No resistor is that quick: take more seconds."), "out_of_range")


def _returning(volt: float) -> tuple[float, float]:
    return volt * ABSORPTION[0], volt * ABSORPTION[1]


def _working(lines: list[Line]) -> Working:
    cautions = [
        _("Unplugged, plug in sight. Measure every reservoir before touching; above 60 V is live."),
        _("Discharge through a resistor rated for the voltage, never with a screwdriver."),
        _("Measure again after a minute: volts come back. Then leave it shorted."),
        _("Prove the meter on a known source before and after."),
        _("Local codes and licensed practice come first."),
    ]
    disagreements = [
        _("Safe d.c. volts: 60 V (IEC 62368-1, IEC 61140 dry), 42.4 V (IEC 60335-1), 120 V (upper "
          "bound of extra-low voltage); the bench rule here is 50 V."),
    ]  # fmt: skip
    return Working(lines, SOURCES, cautions, disagreements)


SOURCES: Final = [
    Source("t = R C ln(V0/Vs)", Status.SECOND_HAND, "resicalc.com; sdev.dk/?p=356"),
    Source("60 V d.c. in dry places", Status.VERIFIED, "IEC 61140 as excerpted in IEC 63044-3"),
    Source("50 V before touching", Status.PROPOSED),
    Source("upper tolerances 1.5 and 1.2", Status.PROPOSED),
    Source("10 to 15 % come back in wet aluminium parts", Status.SECOND_HAND,
           "encyclopaedia article on aluminium electrolytic capacitors"),
    Source("a wirewound resistor stands ten times its rating for 5 s", Status.FROM_MEMORY),
]  # fmt: skip
