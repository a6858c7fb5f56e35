"""Checks of expressions, conditions on facts, loops and texts."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.utils.translation import gettext as _

from shop.jobs.format.checking.scope import Scope, check_path
from shop.jobs.format.problems import Findings, Path
from shop.jobs.format.shapes import ANY, COUNT, is_single
from shop.jobs.format.texts import FORMATS, has_stray_braces, placeholders


class Checker:
    """Checks values at one place of a template: one scope, one step."""

    def __init__(self, scope: Scope, found: Findings, step: str | None = None) -> None:
        self.scope, self.found, self.step = scope, found, step

    def within(self, scope: Scope) -> Checker:
        return Checker(scope, self.found, self.step)

    def add(self, path: Path, reason: object) -> None:
        self.found.add(path, reason, self.step)

    def expression(self, expression: Any, path: Path, *, whole_list: bool = False) -> None:
        """Every path in an expression can exist. Plain numbers are expressions too."""
        if not isinstance(expression, dict):
            return
        for name in ("fact", "work"):
            if name in expression:
                self._named(name, expression[name], (*path, name), whole_list)
        for name in ("first", "list"):
            for index, inner in enumerate(expression.get(name, [])):
                self.expression(inner, (*path, name, index), whole_list=whole_list)
        for name, inner in expression.get("object", {}).items():
            self.expression(inner, (*path, "object", name))
        for name in ("largest", "smallest"):
            if name in expression:
                self.expression(expression[name], (*path, name), whole_list=True)
        if "each" in expression:
            self._each(expression["each"], (*path, "each"))

    def _named(self, name: str, named: str, path: Path, whole_list: bool) -> None:
        full = f"work.{named}" if name == "work" else named
        check_path(self.scope, full, path, self.found, self.step, whole_list=whole_list)

    def _each(self, each: dict[str, Any], path: Path) -> None:
        turn = self.within(self._turn(each, path))
        # Inside `each` the loop around still counts the looped work.
        turn.scope = replace(turn.scope, over=self.scope.over)
        turn.expression(each["take"], (*path, "take"))
        if "when" in each:
            turn.fact_condition(each["when"], (*path, "when"))

    def loop(self, loop: dict[str, Any], path: Path) -> Scope:
        """The scope inside a loop, after checking that it runs over a list."""
        return self._turn(loop, path)

    def _turn(self, loop: dict[str, Any], path: Path) -> Scope:
        over = (*path, "over")
        shape = check_path(self.scope, loop["over"], over, self.found, self.step)
        if shape not in (ANY, COUNT) and not isinstance(shape, list):
            self.add(over, _("%s is no list.") % loop["over"])
        row = shape[0] if isinstance(shape, list) else {"number": COUNT} if shape == COUNT else ANY
        items = {**self.scope.items, loop["as"]: row}
        return replace(self.scope, items=items, over=loop["over"])

    def fact_condition(self, condition: dict[str, Any], path: Path) -> None:
        """Every path in a condition can exist, and its words can come up."""
        ((word, inner),) = condition.items()
        path = (*path, word)
        if word in ("and", "or"):
            for index, part in enumerate(inner):
                self.fact_condition(part, (*path, index))
        elif word == "not":
            self.fact_condition(inner, path)
        elif word == "known":
            check_path(self.scope, inner, path, self.found, self.step)
        elif word == "same":
            for index, named in enumerate(inner):
                check_path(self.scope, named, (*path, index), self.found, self.step)
        else:
            self._compared(word, inner[0], path)

    def _compared(self, word: str, named: str, path: Path) -> None:
        shape = check_path(self.scope, named, (*path, 0), self.found, self.step)
        if word == "has" and shape != ANY and not isinstance(shape, list):
            self.add(path, _("%s is no list.") % named)
        if word in ("eq", "in", "at_least") and not is_single(shape):
            self.add(path, _("%s is not a single value.") % named)

    def text(self, text: Any, path: Path) -> None:
        """Every {placeholder}, in every language, resolves to something that can exist."""
        if isinstance(text, dict):
            for language, inner in text.items():
                self.text(inner, (*path, language))
            return
        if not isinstance(text, str):
            return
        if has_stray_braces(text):
            self.add(path, _("A brace that is no placeholder; write {{ for a brace."))
        for named, style in placeholders(text):
            shape = check_path(self.scope, named, path, self.found, self.step)
            self._style(named, style, shape, path)

    def _style(self, named: str, style: str | None, shape: Any, path: Path) -> None:
        if style is not None and style not in FORMATS:
            self.add(path, _("%r is no way of writing a value.") % style)
        if style != "list" and not is_single(shape):
            self.add(path, _("{%s} is not a single value.") % named)
