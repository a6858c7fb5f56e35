"""How long a capacitor keeps a memory alive while its cell is changed.

Constant current: t = C (V1 - I ESR - V2) / I. With a double-layer capacitor that loses a share k
of its charge by itself: t = (1/k) ln((I/C + k V1) / (I/C + k V2)).
Constant power (a converter): t = C (V1^2 - V2^2) / (2 P); with ESR the charge inside is what
falls, and t = C / (2 P) [x^2/2 + x w/2 - 2 P ESR ln(x + w)] from V1 to the end, w = sqrt(x^2 -
4 P ESR). Below x = 2 sqrt(P ESR) the capacitor cannot give the power at all.
"""

from __future__ import annotations

from math import expm1, log, log1p, sqrt
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.shown import farads
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

SECONDS_PER_DAY = 86_400.0


class HoldUpIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A capacitor from `from_volt` down to `to_volt`, at a constant current or a constant power."""

    farad: Annotated[
        float,
        Meta(ge=1e-12, le=10_000, title="Capacitor", description="as marked, less its spread"),
    ]
    from_volt: Annotated[
        float, Meta(ge=0.1, le=100, title="Charged to", description="volts at the beginning")
    ]
    to_volt: Annotated[
        float, Meta(ge=0, le=100, title="Memory keeps down to", description="volts at the end")
    ]
    current_a: Annotated[
        Annotated[float, Meta(ge=1e-12, le=100)] | None,
        Meta(title="Drain", description="constant current; leave out if a power is given"),
    ] = None
    esr_ohm: Annotated[
        float, Meta(ge=0, le=1000, title="ESR", description="of the capacitor, 0 if small")
    ] = 0.0
    power_watt: Annotated[
        Annotated[float, Meta(ge=1e-12, le=1e4)] | None,
        Meta(title="Power", description="constant power, as a converter takes"),
    ] = None
    daily_loss_percent: Annotated[
        float,
        Meta(
            ge=0,
            le=99,
            title="Own loss in a day",
            description="double-layer kinds: 1.8 in a paper, 5 to 40 on a calculator's page",
        ),
    ] = 0.0
    wanted_seconds: Annotated[
        Annotated[float, Meta(ge=0.001, le=1e8)] | None,
        Meta(title="Time wanted", description="gives the least capacitor for it"),
    ] = None


class HoldUp(msgspec.Struct, frozen=True):
    """Seconds, the energy given up (J), and the least capacitor for the time wanted."""

    seconds: float
    joule: float
    least_farad: float | None = None


def hold_up_seconds(
    farad: float, from_volt: float, to_volt: float, current_a: float, esr_ohm: float = 0.0
) -> float:
    """t = C (V1 - I ESR - V2) / I; nothing if the first drop already takes it all."""
    return max(farad * (from_volt - current_a * esr_ohm - to_volt) / current_a, 0.0)


def hold_up_seconds_with_loss(
    farad: float,
    from_volt: float,
    to_volt: float,
    current_a: float,
    esr_ohm: float,
    daily_loss: float,
) -> float:
    """The same for a capacitor that loses a share of its charge in a day by itself."""
    rate = -log1p(-daily_loss) / SECONDS_PER_DAY
    end = to_volt + current_a * esr_ohm
    if end >= from_volt:
        return 0.0
    return log1p(rate * (from_volt - end) / (current_a / farad + rate * end)) / rate


def hold_up_seconds_at_power(
    farad: float, from_volt: float, to_volt: float, watt: float, esr_ohm: float = 0.0
) -> float:
    """t = C (V1^2 - V2^2) / (2 P) for a load that takes constant power, less what ESR takes.

    The terminal has V = x/2 + sqrt(x^2/4 - P ESR) of the volts x inside.
    """
    least = sqrt(watt * esr_ohm)  # terminal volts below which no more power comes out
    end_terminal = max(to_volt, least)
    end = end_terminal + watt * esr_ohm / end_terminal if esr_ohm else to_volt
    if end >= from_volt:
        return 0.0
    spent = _inside(from_volt, watt * esr_ohm) - _inside(end, watt * esr_ohm)
    return max(farad * spent / (2.0 * watt), 0.0)


def _inside(volt: float, power_times_esr: float) -> float:
    """Integral of (x + w) over the volts inside: x^2 without ESR."""
    w = sqrt(max(volt * volt - 4.0 * power_times_esr, 0.0))
    fall = 2.0 * power_times_esr * log(volt + w) if power_times_esr else 0.0
    return volt * volt / 2.0 + volt * w / 2.0 - fall


# 1000 uF at 10 uA with 1.0 V to lose: 100 s by t = C dV / I; 600 uF do for a minute.
EXAMPLE = {
    "farad": 1e-3,
    "from_volt": 3.0,
    "to_volt": 2.0,
    "current_a": 10e-6,
    "wanted_seconds": 60,
}


@calculator(
    "cells.hold_up",
    "How long a capacitor keeps the memory during the swap",
    question="How long have I got to change the cell with this capacitor across the memory?",
    example=EXAMPLE,
)
def hold_up(given: HoldUpIn) -> Answer[HoldUp]:
    """Hold-up at constant current or power. Units: F, V, A, W, ohm, s.

    Raises BadInput if the volts are the wrong way round, if neither or both of current and power
    are given, or if its own loss is given with a power.
    Source: t = C dU / I and the energy of a capacitor.
    """
    given = fit(given)
    _check(given)
    seconds = _seconds(given)
    joule = 0.5 * given.farad * (given.from_volt**2 - given.to_volt**2)
    value = HoldUp(seconds, joule, _least_farad(given, seconds))
    outcome, text = _in_words(given, value)
    return Answer(outcome, text, value, _working(given, value))


def _in_words(given: HoldUpIn, value: HoldUp) -> tuple[Outcome, str]:
    if value.seconds == 0:
        text = _("Not even a moment: the first drop across ESR already takes it all.")
        return Outcome.WARN, text
    time = _time_words(value.seconds)
    if given.wanted_seconds is not None and value.seconds < given.wanted_seconds * (1 - 1e-9):
        return Outcome.WARN, _("{time}: too short for the time wanted.", time=time)
    return Outcome.OK, time


def _time_words(seconds: float) -> str:
    if seconds < 10:
        return f"{seconds:.2g} s"
    if seconds < 600:
        return f"{seconds:.0f} s"
    if seconds < 4 * 3600:
        return _("{seconds:.0f} s, {minutes:.0f} min", seconds=seconds, minutes=seconds / 60)
    if seconds < 4 * SECONDS_PER_DAY:
        return _("{hours:.1f} hours", hours=seconds / 3600)
    return _("{days:.1f} days", days=seconds / SECONDS_PER_DAY)


def _check(given: HoldUpIn) -> None:
    if given.to_volt >= given.from_volt:
        reason = _("The capacitor must start above what the memory needs.")
        raise BadInput("to_volt", reason, "limits_crossed")
    if (given.current_a is None) == (given.power_watt is None):
        reason = _("Give the drain as a current or as a power, one of the two.")
        raise BadInput("current_a", reason, "one_of_two")
    if given.power_watt is not None and given.daily_loss_percent > 0:
        reason = _("Its own loss is reckoned with a constant current only.")
        raise BadInput("daily_loss_percent", reason, "not_together")


def _seconds(given: HoldUpIn) -> float:
    begin, end, esr = given.from_volt, given.to_volt, given.esr_ohm
    if given.current_a is None:
        return hold_up_seconds_at_power(given.farad, begin, end, given.power_watt or 0.0, esr)
    if given.daily_loss_percent > 0:
        loss = given.daily_loss_percent / 100
        return hold_up_seconds_with_loss(given.farad, begin, end, given.current_a, esr, loss)
    return hold_up_seconds(given.farad, begin, end, given.current_a, esr)


def _least_farad(given: HoldUpIn, seconds: float) -> float | None:
    """Time is in proportion to the capacitor, but for its own loss; then more than this answers."""
    if given.wanted_seconds is None or seconds == 0:
        return None
    if given.daily_loss_percent == 0:
        return given.farad * given.wanted_seconds / seconds
    return _least_farad_with_loss(given)


def _least_farad_with_loss(given: HoldUpIn) -> float | None:
    """C = I (e^(k t) - 1) / (k (V1 - V2' e^(k t))); None if it empties itself first."""
    current, wanted = given.current_a or 0.0, given.wanted_seconds or 0.0
    rate = -log1p(-given.daily_loss_percent / 100) / SECONDS_PER_DAY
    end = given.to_volt + current * given.esr_ohm
    if end > 0 and wanted * rate >= log(given.from_volt / end):
        return None
    if wanted * rate > 500:  # past the doubles, and past any capacitor
        return None
    grown = expm1(rate * wanted)
    return current * grown / (rate * (given.from_volt - end * (1.0 + grown)))


def _working(given: HoldUpIn, value: HoldUp) -> Working:
    lines = [
        Line(_("hold-up"), _formula(given), f"{value.seconds:.1f} s"),
        Line(_("energy"), "C (V1^2 - V2^2) / 2", f"{value.joule:.4g} J"),
    ]
    if given.esr_ohm and given.current_a:
        drop = f"{given.current_a * given.esr_ohm:.3g} V"
        lines.insert(0, Line(_("first drop"), "I ESR", drop))
    if value.least_farad is not None:
        lines.append(
            Line(_("least capacitor for the time wanted"), "C ~ t", farads(value.least_farad))
        )
    sources = [
        Source("constant-current discharge of a capacitor, first drop I ESR", Status.SECOND_HAND,
               "automotive.ezvirtualtools.com/calc/capacitor-discharge.html"),
        Source("t = C (V1^2 - V2^2) / (2 P)", Status.SECOND_HAND,
               "rftools.io/calculators/power/supercapacitor-backup"),
        Source("with ESR or own loss: the same, integrated", Status.COMPUTED),
    ]  # fmt: skip
    return Working(lines, sources, _cautions(), _disagreements(given))


def _formula(given: HoldUpIn) -> str:
    if given.power_watt is not None:
        return "C (V1^2 - V2^2) / (2 P)" + (_(", less ESR") if given.esr_ohm else "")
    if given.daily_loss_percent > 0:
        return "(1/k) ln((I/C + k V1) / (I/C + k V2))"
    return "C (V1 - I ESR - V2) / I"


def _cautions() -> list[str]:
    return [
        _("Do not rely on the unit's own capacitors: dump the memory first and read it back."),
        _(
            "A bench supply in place of the capacitor: the cell's own volts, at most 1 mA, through "
            "a diode; iron and board on one earth or floating."
        ),
    ]


def _disagreements(given: HoldUpIn) -> list[str]:
    said = [
        _("Many instruments hold 5 to 10 min by themselves, says a repair list; no sheet does."),
        _(
            "A published example (3000 F, 2.7 to 1.5 V, 0.5 A) prints 5346 J and 5091 s; the "
            "formulas give 7560 J and 7200 s."
        ),
    ]
    if given.daily_loss_percent > 0:
        said.append(
            _("Own loss of double-layer capacitors: 1.8 % a day in a paper, 5 to 40 % on a page.")
        )
    return said
