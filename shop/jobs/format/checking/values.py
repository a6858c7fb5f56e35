"""Checks of expressions, conditions on facts, loops and texts."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.schemas import unit_of
from shop.jobs.format.checking.scope import Scope, check_path
from shop.jobs.format.fact_conditions import can_hold
from shop.jobs.format.facts import FACTS
from shop.jobs.format.problems import Findings, Path
from shop.jobs.format.shapes import ANY, COUNT, NUMBER, Leaf, NoSuchPath, Shape, is_single
from shop.jobs.format.texts import FORMATS, has_stray_braces, placeholders

ROOTS = {*FACTS, "asked", "work"}


def path_of(expression: dict[str, Any]) -> str | None:
    """The path that an expression names directly."""
    return f"work.{expression['work']}" if "work" in expression else expression.get("fact")


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
            self.named_value(name, inner, (*path, "object", name))
        for name in ("largest", "smallest"):
            if name in expression:
                self.expression(expression[name], (*path, name), whole_list=True)
        if "each" in expression:
            self._each(expression["each"], (*path, "each"))

    def named_value(self, name: str, expression: Any, path: Path) -> None:
        """An expression for a field: what it leads to is in the unit that the field's name says."""
        self.expression(expression, path)
        if unit := unit_of(name):
            self._in_unit(expression, path, unit)

    def number(self, expression: Any, path: Path, unit: str = "") -> None:
        """A number, in the unit where one is given (as people see it)."""
        self.expression(expression, path)
        self._is_number(expression, path)
        if unit:
            self._in_unit(expression, path, unit)

    def _is_number(self, expression: Any, path: Path) -> None:
        if not isinstance(expression, dict):
            return
        for index, inner in enumerate(expression.get("first", [])):
            self._is_number(inner, (*path, "first", index))
        kept = expression.get("value")
        is_plain = kept is None or (isinstance(kept, int | float) and not isinstance(kept, bool))
        is_list = bool(expression.keys() & {"list", "object", "each"})
        if is_list or not is_plain or not self._can_be_number(expression):
            self.add(path, _("This is no number."))

    def _can_be_number(self, expression: dict[str, Any]) -> bool:
        if (named := path_of(expression)) is None:
            return True
        shape = self.shape_at(named)
        if isinstance(shape, Leaf) and shape.choices:
            return not any(isinstance(choice, str) for choice in shape.choices)
        return shape in (ANY, NUMBER, COUNT)

    def shape_at(self, named: str) -> Shape:
        """The shape at a path; anything where there is none, which is said elsewhere."""
        try:
            return self.scope.shape(named)
        except NoSuchPath:
            return ANY

    def _in_unit(self, expression: Any, path: Path, unit: str) -> None:
        """`times` may change the unit, so behind it nothing is claimed."""
        if not isinstance(expression, dict) or "times" in expression:
            return
        for name in ("largest", "smallest"):
            self._in_unit(expression.get(name), (*path, name), unit)
        for index, inner in enumerate(expression.get("first", [])):
            self._in_unit(inner, (*path, "first", index), unit)
        named = path_of(expression)
        if named is None or named.startswith("asked."):
            return  # a key is made of the words of its question: "at one metre" is no length
        if (other := unit_of(named.rpartition(".")[2])) not in ("", unit):
            self.add(path, _("%s is in %s, this is in %s.") % (named, other, unit))

    def _named(self, name: str, named: str, path: Path, whole_list: bool) -> None:
        full = f"work.{named}" if name == "work" else named
        check_path(self.scope, full, path, self.found, self.step, whole_list=whole_list)

    def _each(self, each: dict[str, Any], path: Path) -> None:
        if self.shape_at(each["over"]) == COUNT:
            self.add((*path, "over"), _("%s is no list.") % each["over"])
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
        if loop["as"] in ROOTS:
            self.add((*path, "as"), _("%r is the name of something else.") % loop["as"])
        row = shape[0] if isinstance(shape, list) else {"number": COUNT} if shape == COUNT else ANY
        items = {**self.scope.items, loop["as"]: row}
        return replace(self.scope, items=items, over=loop["over"])

    def fact_condition(self, condition: dict[str, Any], path: Path) -> None:
        """Every path in a condition can exist, its words can come up, and it can be true."""
        before = len(self.found.problems)
        self._fact_condition(condition, path)
        if len(self.found.problems) == before and not can_hold(condition, self._choices_of):
            self.add(path, _("This condition can never hold."))

    def _choices_of(self, named: str) -> tuple[Any, ...]:
        shape = self.scope.shape(named, whole_list=True)
        return shape.choices if isinstance(shape, Leaf) else ()

    def _fact_condition(self, condition: dict[str, Any], path: Path) -> None:
        ((word, inner),) = condition.items()
        path = (*path, word)
        if word in ("and", "or"):
            for index, part in enumerate(inner):
                self._fact_condition(part, (*path, index))
        elif word == "not":
            self._fact_condition(inner, path)
        elif word == "known":
            check_path(self.scope, inner, path, self.found, self.step)
        elif word == "same":
            for index, named in enumerate(inner):
                check_path(self.scope, named, (*path, index), self.found, self.step)
        else:
            self._compared(word, inner, path)

    def _compared(self, word: str, inner: list[Any], path: Path) -> None:
        named = inner[0]
        shape = check_path(self.scope, named, (*path, 0), self.found, self.step)
        if word == "has":
            if shape != ANY and not isinstance(shape, list):
                self.add(path, _("%s is no list.") % named)
            shape = shape[0] if isinstance(shape, list) else ANY
        elif not is_single(shape):
            self.add(path, _("%s is not a single value.") % named)
        for wanted in inner[1] if word == "in" else [inner[1]]:
            if isinstance(shape, Leaf) and not shape.can_be(wanted):
                self.add((*path, 1), _("%s is never %r.") % (named, wanted))

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
