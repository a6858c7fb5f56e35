"""What can be known when a worksheet starts: the tree of facts that templates name.

`shop.jobs.packing.facts` fills it. A choice here is closed: nothing else can come up.
"""

from __future__ import annotations

from typing import get_args

import msgspec

from shop.calc.safety.schemes import SchemeKey
from shop.jobs.format.shapes import COUNT, NUMBER, TEXT, Leaf, Shape, one_of, shape_of
from shop.repairs.models import Sounds, VisibleChanges
from shop.units.shapes import Sheet


def _fields(*, text: str = "", number: str = "", **more: Shape) -> dict[str, Shape]:
    """Fields of a row: names of texts, names of numbers, and those of another shape."""
    return dict.fromkeys(text.split(), TEXT) | dict.fromkeys(number.split(), NUMBER) | more


def _sheet() -> dict[str, Shape]:
    """What people write on a model sheet, and what follows from it and the repair."""
    schema = msgspec.json.schema(Sheet)
    written: dict[str, Shape] = shape_of(schema, schema["$defs"], depth=10)
    row = written["supplies"][0]
    follows = _fields(
        text="id",
        number="highest_reservoir_volt",
        lamp_kind=one_of("linear", "valve_rectifier", "motor", "relay", "switch_mode", "unknown"),
        at_set_for=row,
        at_use_at=row,
    )
    return written | follows


FACTS: dict[str, Shape] = {
    "unit": _fields(text="code make model serial", number="set_for_volt"),
    "sheet": _sheet(),
    "repair": _fields(
        text="number complaint last_worked last_supply damage visible_changes_words sounds_words",
        number="spending_limit_minor",
        visible_changes=one_of(*VisibleChanges.values),
        sounds=one_of(*Sounds.values),
    ),
    "supply": {
        "set_for": _fields(number="volt hz"),
        "use_at": _fields(text="country", number="volt hz"),
        "bench": _fields(number="volt hz"),
    },
    "bench": {"name": TEXT, "lamps": [_fields(number="watt volt")]},
    "shop": {"country": TEXT, "safety_scheme": one_of(*get_args(SchemeKey))},
    "today": TEXT,
}


def asked_shape(fact: dict[str, object]) -> Shape:
    """The shape of what a template asks: a number, one of its choices, or rows with names."""
    if "names" in fact:
        return [{"name": TEXT}]
    choices = fact.get("choices")
    if isinstance(choices, list):
        return Leaf("choice", tuple(choice.get("value", choice["key"]) for choice in choices))
    return COUNT if fact["quantity"] == "count" else NUMBER
