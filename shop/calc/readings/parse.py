"""The calculator that reads a value as techs write it; the reader itself is in `typed`."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.quantities import RULES, Quantity, QuantityRule
from shop.calc.readings.typed import Reading, parse_reading
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

QUANTITY_LABELS: Final = {
    "voltage_dc": "direct voltage",
    "voltage_ac": "alternating voltage",
    "current_dc": "direct current",
    "current_ac": "alternating current",
    "resistance": "resistance",
    "capacitance": "capacitance",
    "frequency": "frequency",
    "power": "power",
    "temperature": "temperature",
    "time": "time",
    "percent": "per cent",
    "count": "count",
    "inductance": "inductance",
    "level": "level",
    "ratio": "ratio of levels",
    "sound_level": "sound level",
    "air_speed": "air speed",
    "airflow": "airflow",
    "rotation": "speed of rotation",
    "length": "length",
}


# From here a capacitor is a double-layer one, or the prefix was left out; a proposal.
MOST_FARAD: Final = 1.0


class ParseIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What was typed, and for which quantity."""

    quantity: Annotated[
        Quantity,
        Meta(
            title="Quantity",
            description="quantity the step asks for; decides what the letters mean",
            extra_json_schema={"x-labels": QUANTITY_LABELS},
        ),
    ]
    typed: Annotated[
        str,
        Meta(
            title="As typed",
            description="number, prefix and unit, a letter for the point, OL or n/m",
            examples=["160m", "4k7"],
        ),
    ]


@calculator(
    "readings.parse",
    "Read a value as techs write it",
    question="What value is meant by what I typed?",
    # IEC 60062 as quoted at en.wikipedia.org/wiki/IEC/EN_60062: 4K7 is 4.7 kilohm.
    example={"quantity": "resistance", "typed": "4K7"},
)
def parse(given: ParseIn) -> Answer[Reading]:
    """Turn what was typed into one exact value in SI units. See the rules above.

    Warns of a farad and more, which is likely a number without its prefix.

    Source: IEC 60062 for R47 and 4K7; the rest is common practice, no source.
    """
    reading = parse_reading(given.typed, given.quantity)
    rule = RULES[given.quantity]
    lines = [
        Line(given.typed, _("letter or point, prefix, unit"), reading.shown),
        Line(_("kept as"), _("exact decimal in the base unit"), _kept(reading, rule)),
    ]
    disagreements = []
    if given.quantity is Quantity.RESISTANCE and "M" in given.typed:
        says = _("M is mega on parts and here; in the netlists of circuit simulators M is milli.")
        disagreements.append(says)
    outcome, text = Outcome.OK, reading.shown
    if given.quantity is Quantity.CAPACITANCE and (reading.si or 0.0) >= MOST_FARAD:
        outcome = Outcome.WARN
        text += ". " + _("That is whole farads: type 47u for microfarad, 47p for picofarad.")
    return Answer(outcome, text, reading, Working(lines, SOURCES, [], disagreements))


def _kept(reading: Reading, rule: QuantityRule) -> str:
    return reading.shown if reading.text is None else f"{reading.text} {rule.symbol}".strip()


SOURCES: Final = [
    Source("R47, 4R7, 4K7, 4M7: a letter in place of the decimal point", Status.SECOND_HAND,
           "IEC 60062 as quoted at en.wikipedia.org/wiki/IEC/EN_60062"),
    Source("4L7 is milliohm; M is milli in netlists", Status.SECOND_HAND,
           "ngspice examples/various/RKM-R-1.cir at gitcode.com/deepin-community/ngspice"),
    Source("u47, 4u7, 47u", Status.SECOND_HAND,
           "IEC 60062 as quoted in an encyclopaedia article on capacitors"),
    Source("prefixes p n µ m k M G", Status.FROM_MEMORY, "SI brochure, 9th edition, table 7"),
    Source("1,234 and m for ohm refused as ambiguous; a warning from 1 F", Status.PROPOSED),
]  # fmt: skip
