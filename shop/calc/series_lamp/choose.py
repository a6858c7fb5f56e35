"""Which lamp first: the smallest standard one that leaves enough at the idle power."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.answers import Span, span
from shop.calc.series_lamp.beyond import SOURCE as BEYOND_SOURCE
from shop.calc.series_lamp.beyond import above_lamp, above_unit, like_switch_mode
from shop.calc.series_lamp.lamp import (
    EXPONENT_ENDS,
    SOURCES,
    Lamp,
    cautions,
    current_at,
    disagreements,
)
from shop.calc.series_lamp.loads import Mixed
from shop.calc.series_lamp.points import operating_points
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# Lamps a bench has; a proposal, the trade's usual sizes.
STANDARD_WATTS: Final = (25.0, 40.0, 60.0, 100.0, 150.0, 200.0)
ENOUGH: Final = 0.8


class ChooseLampIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The unit and the lamps at hand. No idle power: it is unknown, so the smallest lamp."""

    supply_volt: Annotated[
        float, Meta(ge=1, le=500, title="Supply", description="full line at the bench, 1 to 500")
    ]
    unit_volt: Annotated[
        float,
        Meta(ge=1, le=500, title="Unit set for", description="as found on the unit, 1 to 500"),
    ]
    lamp_volt: Annotated[
        float, Meta(ge=1, le=500, title="Volts of the lamps", description="as printed on them")
    ]
    idle_watt: Annotated[
        float | None,
        Meta(
            title="Idle power",
            description="from the model sheet, not the rated power; left out if unknown",
        ),
    ] = None
    lamp_watts: Annotated[
        list[float],
        Meta(min_length=1, max_length=20, title="Lamps at hand", description="watts of each"),
    ] = msgspec.field(default_factory=lambda: list(STANDARD_WATTS))
    exponent: Annotated[
        float,
        Meta(
            ge=-1,
            le=4,
            title="Exponent of the load",
            description="m: 1 resistor (left out), 0 constant current, -1 constant power",
        ),
    ] = 1.0


class LampTried(msgspec.Struct, frozen=True):
    """What one lamp would leave at the unit, as a share of the supply, and pass into a short.

    `unit_share` is None if the idle power is unknown, or if lamp and unit have no operating point.
    """

    watt: float
    unit_share: float | None
    unit_share_span: Span | None
    short_circuit_a: float
    is_enough: bool
    rated_ampere: float = 0.0
    hot_ohm: float = 0.0
    cold_ohm: float = 0.0


class LampChoice(msgspec.Struct, frozen=True):
    """The lamp to begin with, and all that were tried, smallest first."""

    watt: float
    tried: list[LampTried]


@calculator(
    "series_lamp.choose_lamp",
    "Choose the first lamp",
    question="Which lamp do I begin with?",
    example={"supply_volt": 230, "unit_volt": 230, "lamp_volt": 230, "idle_watt": 30},
)
def choose_lamp(given: ChooseLampIn) -> Answer[LampChoice]:
    """The smallest lamp leaving 80 % of the supply at idle; unknown idle power: the smallest.

    Formula: the unit taken as I = (P / Vn) (V / Vn)^m, solved with each lamp; as a resistor if m
    is not given. A lamp sized by full rated power would pass the faults that show at idle, so
    rated power is not asked for. Warns if the supply is above what the unit or the lamps are for,
    or the load behaves like a switch-mode supply.
    Raises BadInput for a wattage that is not above 0.
    Units: V, W. Source: the lamp law, see `series_lamp.lamp`.
    """
    given = fit(given)
    for index, watt in enumerate(given.lamp_watts):
        _above_zero(f"lamp_watts[{index}]", watt)
    if given.idle_watt is not None:
        _above_zero("idle_watt", given.idle_watt)
    tried = [_try(given, watt) for watt in sorted(given.lamp_watts)]
    outcome, watt, text = _pick(given.idle_watt, tried)
    dangers = [
        *above_unit(given.supply_volt, given.unit_volt),
        *above_lamp(given.supply_volt, given.lamp_volt),
        *like_switch_mode(given.exponent),
    ]
    if dangers:
        outcome, text = Outcome.WARN, " ".join([text, *dangers])
    return Answer(outcome, text, LampChoice(watt, tried), _working(given, tried))


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
    shares = _shares(given, lamp)
    share = shares[0] if shares else None
    return LampTried(
        watt,
        share,
        span(shares),
        current_at(lamp, given.supply_volt),
        share is not None and share >= ENOUGH,
        lamp.rated_current,
        lamp.volt / lamp.rated_current,
        lamp.cold_ohm,
    )


def _shares(given: ChooseLampIn, lamp: Lamp) -> list[float]:
    """Share of the supply at the unit by the lamp's own law first; empty if it has no point."""
    if given.idle_watt is None:
        return []
    load = Mixed(given.idle_watt, given.unit_volt, given.exponent)
    found = [
        operating_points(lamp.with_exponent(exponent), load, given.supply_volt)[:1]
        for exponent in (lamp.exponent, *EXPONENT_ENDS)
    ]
    if not found[0]:
        return []
    return [point.unit_volt / given.supply_volt for points in found for point in points]


def _above_zero(field: str, watt: float) -> None:
    if not 0.1 <= watt <= 2000:
        raise BadInput(field, _("Watts must be from 0.1 to 2000."), "out_of_range")


def _working(given: ChooseLampIn, tried: list[LampTried]) -> Working:
    lines = [
        Line(
            _("{watt:g} W lamp", watt=lamp.watt),
            "VU/Vs, I = (P/Vn) (V/Vn)^m; I0 (Vs/V0)^a; V0/I0",
            _share_words(given, lamp)
            + _("{ampere:.3f} A into a short", ampere=lamp.short_circuit_a)
            + _(", {hot:.0f} ohm hot, {cold:.0f} cold", hot=lamp.hot_ohm, cold=lamp.cold_ohm),
        )
        for lamp in tried
    ]
    rule = Source("smallest lamp leaving 80 % at idle power", Status.PROPOSED)
    trade = Source("lamp of 1 to 3 times what the unit draws", Status.FROM_MEMORY)
    return Working(lines, [*SOURCES, rule, trade, BEYOND_SOURCE], cautions(), disagreements())


def _share_words(given: ChooseLampIn, lamp: LampTried) -> str:
    if given.idle_watt is None:
        return ""
    if lamp.unit_share is None:
        return _("no operating point, ")
    return f"{lamp.unit_share:.1%}, "
