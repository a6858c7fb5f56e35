"""Checks of gates, facts, parts and work: everything before the steps."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.registry import calculators
from shop.jobs.format.checking.scope import Scope
from shop.jobs.format.checking.values import Checker
from shop.jobs.format.facts import asked_shape
from shop.jobs.format.problems import Findings, Path
from shop.jobs.format.shapes import ANY, answer_shape, input_names


def check_head(body: dict[str, Any], found: Findings) -> Scope:
    """Check what stands before the steps; returns what the steps may name."""
    scope = _facts(body, found)
    for index, work in enumerate(body.get("work", [])):
        scope = _work(work, ("work", index), scope, found)
    scope = _parts(body, scope, found)
    checker = Checker(scope, found)
    for index, gate in enumerate(body.get("gates", [])):
        checker.fact_condition(gate["when"], ("gates", index, "when"))
        checker.text(gate["reason"], ("gates", index, "reason"))
    for index, text in enumerate(body.get("cautions", [])):
        checker.text(text, ("cautions", index))
    for name in ("title", "summary"):
        Checker(Scope(), found).text(body[name], (name,))
    return scope


def _facts(body: dict[str, Any], found: Findings) -> Scope:
    scope = Scope()
    for index, fact in enumerate(body.get("facts", [])):
        path: Path = ("facts", index)
        checker = Checker(scope, found)
        if fact["key"] in scope.asked:
            found.add((*path, "key"), _("%r is asked twice.") % fact["key"])
        if "from" in fact:
            checker.expression({"fact": fact["from"]}, (*path, "from"))
        if "when" in fact:
            checker.fact_condition(fact["when"], (*path, "when"))
        checker.text(fact["title"], (*path, "title"))
        scope = replace(scope, asked={**scope.asked, fact["key"]: asked_shape(fact)})
    return scope


def _parts(body: dict[str, Any], scope: Scope, found: Findings) -> Scope:
    keys = [part["key"] for part in body.get("parts", [])]
    for index, part in enumerate(body.get("parts", [])):
        if keys.index(part["key"]) < index:
            found.add(("parts", index, "key"), _("%r stands twice.") % part["key"])
        checker = Checker(scope, found)
        for name in ("name", "order_code"):
            checker.text(part.get(name), ("parts", index, name))
        if "when" in part:
            checker.fact_condition(part["when"], ("parts", index, "when"))
    return replace(scope, parts=frozenset(keys))


def _work(work: dict[str, Any], path: Path, scope: Scope, found: Findings) -> Scope:
    """Check one call of a calculator; returns the scope with its answer."""
    checker = Checker(scope, found)
    if work["name"] in scope.work:
        found.add((*path, "name"), _("%r stands twice.") % work["name"])
    if "for_each" in work:
        checker = checker.within(checker.loop(work["for_each"], (*path, "for_each")))
    if "when" in work:
        checker.fact_condition(work["when"], (*path, "when"))
    checker.text(work["title"], (*path, "title"))
    _given(work, path, checker)
    known = work["calculator"] in calculators()
    shapes = {**scope.work, work["name"]: answer_shape(work["calculator"]) if known else ANY}
    looped = {**scope.looped}
    if "for_each" in work:
        looped[work["name"]] = work["for_each"]["over"]
    return replace(scope, work=shapes, looped=looped)


def _given(work: dict[str, Any], path: Path, checker: Checker) -> None:
    for name, expression in work["given"].items():
        checker.expression(expression, (*path, "given", name))
    if work["calculator"] not in calculators():
        checker.add((*path, "calculator"), _("There is no calculator %r.") % work["calculator"])
        return
    takes, needs = input_names(work["calculator"])
    for name in work["given"].keys() - takes:
        reason = _("%s takes no %r; it takes %s.")
        checker.add(
            (*path, "given", name), reason % (work["calculator"], name, ", ".join(sorted(takes)))
        )
    for name in sorted(needs - work["given"].keys()):
        checker.add((*path, "given"), _("%s needs %r.") % (work["calculator"], name))
