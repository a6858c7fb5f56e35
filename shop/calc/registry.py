"""Every calculator by name, with the JSON Schema of what goes in and comes out.

One registry serves the HTTP address, the command line, the job templates and the documentation.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable, Mapping
from functools import cache
from math import isfinite
from typing import Any, TypeVar, get_type_hints

import msgspec

from shop.calc.schemas import with_units
from shop.calc.working import Answer, BadInput

Function = TypeVar("Function", bound=Callable[[Any], Answer[Any]])

# Importing a module registers its calculators. Listed by hand so that a forgotten one is seen.
MODULES: tuple[str, ...] = (
    "capacitors",
    "cells",
    "codes",
    "cords",
    "date_codes",
    "dead_working",
    "discharge",
    "fuses",
    "judging",
    "levels",
    "marks",
    "plug_discharge",
    "rails",
    "readings",
    "safety",
    "series_lamp",
    "stored_charge",
    "supplies",
    "turnaround",
    "valves",
    "voltage_parts",
    "windings",
)


class Calculator(msgspec.Struct, frozen=True):
    """A calculator and its types. `name` is stable: templates and addresses use it.

    `question` is what a tech would ask, `example` an input that answers it: screens and pages of
    the documentation show both.
    """

    name: str
    title: str
    takes: type
    gives: Any
    work_out: Callable[[Any], Answer[Any]]
    question: str = ""
    example: Mapping[str, Any] = {}

    def schemas(self) -> dict[str, Any]:
        """JSON Schema (2020-12) of the input, each number with its unit, and of the answer."""
        return {
            "input": with_units(msgspec.json.schema(self.takes)),
            "answer": msgspec.json.schema(self.gives),
        }


_calculators: dict[str, Calculator] = {}


def calculator(
    name: str, title: str, *, question: str = "", example: Mapping[str, Any] | None = None
) -> Callable[[Function], Function]:
    """Register a pure function `(Input) -> Answer[Value]` under a stable name."""

    def register(function: Function) -> Function:
        hints = get_type_hints(function)
        gives = hints.pop("return")
        (takes,) = hints.values()
        if name in _calculators:
            raise RuntimeError(f"two calculators are called {name}")
        _calculators[name] = Calculator(
            name, title, takes, gives, function, question, example or {}
        )
        return function

    return register


@cache
def calculators() -> Mapping[str, Calculator]:
    """All calculators by name."""
    for module in MODULES:
        importlib.import_module(f"shop.calc.{module}")
    return dict(sorted(_calculators.items()))


def work_out(name: str, given: Mapping[str, Any]) -> Answer[Any]:
    """Run one calculator on JSON-like input.

    Raises KeyError for an unknown name, BadInput (field and reason) for input that does not fit.
    """
    found = calculators()[name]
    return found.work_out(read_input(found.takes, given))


def read_input(takes: type, given: Mapping[str, Any]) -> Any:
    """Turn JSON-like input into the calculator's own type, or say which field is wrong and why."""
    _refuse_non_finite(given, "")
    try:
        return msgspec.convert(dict(given), takes, strict=True)
    except msgspec.ValidationError as error:
        reason, _, path = str(error).partition(" - at `$")
        missing = reason.partition("missing required field `")[2]
        field = (path.rstrip("`") + ("." + missing.rstrip("`") if missing else "")).lstrip(".")
        raise BadInput(field or "input", reason) from error


def _refuse_non_finite(value: Any, path: str) -> None:
    """JSON has no infinity, but Python's reader lets it in; no calculator should have to ask."""
    if isinstance(value, float) and not isfinite(value):
        raise BadInput(path.lstrip("."), "This must be a finite number.", "not_finite")
    if isinstance(value, Mapping):
        for key, inner in value.items():
            _refuse_non_finite(inner, f"{path}.{key}")
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            _refuse_non_finite(inner, f"{path}[{index}]")


def answer_as_json(answer: Answer[Any]) -> dict[str, Any]:
    """The answer as plain JSON-like values, in the order of its fields."""
    plain: dict[str, Any] = msgspec.to_builtins(answer)
    return plain
