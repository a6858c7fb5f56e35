"""What a form needs beside the JSON Schema: the unit of every number, read off its name."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

# The last word of a field's name is its unit (house rule), so that no unit is written twice.
UNITS = {
    "ampere": "A",
    "celsius": "°C",
    "counts": "counts",
    "days": "d",
    "db": "dB",
    "dbu": "dBu",
    "farad": "F",
    "henry": "H",
    "hertz": "Hz",
    "hours": "h",
    "hz": "Hz",
    "kelvin": "K",
    "kohm": "kΩ",
    "metre": "m",
    "kelvin_per_watt": "K/W",
    "microampere": "µA",
    "microfarad": "µF",
    "milliampere": "mA",
    "millihenry": "mH",
    "millimetre": "mm",
    "millivolt": "mV",
    "megohm": "MΩ",
    "mm2": "mm²",
    "months": "months",
    "nanofarad": "nF",
    "ohm": "Ω",
    "percent": "%",
    "picofarad": "pF",
    "seconds": "s",
    "va": "VA",
    "volt": "V",
    "watt": "W",
    "years": "yr",
}
# Older names that templates and stored worksheets know.
OLDER = {
    "a": "A",
    "kw": "kW",
    "m": "m",
    "ma": "mA",
    "mah": "mAh",
    "pct": "%",
    "s": "s",
    "ua": "µA",
    "uf": "µF",
    "watts": "W",
}


def unit_of(field: str) -> str:
    """The unit of a field by its name, empty for a bare number: `old_volt` is in V."""
    if field.endswith("kelvin_per_watt"):  # the only unit of more than one word
        return UNITS["kelvin_per_watt"]
    last = field.rsplit("_", 1)[-1]
    return UNITS.get(last) or OLDER.get(last, "")


def with_units(schema: dict[str, Any]) -> dict[str, Any]:
    """The same schema with `x-unit` on every property whose name tells it."""
    for shape in schema.get("$defs", {}).values():
        for name, field in shape.get("properties", {}).items():
            if unit := unit_of(name):
                field["x-unit"] = unit
    return schema


WORDS = {"title", "description"}
# What programs compare or send back stays as it is.
VALUES = {"const", "default", "enum", "examples"}


def spoken(schema: Any, translate: Callable[[str], str]) -> Any:
    """The same schema with what people read in it passed through `translate`."""
    if isinstance(schema, list):
        return [spoken(inner, translate) for inner in schema]
    if not isinstance(schema, dict):
        return schema
    return {key: _spoken_at(key, inner, translate) for key, inner in schema.items()}


def _spoken_at(key: str, inner: Any, translate: Callable[[str], str]) -> Any:
    if key in VALUES:
        return inner
    if key in WORDS and isinstance(inner, str):
        return inner and translate(inner)
    if key == "x-labels":
        return {choice: translate(label) for choice, label in inner.items()}
    return spoken(inner, translate)


def examples_at(schema: dict[str, Any], path: str) -> list[Any]:
    """Examples of the field that a path such as `sections[0].start` leads to."""
    field = _at(schema, path)
    shapes = [field, *(_resolved(schema, one) for one in field.get("anyOf", []))]
    return [example for shape in shapes for example in shape.get("examples", [])]


def _at(schema: dict[str, Any], path: str) -> dict[str, Any]:
    found = schema
    for word in re.findall(r"[^.\[\]]+", path):
        shapes = [_resolved(schema, one) for one in found.get("anyOf", [found])]
        inner = [_inside(one, word) for one in shapes if _inside(one, word)]
        found = inner[0] if inner else {}
    return found


def _resolved(schema: dict[str, Any], one: dict[str, Any]) -> dict[str, Any]:
    name = one.get("$ref", "").rpartition("/")[2]
    return schema["$defs"][name] if name else one


def _inside(one: dict[str, Any], word: str) -> dict[str, Any]:
    items: dict[str, Any] = one.get("items", {})
    named: dict[str, Any] = one.get("properties", {}).get(word, {})
    return items if word.isdigit() else named
