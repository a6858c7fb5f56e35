"""Expressions, conditions and limits of a template as people say them. Never raw JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.quantities import Quantity
from shop.jobs.format.texts import in_language, written
from shop.jobs.format.words import choice_in_words, title_in_words, unit_of


def steps_in(body: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Every step of a sound template, also those inside blocks, in order."""
    for entry in body["steps"]:
        yield from entry.get("steps", [entry])


class Saying:
    """Says what a template means by its paths, with the titles it gives its own things."""

    def __init__(self, body: dict[str, Any], language: str = "en") -> None:
        self.language = language
        self.asked = {fact["key"]: fact for fact in body.get("facts", [])}
        self.work = {work["name"]: self.text(work["title"]) for work in body.get("work", [])}
        self.parts = {part["key"]: self.text(part["name"]) for part in body.get("parts", [])}
        self.steps = {step["id"]: step for step in steps_in(body)}
        self.loops = dict(_loops(body))

    def text(self, text: Any) -> str:
        return in_language(text, self.language)

    def step(self, id: str) -> str:
        """The title of a step; one that has none is called by its id."""
        return self.text(self.steps.get(id, {}).get("title")) or id

    # Paths

    def path(self, path: str) -> str:
        """What a path leads to."""
        root, *names = [name for name in path.split(".") if not name.isdigit()]
        if root == "asked" and names and names[0] in self.asked:
            return _('the answer to "%s"') % self.text(self.asked[names[0]]["title"])
        if root == "work" and names:
            return self._answer(names)
        if root in self.loops:
            return title_in_words(".".join([*self.loops[root].split("."), *names]))
        return title_in_words(".".join([root, *names]))

    def _answer(self, names: list[str]) -> str:
        title = self.work.get(names[0], names[0])
        inner = " ".join(name for name in names[1:] if name not in ("value", "text"))
        if not inner:
            return _('calculator "%s"') % title
        return _('%(field)s from calculator "%(title)s"') % {
            "field": inner.replace("_", " "), "title": title,
        }  # fmt: skip

    # Values and expressions

    def value(self, value: Any, quantity: str | None = None) -> str:
        """A plain value; numbers with the unit of their quantity."""
        if value is None:
            return _("nothing")
        if isinstance(value, bool):
            return _("yes") if value else _("no")
        if isinstance(value, list):
            return ", ".join(self.value(one, quantity) for one in value) or _("nothing")
        if isinstance(value, dict):
            rows = [f"{name.replace('_', ' ')}: {self.value(v)}" for name, v in value.items()]
            return "; ".join(rows) or _("nothing")
        return written(value, quantity if quantity in tuple(Quantity) else None)

    def source(self, expression: Any, quantity: str | None = None) -> str:
        """Where a value comes from."""
        if not isinstance(expression, dict):
            return self.value(expression, quantity)
        said = self._source(expression, quantity)
        if "times" in expression:
            said = _("%(what)s, times %(number)s") % {
                "what": said, "number": self.value(expression["times"]),
            }  # fmt: skip
        return _("%s, if known") % said if expression.get("optional") else said

    def _source(self, expression: dict[str, Any], quantity: str | None) -> str:
        def each_of(rows: Any) -> list[str]:
            return [self.source(row, quantity) for row in rows]

        match expression:
            case {"fact": path}:
                return self.path(path)
            case {"work": path}:
                return self.path(f"work.{path}")
            case {"first": rows}:
                return _(", or else ").join(each_of(rows))
            case {"list": rows}:
                return "; ".join(each_of(rows)) or _("an empty list")
            case {"largest": inner}:
                return _("the largest of %s") % self.source(inner, quantity)
            case {"smallest": inner}:
                return _("the smallest of %s") % self.source(inner, quantity)
            case {"object": fields}:
                named = [f"{k.replace('_', ' ')}: {self.source(v)}" for k, v in fields.items()]
                return "; ".join(named) or _("nothing")
            case {"each": each}:
                return self._each(each)
        return self.value(expression.get("value"), quantity)

    def _each(self, each: dict[str, Any]) -> str:
        said = _("%(take)s for each row of %(list)s") % {
            "take": self.source(each["take"]), "list": self.path(each["over"]),
        }  # fmt: skip
        return f"{said}, {self.where(each['when'])}" if "when" in each else said

    def loop(self, loop: dict[str, Any]) -> str:
        return _("once for each of %(list)s, at most %(max)s times") % {
            "list": self.path(loop["over"]), "max": loop["max"],
        }  # fmt: skip

    # Conditions

    def where(self, condition: dict[str, Any]) -> str:
        return _("where %s") % self.condition(condition)

    def condition(self, condition: dict[str, Any]) -> str:
        """A condition on facts, as what must hold."""
        ((word, inner),) = condition.items()
        match word:
            case "and" | "or":
                return self._joined(word, [self.condition(part) for part in inner], inner)
            case "not":
                return _("not: %s") % self.condition(inner)
            case "known":
                return _("%s is known") % self.path(inner)
            case "same":
                what, other = inner
                return self._pair(_("%(what)s is the same as %(other)s"), what, self.path(other))
        path, value = inner
        shape = {
            "eq": _("%(what)s is %(other)s"),
            "in": _("%(what)s is %(other)s"),
            "has": _("%(what)s includes %(other)s"),
            "at_least": _("%(what)s is at least %(other)s"),
        }[word]
        values = value if isinstance(value, list) else [value]
        return self._pair(shape, path, _(" or ").join(self._one_of(path, v) for v in values))

    def _pair(self, shape: str, what: str, other: str) -> str:
        return shape % {"what": self.path(what), "other": other}

    def _one_of(self, path: str, value: Any) -> str:
        """A value as the fact it is compared with calls it."""
        root, _point, key = path.partition(".")
        choices = self.asked.get(key, {}).get("choices", []) if root == "asked" else []
        for choice in choices:
            if value == choice.get("value", choice["key"]):
                return self.text(choice["label"])
        if isinstance(value, bool) or not isinstance(value, int | float):
            return self.value(value) if isinstance(value, bool) else choice_in_words(value)
        return self.value(value, unit_of(path)[1])

    def chosen(self, condition: dict[str, Any]) -> str:
        """A condition on choices made at the bench, as what must hold."""
        ((word, inner),) = condition.items()
        if word == "and":
            return self._joined(word, [self.chosen(part) for part in inner], inner)
        if word == "not":
            return _("not: %s") % self.chosen(inner)
        step, keys = inner
        labels = [f'"{self.choice(step, key)}"' for key in (keys if word == "in" else [keys])]
        return _('"%(what)s" is %(other)s') % {
            "what": self.step(step), "other": _(" or ").join(labels),
        }  # fmt: skip

    def choice(self, step: str, key: str) -> str:
        for choice in self.steps.get(step, {}).get("choices", []):
            if choice["key"] == key:
                return self.text(choice["label"])
        return key

    def _joined(self, word: str, said: list[str], parts: list[dict[str, Any]]) -> str:
        between = _(" and ") if word == "and" else _(" or ")
        nested = [bool({"and", "or", "not"} & part.keys()) for part in parts]
        return between.join(
            f"({one})" if inner else one for one, inner in zip(said, nested, strict=True)
        )

    # Limits

    def band(self, band: dict[str, Any] | None, quantity: str | None = None) -> str:
        """Limits in one line."""
        if not band:
            return _("no limits")
        if "along" in band:
            return _('along "%(reading)s": %(points)s') % {
                "reading": self.step(band["along"]), "points": self.source(band.get("points")),
            }  # fmt: skip
        shapes = {"low": _("at least %s"), "high": _("at most %s"), "nominal": _("nominally %s")}
        given = [(shape, band[end]) for end, shape in shapes.items() if band.get(end) is not None]
        return ", ".join(shape % self.source(v, quantity) for shape, v in given) or _("no limits")


def _loops(node: Any) -> Iterator[tuple[str, str]]:
    """(name, path of the list) of every loop anywhere in a template."""
    if isinstance(node, dict):
        if isinstance(node.get("as"), str) and isinstance(node.get("over"), str):
            yield node["as"], node["over"]
        for inner in node.values():
            yield from _loops(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from _loops(inner)
