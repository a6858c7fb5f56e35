"""A published revision that a step works as its procedure, and the function that finds one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import msgspec


class Procedure(msgspec.Struct, frozen=True):
    """A published revision, worked inside another template."""

    slug: str
    revision: int
    body: dict[str, Any]


# From {"template", "revision"?} to that revision, else to the newest; None where there is none.
FindProcedure = Callable[[dict[str, Any]], Procedure | None]


def procedure_steps(body: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The steps of a sound template that work another one."""
    return (step for step in body["steps"] if step.get("kind") == "procedure")


def remembered(find: FindProcedure) -> FindProcedure:
    """The same, looking each revision up once."""
    known: dict[tuple[str, int | None], Procedure | None] = {}

    def found(named: dict[str, Any]) -> Procedure | None:
        key = (named["template"], named.get("revision"))
        if key not in known:
            known[key] = find(named)
        return known[key]

    return found
