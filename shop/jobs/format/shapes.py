"""Which paths can exist: facts of unit, model sheet, repair and shop, and answers of calculators.

A shape is LEAF, ANY, a dict of shapes or a list with the shape of its rows.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from shop.calc.registry import calculators

LEAF, ANY = "leaf", "any"
Shape = Any

_SUPPLY_ROW = {
    "volt": LEAF, "name": LEAF, "links": [[LEAF]], "line_terminals": [LEAF], "fuse": LEAF,
    "fuse_source": LEAF,
}  # fmt: skip
_SHEET: dict[str, Shape] = {
    **dict.fromkeys(
        ["id", "make", "model", "kind", "year_from", "year_to", "supply_kind", "protection_class",
         "two_wire", "rated_watt", "idle_watt", "idle_watt_source", "cord_length_m", "cord_mm2",
         "reset_procedure", "serial_rule", "note", "lamp_kind", "highest_reservoir_volt"],
        LEAF,
    ),
    "features": [LEAF],
    "hazards": [LEAF],
    "primary": {
        "sections": [ANY], "plate_volt": LEAF, "plate_hz": [LEAF], "links_now": [[LEAF]],
        "resistances": [ANY],
    },
    "supplies": [_SUPPLY_ROW],
    "at_set_for": _SUPPLY_ROW,
    "at_use_at": _SUPPLY_ROW,
    "secondaries": [ANY],
    "rails": [ANY],
    "reservoirs": [ANY],
    "cell": ANY,
    "mains_parts": [ANY],
    "known_faults": [ANY],
}  # fmt: skip

FACTS: dict[str, Shape] = {
    "unit": dict.fromkeys(["code", "make", "model", "serial", "set_for_volt"], LEAF),
    "sheet": _SHEET,
    "repair": dict.fromkeys(
        ["number", "complaint", "last_worked", "last_supply", "damage", "visible_changes",
         "visible_changes_words", "sounds", "sounds_words", "spending_limit_minor"],
        LEAF,
    ),
    "supply": {
        "set_for": {"volt": LEAF, "hz": LEAF},
        "use_at": {"volt": LEAF, "hz": LEAF, "country": LEAF},
        "bench": {"volt": LEAF, "hz": LEAF},
    },
    "bench": {"name": LEAF, "lamps": [{"watt": LEAF, "volt": LEAF}]},
    "shop": {"country": LEAF, "safety_scheme": LEAF},
    "today": LEAF,
}  # fmt: skip


class NoSuchPath(LookupError):
    """The path can never lead to anything."""


def descend(shape: Shape, names: list[str]) -> Shape:
    """The shape at the end of a path. Raises NoSuchPath with the first name that is wrong."""
    for name in names:
        if shape == ANY:
            return ANY
        if isinstance(shape, dict) and name in shape:
            shape = shape[name]
        elif isinstance(shape, list) and name.isdigit():
            shape = shape[0]
        else:
            raise NoSuchPath(name)
    return shape


@cache
def input_names(calculator: str) -> tuple[frozenset[str], frozenset[str]]:
    """Names of the inputs a calculator takes, and of those it needs."""
    schema = calculators()[calculator].schemas()["input"]
    top = _resolved(schema, schema.get("$defs", {}))
    return frozenset(top.get("properties", {})), frozenset(top.get("required", []))


@cache
def answer_shape(calculator: str) -> Shape:
    """The shape of what a calculator answers: outcome, text, value."""
    schema = calculators()[calculator].schemas()["answer"]
    full = shape_of(schema, schema.get("$defs", {}), depth=10)
    return {name: full[name] for name in ("outcome", "text", "value")}


def shape_of(schema: dict[str, Any], defs: dict[str, Any], depth: int) -> Shape:
    """The shape that a JSON Schema describes."""
    schema = _resolved(schema, defs)
    if depth == 0:
        return ANY
    if "anyOf" in schema:
        return _any_of([shape_of(s, defs, depth - 1) for s in schema["anyOf"] if not _is_null(s)])
    if "properties" in schema:
        return {n: shape_of(s, defs, depth - 1) for n, s in schema["properties"].items()}
    if schema.get("type") == "array":
        items = schema.get("items")
        return [shape_of(items, defs, depth - 1) if isinstance(items, dict) else ANY]
    return ANY if schema.get("type") in ("object", None) and "enum" not in schema else LEAF


def _any_of(shapes: list[Shape]) -> Shape:
    if all(isinstance(shape, dict) for shape in shapes):
        return {name: inner for shape in shapes for name, inner in shape.items()}
    return shapes[0] if shapes and all(shape == shapes[0] for shape in shapes) else ANY


def _is_null(schema: dict[str, Any]) -> bool:
    return schema.get("type") == "null"


def _resolved(schema: dict[str, Any], defs: dict[str, Any]) -> dict[str, Any]:
    while "$ref" in schema:
        schema = defs[schema["$ref"].rpartition("/")[2]]
    return schema
