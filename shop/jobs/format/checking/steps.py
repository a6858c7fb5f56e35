"""Checks of the steps in order, each against those before it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from shop.jobs.format.checking.scope import Scope
from shop.jobs.format.checking.seen import Seen
from shop.jobs.format.checking.step import StepCheck
from shop.jobs.format.checking.values import Checker
from shop.jobs.format.problems import Findings, Path

Placed = tuple[dict[str, Any], Path, Scope, Path | None]


def check_steps(body: dict[str, Any], scope: Scope, found: Findings) -> None:
    """Check every step in order, each against those before it."""
    seen = Seen()
    for step, path, inside, block in _placed(body, scope, found):
        checker = Checker(inside, found, step["id"])
        StepCheck(step, path, checker, seen, block).run()
        seen.add(step, block)


def _placed(body: dict[str, Any], scope: Scope, found: Findings) -> Iterator[Placed]:
    """Every step with its path, its scope, and the block it is repeated with."""
    for index, entry in enumerate(body["steps"]):
        path: Path = ("steps", index)
        checker = Checker(scope, found, entry.get("id"))
        if "when_fact" in entry and "steps" in entry:
            checker.fact_condition(entry["when_fact"], (*path, "when_fact"))
        inside = scope
        if "repeat" in entry:
            inside = checker.loop(entry["repeat"], (*path, "repeat"))
        if "steps" in entry:
            yield from _in_block(entry, path, inside, found)
        else:
            yield entry, path, inside, path if "repeat" in entry else None


def _in_block(
    block: dict[str, Any], path: Path, inside: Scope, found: Findings
) -> Iterator[Placed]:
    for number, step in enumerate(block["steps"]):
        at = (*path, "steps", number)
        if "repeat" in step:
            found.add((*at, "repeat"), _("No loop in a loop."), step["id"])
        if step["kind"] == "procedure":
            found.add((*at, "kind"), _("A procedure is not repeated."), step["id"])
        yield step, at, inside, path
