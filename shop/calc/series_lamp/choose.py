"""Which lamp first: the smallest standard one that leaves enough at the idle power."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.answers import Span, span
from shop.calc.series_lamp.lamp import EXPONENT_SPAN, SOURCES, Lamp, cautions, current_at
from shop.calc.series_lamp.loads import Resistance
from shop.calc.series_lamp.points import operating_points
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# Lamps a bench has; a proposal, the trade's usual sizes.
STANDARD_WATTS: Final = (25.0, 40.0, 60.0, 100.0, 150.0, 200.0)
ENOUGH: Final = 0.8


class ChooseLampIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The unit and the lamps at hand. No idle power: it is unknown, so the smallest lamp."""

    supply_volt: Annotated[float, Meta(ge=1, le=500, description="full line at the bench, V")]
    unit_volt: Annotated[float, Meta(ge=1, le=500, description="supply the unit is set for, V")]
    lamp_volt: Annotated[float, Meta(ge=1, le=500, description="rated V of the lamps")]
    idle_watt: Annotated[
        float | None, Meta(description="idle power from the model sheet, W; null if unknown")
    ] = None
    lamp_watts: Annotated[
        list[float], Meta(min_length=1, max_length=20, description="lamps at hand, W")
    ] = msgspec.field(default_factory=lambda: list(STANDARD_WATTS))


class LampTried(msgspec.Struct, frozen=True):
    """What one lamp would leave at the unit, as a share of the supply, and pass into a short."""

    watt: float
    unit_share: float | None
    unit_share_span: Span | None
    short_circuit_a: float
    is_enough: bool


class LampChoice(msgspec.Struct, frozen=True):
    """The lamp to begin with, and all that were tried, smallest first."""

    watt: float
    tried: list[LampTried]


@calculator("series_lamp.choose_lamp", "Choose the first lamp")
def choose_lamp(given: ChooseLampIn) -> Answer[LampChoice]:
    """The smallest lamp leaving 80 % of the supply at idle; unknown idle power: the smallest.

    Formula: the unit taken as R = Vn^2 / P, solved with each lamp. A lamp sized by full rated
    power would pass the faults that show at idle, so rated power is not asked for.
    Raises BadInput for a wattage that is not above 0.
    """
    given = fit(given)
    for index, watt in enumerate(given.lamp_watts):
        _above_zero(f"lamp_watts[{index}]", watt)
    if given.idle_watt is not None:
        _above_zero("idle_watt", given.idle_watt)
    tried = [_try(given, watt) for watt in sorted(given.lamp_watts)]
    outcome, watt, text = _pick(given.idle_watt, tried)
    return Answer(outcome, text, LampChoice(watt, tried), _working(tried))


def _pick(idle_watt: float | None, tried: list[LampTried]) -> tuple[Outcome, float, str]:
    """The first that is enough; else the smallest, with the reason."""
    smallest = tried[0].watt
    if idle_watt is None:
        text = _("Idle power unknown: begin with {watt:g} W, the smallest.", watt=smallest)
        return Outcome.OK, smallest, text
    enough = next((lamp for lamp in tried if lamp.is_enough), None)
    if enough is None:
        text = _(
            "None of these lamps leaves {share:.0%} at {idle:g} W idle. Begin with {watt:g} W all "
            "the same, step up, and judge by the limits of each step.",
            share=ENOUGH,
            idle=idle_watt,
            watt=smallest,
        )
        return Outcome.WARN, smallest, text
    share = enough.unit_share
    text = _("Begin with {watt:g} W: it leaves {share:.0%} at idle.", watt=enough.watt, share=share)
    return Outcome.OK, enough.watt, text


def _try(given: ChooseLampIn, watt: float) -> LampTried:
    lamp = Lamp(watt, given.lamp_volt)
    short = current_at(lamp, given.supply_volt)
    if given.idle_watt is None:
        return LampTried(watt, None, None, short, False)
    load = Resistance(given.unit_volt**2 / given.idle_watt)
    shares = [
        operating_points(lamp.with_exponent(exponent), load, given.supply_volt)[0].unit_volt
        / given.supply_volt
        for exponent in (lamp.exponent, *EXPONENT_SPAN)
    ]
    return LampTried(watt, shares[0], span(shares), short, shares[0] >= ENOUGH)


def _above_zero(field: str, watt: float) -> None:
    if not 0.1 <= watt <= 2000:
        raise BadInput(field, _("Watts must be from 0.1 to 2000."), "out_of_range")


def _working(tried: list[LampTried]) -> Working:
    lines = [
        Line(
            _("{watt:g} W lamp", watt=lamp.watt),
            "VU/Vs, R = Vn^2/P; I0 (Vs/V0)^a",
            ("" if lamp.unit_share is None else f"{lamp.unit_share:.1%}, ")
            + _("{ampere:.3f} A into a short", ampere=lamp.short_circuit_a),
        )
        for lamp in tried
    ]
    rule = Source("smallest lamp leaving 80 % at idle power", Status.PROPOSED)
    trade = Source("lamp of 1 to 3 times what the unit draws", Status.FROM_MEMORY)
    return Working(lines, [*SOURCES, rule, trade], cautions())
