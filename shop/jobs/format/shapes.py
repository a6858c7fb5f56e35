"""Which paths can exist, as shapes: of facts, and of what calculators answer.

A shape is a Leaf, ANY, a dict of shapes or a list with the shape of its rows.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Literal

import msgspec

from shop.calc.registry import calculators

Shape = Any
ANY = "any"  # below here nothing is claimed


class Leaf(msgspec.Struct, frozen=True):
    """A single value. `choices` are all that it can be; empty where that is not known."""

    type: Literal["text", "number", "count", "yes_no", "choice"]
    choices: tuple[str | float | bool, ...] = ()

    def can_be(self, value: object) -> bool:
        """Whether the value can ever stand here. Yes and no are no numbers."""
        if self.choices:
            return any(value == one and type(value) is type(one) for one in self.choices)
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        return isinstance(value, str) if self.type == "text" else is_number


TEXT, NUMBER, COUNT = Leaf("text"), Leaf("number"), Leaf("count")
YES_NO = Leaf("yes_no", (True, False))


def one_of(*choices: str) -> Leaf:
    """A value that is always one of these."""
    return Leaf("choice", choices)


def is_single(shape: Shape) -> bool:
    """Whether a single value can stand here."""
    return shape == ANY or isinstance(shape, Leaf)


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
    if "enum" in schema:
        return one_of(*schema["enum"])
    return _LEAVES.get(schema.get("type", ""), ANY)


_LEAVES = {"string": TEXT, "number": NUMBER, "integer": COUNT, "boolean": YES_NO}


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
