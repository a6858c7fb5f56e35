"""Looking up paths, evaluating expressions and conditions on facts. Unknown stays unknown."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any, TypeGuard

from django.utils.translation import gettext as _

from shop.jobs.format.texts import fill, in_language, written
from shop.jobs.packing.patience import LETTERS, Patience
from shop.jobs.packing.titles import not_known, title_of


class NotKnown(LookupError):
    """Something that is needed is not known. `reason` is a sentence for the tech."""

    def __init__(self, path: str, reason: str) -> None:
        super().__init__(reason)
        self.path = path
        self.reason = reason


@dataclass(frozen=True)
class Turn:
    """One turn of a loop: which list, which row (from 1)."""

    over: str
    number: int


@dataclass(frozen=True)
class Values:
    """What can be named at one place while a pack is made.

    `work` are answers by name (`name.1`, `name.2` for looped work), `turns` how many turns each
    looped work took and over which list, `items` the rows of the loops around, `patience` how much
    the whole pack may still make: every place spends from the same.
    """

    facts: dict[str, Any]
    language: str = "en"
    work: dict[str, dict[str, Any]] = field(default_factory=dict)
    turns: dict[str, tuple[str, int]] = field(default_factory=dict)
    items: dict[str, Any] = field(default_factory=dict)
    turn: Turn | None = None
    patience: Patience = field(default_factory=Patience, compare=False)

    # Loops

    def inside(self, loop: dict[str, Any], row: Any, number: int) -> Values:
        self.patience.spend(1)
        items = {**self.items, loop["as"]: row}
        return replace(self, items=items, turn=Turn(loop["over"], number))

    # Paths

    def get(self, path: str) -> Any:
        """The value at a path. Raises NotKnown."""
        root, *names = path.split(".")
        if root == "work":
            return self._from_work(names, path)
        tree = self.items if root in self.items else self.facts
        return _down(tree.get(root), names, path)

    def _from_work(self, names: list[str], path: str) -> Any:
        name, rest = names[0], names[1:]
        if name in self.turns and not self._in_loop_of(name):
            count = self.turns[name][1]
            return [self._answer(f"{name}.{n}", rest, path) for n in range(1, count + 1)]
        return self._answer(self.work_name(name), rest, path)

    def _in_loop_of(self, name: str) -> bool:
        return self.turn is not None and self.turns[name][0] == self.turn.over

    def work_name(self, name: str) -> str:
        """The name of a work entry in the pack: looped work carries its turn."""
        if name in self.turns and self.turn and self._in_loop_of(name):
            return f"{name}.{self.turn.number}"
        return name

    def _answer(self, name: str, names: list[str], path: str) -> Any:
        answer = self.work.get(name)
        if answer is None:
            raise NotKnown(path, not_known(path))
        if names and names[0] == "value" and answer.get("value") is None:
            raise NotKnown(path, answer["text"])
        return _down(answer, names, path)

    # Expressions

    def evaluate(self, expression: Any) -> Any:
        """The value of an expression; a plain value is itself. Raises NotKnown."""
        if not isinstance(expression, dict):
            return expression
        found = self._evaluate(expression)
        return _times(found, expression["times"]) if "times" in expression else found

    def _evaluate(self, expression: dict[str, Any]) -> Any:
        for word in ("value", "fact", "work", "first", "list", "object", "each"):
            if word in expression:
                return getattr(self, f"_eval_{word}")(expression[word])
        word = "largest" if "largest" in expression else "smallest"
        values = self.evaluate(expression[word])
        if not isinstance(values, list) or not all(map(is_number, values)):
            raise NotKnown("", _("Only a list of numbers can be compared."))
        if not values:
            raise NotKnown("", _("Nothing to compare: the list is empty."))
        return max(values) if word == "largest" else min(values)

    def _eval_value(self, inner: Any) -> Any:
        return inner

    def _eval_fact(self, inner: str) -> Any:
        return self.get(inner)

    def _eval_work(self, inner: str) -> Any:
        return self.get(f"work.{inner}")

    def _eval_first(self, inner: list[Any]) -> Any:
        for index, one in enumerate(inner):
            try:
                return self.evaluate(one)
            except NotKnown:
                if index == len(inner) - 1:
                    raise
        raise AssertionError("the schema asks for at least one")

    def _eval_list(self, inner: list[Any]) -> list[Any]:
        return [value for one in inner if (value := self._optional(one)) is not _LEFT_OUT]

    def _eval_object(self, inner: dict[str, Any]) -> dict[str, Any]:
        found = {name: self._optional(one) for name, one in inner.items()}
        return {name: value for name, value in found.items() if value is not _LEFT_OUT}

    def _eval_each(self, each: dict[str, Any]) -> list[Any]:
        found = []
        rows = self.get(each["over"])
        if not isinstance(rows, list):
            raise NotKnown(each["over"], _("%s is no list.") % title_of(each["over"]))
        for row in rows:
            self.patience.spend(1)
            turn = replace(self, items={**self.items, each["as"]: row})
            if "when" not in each or turn.holds(each["when"]):
                found.append(turn.evaluate(each["take"]))
        return found

    def _optional(self, expression: Any) -> Any:
        try:
            return self.evaluate(expression)
        except NotKnown:
            if isinstance(expression, dict) and expression.get("optional"):
                return _LEFT_OUT
            raise

    # Conditions

    def holds(self, condition: dict[str, Any] | None) -> bool:
        """Whether a condition on facts holds. What is unknown makes a comparison false."""
        if condition is None:
            return True
        ((word, inner),) = condition.items()
        if word in ("and", "or"):
            answers = [self.holds(part) for part in inner]
            return all(answers) if word == "and" else any(answers)
        if word == "not":
            return not self.holds(inner)
        return self._compare(word, inner)

    def _compare(self, word: str, inner: Any) -> bool:
        try:
            found = self.get(inner if word == "known" else inner[0])
            wanted = self.get(inner[1]) if word == "same" else inner[1]
        except NotKnown:
            return False
        match word:
            case "known":
                return True
            case "in":
                return found in wanted
            case "has":
                return isinstance(found, list) and wanted in found
            case "at_least":
                return is_number(found) and bool(found >= wanted)
            case _:
                return bool(found == wanted)

    # Texts

    def text(self, text: Any) -> str:
        """The sentence in the pack's language with its placeholders filled."""
        filled = fill(in_language(text, self.language), self._shown)
        self.patience.spend(len(filled) // LETTERS)
        return filled

    def _shown(self, path: str, style: str | None) -> str:
        try:
            return written(self.get(path), style)
        except NotKnown:
            return _("[not known: %s]") % title_of(path)


_LEFT_OUT = object()


def _down(tree: Any, names: list[str], path: str) -> Any:
    """Follow names into a tree. None, empty texts and empty lists say that nobody filled it in."""
    for name in names:
        if isinstance(tree, dict):
            tree = tree.get(name)
        elif isinstance(tree, list) and name.isdigit() and int(name) < len(tree):
            tree = tree[int(name)]
        else:
            tree = None
        if tree is None:
            break
    if tree in (None, "", [], {}):
        raise NotKnown(path, not_known(path))
    return tree


def is_number(value: Any) -> TypeGuard[float]:
    """Whether it is a number; yes and no are none."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def _times(value: Any, factor: float) -> float:
    """The product to twelve digits, so that 230 x 1.1 is 253 and not 253.00000000000003."""
    if not is_number(value):
        raise NotKnown("", _("%r is no number") % (value,))
    return float(f"{value * factor:.12g}")
