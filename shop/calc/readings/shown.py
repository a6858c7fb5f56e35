"""A value as people read it: SI prefix, unit, and no more digits than the meter has."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.decimals import canonical, shifted, significant
from shop.calc.fields import fit
from shop.calc.quantities import PREFIX_POWER, RULES, Quantity, QuantityRule
from shop.calc.readings.parse import QUANTITY_LABELS
from shop.calc.readings.typed import best_prefix, format_reading, within
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

Digits = Annotated[int, Meta(ge=1, le=15)]
Resolution = Annotated[float, Meta(ge=1e-15, le=1e6)]


class FormatIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A value in its base unit, and how fine it is to be shown."""

    value: Annotated[
        float,
        Meta(ge=-1e15, le=1e15, title="Value", description="in volt, ampere, ohm, farad and so on"),
    ]
    quantity: Annotated[
        Quantity, Meta(title="Quantity", description="decides unit and prefixes",
                       extra_json_schema={"x-labels": QUANTITY_LABELS})
    ]  # fmt: skip
    digits: Annotated[
        Digits | None,
        Meta(title="Digits", description="significant digits, 1 to 15; all of them if left out"),
    ] = None
    resolution: Annotated[
        Resolution | None,
        Meta(
            title="One count of the meter",
            description="weight of the last digit on the range in use, same unit as the value",
        ),
    ] = None


class Formatted(msgspec.Struct, frozen=True):
    """As shown, and exactly what is shown as canonical decimal in the base unit."""

    shown: str
    text: str


@calculator(
    "readings.format",
    "Write a value with its prefix and the meter's digits",
    question="How is this value written with its prefix?",
    # 2.000 V on a range whose last digit weighs 1 mV, as in a published accuracy example.
    example={"value": 2.0, "quantity": "voltage_dc", "resolution": 0.001},
)
def format_(given: FormatIn) -> Answer[Formatted]:
    """Value with SI prefix. Raises BadInput (both_given, and those of `readings.parse`).

    Source: SI prefixes.
    """
    given = fit(given)
    if given.digits is not None and given.resolution is not None:
        reason = _("Give the digits or the weight of one count, not both.")
        raise BadInput("resolution", reason, "both_given")
    exact = within(canonical(repr(given.value)), given.quantity, "value")
    shown = _shown(exact, given)
    how = _("digits of the meter") if given.resolution else _("significant digits, halves up")
    lines = [Line(f"{given.value:g}", how, shown)]
    text = _text(exact, given)
    return Answer(Outcome.OK, shown, Formatted(shown, text), Working(lines, SOURCES))


def _shown(exact: str, given: FormatIn) -> str:
    if given.resolution is None:
        return format_reading(exact, given.quantity, given.digits)
    return format_on_meter(exact, given.quantity, canonical(repr(given.resolution)))


def _text(exact: str, given: FormatIn) -> str:
    """What is shown, in the base unit."""
    if given.resolution is not None:
        return canonical(_on_counts(exact, canonical(repr(given.resolution))))
    return significant(exact, given.digits) if given.digits else exact


def format_on_meter(text: str, quantity: Quantity, resolution: str) -> str:
    """A canonical decimal rounded to whole counts, with every digit the meter shows: `2.000 V`.

    `resolution` is the weight of one count. Halves are rounded away from zero.
    """
    rule = RULES[quantity]
    exact = _on_counts(text, resolution)
    prefix = _prefix_on_meter(canonical(exact), rule, _last_place(resolution))
    power = PREFIX_POWER.get(prefix, 0)
    places = max(power - _last_place(resolution), 0)
    sign = "µ" if prefix == "u" else prefix
    return f"{Decimal(shifted(exact, -power)):.{places}f} {sign}{rule.symbol}".strip()


def _prefix_on_meter(text: str, rule: QuantityRule, last_place: int) -> str:
    """The usual prefix, or a larger one where noughts would stand that the meter does not show."""
    usual = best_prefix(text, rule)
    if last_place <= PREFIX_POWER.get(usual, 0):
        return usual
    powers = {prefix: PREFIX_POWER.get(prefix, 0) for prefix in ("", *rule.prefixes)}
    larger = [prefix for prefix, power in powers.items() if power >= last_place]
    return min(larger, key=powers.__getitem__) if larger and rule.prefixes else usual


def _on_counts(text: str, resolution: str) -> str:
    """The nearest whole number of counts, exactly."""
    count = _WIDE.divide(Decimal(text), Decimal(resolution))
    whole = count.quantize(Decimal(1), rounding=ROUND_HALF_UP, context=_WIDE)
    return format(_WIDE.multiply(whole, Decimal(resolution)), "f")


def _last_place(resolution: str) -> int:
    """The power of ten of the last digit of one count: -3 for 0.001 and for 0.005."""
    exponent = Decimal(resolution).normalize().as_tuple().exponent
    return exponent if isinstance(exponent, int) else 0


_WIDE: Final = Context(prec=120, rounding=ROUND_HALF_UP)

SOURCES: Final = [
    Source("prefixes p n µ m k M G", Status.FROM_MEMORY, "SI brochure, 9th edition, table 7"),
    Source("a count is the weight of the last digit on the range in use", Status.SECOND_HAND,
           "a guide to meter specifications"),
    Source("halves are rounded away from zero", Status.PROPOSED),
]  # fmt: skip
