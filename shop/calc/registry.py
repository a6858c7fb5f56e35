"""Every calculator by name, with the JSON Schema of what goes in and comes out.

One registry serves the HTTP address, the command line, the job templates and the documentation.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any, TypeVar, get_type_hints

import msgspec

from shop.calc.inputs import read_input
from shop.calc.schemas import with_units
from shop.calc.working import Answer

Function = TypeVar("Function", bound=Callable[[Any], Answer[Any]])

# Importing a module registers its calculators. Listed by hand so that a forgotten one is seen.
MODULES: tuple[str, ...] = (
    "capacitors",
    "cells",
    "codes",
    "controls",
    "cords",
    "date_codes",
    "discharge",
    "fuses",
    "judging",
    "levels",
    "marks",
    "rails",
    "readings",
    "safety",
    "series_lamp",
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


def answer_as_json(answer: Answer[Any]) -> dict[str, Any]:
    """The answer as plain JSON-like values, in the order of its fields."""
    plain: dict[str, Any] = msgspec.to_builtins(answer)
    return plain
