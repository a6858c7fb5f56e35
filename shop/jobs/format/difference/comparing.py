"""Field by field and row by row through two states of a template, past nothing that differs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from difflib import SequenceMatcher
from typing import Any

import orjson
from django.utils.translation import get_language_info
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as n

from shop.jobs.format.difference.fields import (
    FLAGS,
    ON_WHEN_LEFT_OUT,
    TEXTS,
    label,
    languages_changed,
    said,
)
from shop.jobs.format.difference.same import moved, same
from shop.jobs.format.difference.telling import (
    LONG,
    Change,
    Thing,
    added,
    changed,
    moved_behind,
    removed,
)
from shop.jobs.format.said import Saying

Row = dict[str, Any]
# Lists whose rows have no key, and what one row is called.
_ROWS = {
    "cautions": n("caution"), "stop_rules": n("rule for stopping"), "pictures": n("picture"),
    "rows": n("row"), "gates": n("gate"),
}  # fmt: skip
_OBJECTS = frozenset({"pictures", "rows", "gates"})  # the others are texts
Name = Callable[[Saying, Row], str]


class Comparing:
    """Compares two states, each said with its own titles."""

    def __init__(self, old: Saying, new: Saying) -> None:
        self.old, self.new = old, new

    # Objects

    def fields(
        self, thing: Thing, before: Row, after: Row, quantity: str | None = None,
        skip: frozenset[str] = frozenset(),
    ) -> Iterator[Change]:  # fmt: skip
        """Every field of an object that differs. `quantity` is that of the numbers in it."""
        quantity = after.get("quantity", quantity)
        for field in dict.fromkeys([*before, *after]):
            if field not in skip and not _same_in(field, before, after):
                yield from self._field(thing, field, before, after, quantity)

    def _field(
        self, thing: Thing, field: str, before: Row, after: Row, quantity: Any
    ) -> Iterator[Change]:
        old, new = before.get(field), after.get(field)
        if field in before and field in after and (inside := self._inside(field, old, new)):
            yield from inside(thing, field, old, new, quantity)
        elif sentence := _flag(field, before, after):
            yield thing.change("changed", sentence % thing.name, field=field)
        elif field in TEXTS and field in before and field in after:
            yield self._text(thing, field, old, new)
        else:
            spoken = [
                said(saying, field, row[field], quantity) if field in row else None
                for saying, row in ((self.old, before), (self.new, after))
            ]
            yield changed(thing, field, label(field), *spoken)

    def _inside(self, field: str, old: Any, new: Any) -> Any:
        """How to look into a field that has parts of its own on both sides."""
        if field in ("choices", "columns"):
            return self._keyed_field
        if isinstance(old, list) and isinstance(new, list) and field in _ROWS:
            return self._rows
        if isinstance(old, dict) and isinstance(new, dict):
            if field == "variants":
                return self._variants
            is_loop = field == "rows" and "over" in old and "over" in new
            is_fixed = field == "band" and "along" not in old and "along" not in new
            if is_loop or is_fixed or field in ("ramp", "table"):
                return self._object
            if field in ("given", "limits"):
                return self._entries
        return None

    def _object(
        self, thing: Thing, field: str, old: Row, new: Row, quantity: Any
    ) -> Iterator[Change]:
        inner = Thing(thing.kind, thing.name, thing.inner(field), thing.step)
        yield from self.fields(inner, old, new, quantity)

    def _entries(
        self, thing: Thing, field: str, old: Row, new: Row, quantity: Any
    ) -> Iterator[Change]:
        """Entries by name: what a calculator is given, the limits of the columns of a row."""
        for name in dict.fromkeys([*old, *new]):
            if name in old and name in new and same(old[name], new[name]):
                continue
            entry = thing.part(_("entry"), f'"{name.replace("_", " ")}"', f"{field}.{name}")
            if field == "limits" and name in old and name in new:
                yield from self.fields(entry, old[name], new[name], quantity)
                continue
            how = self._limits if field == "limits" else Saying.source
            spoken = [
                how(saying, row[name]) if name in row else None
                for saying, row in ((self.old, old), (self.new, new))
            ]
            yield changed(entry, "", label("value"), *spoken)

    @staticmethod
    def _limits(saying: Saying, limits: Row) -> str:
        return saying.band(limits)

    def _text(self, thing: Thing, field: str, old: Any, new: Any) -> Change:
        before, after = self.old.text(old), self.new.text(new)
        if before != after:
            return changed(thing, field, label(field), f'"{before}"', f'"{after}"')
        words = _("%(label)s of %(name)s changed in %(languages)s.") % {
            "label": label(field), "name": thing.name,
            "languages": ", ".join(map(_language, languages_changed(old, new))) or "English",
        }  # fmt: skip
        return thing.change("changed", words, field=field)

    def _variants(
        self, thing: Thing, field: str, old: Row, new: Row, quantity: Any
    ) -> Iterator[Change]:
        if not same(old["keys"], new["keys"]):
            asked = [
                ", ".join(f'"{saying.step(key)}"' for key in variants["keys"])
                for saying, variants in ((self.old, old), (self.new, new))
            ]
            yield changed(thing, "variants.keys", _("What the variants hang on"), *asked)
        for case in dict.fromkeys([*old["cases"], *new["cases"]]):
            is_new = case in new["cases"]
            name = self._case(self.new if is_new else self.old, new if is_new else old, case)
            inner = thing.part(_("variant"), name, f"variants.cases.{case}")
            if case not in old["cases"]:
                yield added(inner, None)
            elif case not in new["cases"]:
                yield removed(inner)
            else:
                yield from self.fields(inner, old["cases"][case], new["cases"][case], quantity)

    @staticmethod
    def _case(saying: Saying, variants: Row, case: str) -> str:
        chosen = zip(variants["keys"], case.split("|"), strict=False)
        return ", ".join(f'"{saying.choice(step, key)}"' for step, key in chosen)

    # Lists

    def _keyed_field(
        self, thing: Thing, field: str, old: list[Row], new: list[Row], quantity: Any
    ) -> Iterator[Change]:
        kind = _("choice") if field == "choices" else _("column")
        title = "label" if field == "choices" else "title"

        def name(saying: Saying, row: Row) -> str:
            return f'"{saying.text(row[title])}"'

        yield from self.keyed(thing, kind, field, "key", old, new, name)

    def keyed(
        self, thing: Thing, kind: str, field: str, key: str, old: list[Row], new: list[Row],
        name: Name,
    ) -> Iterator[Change]:  # fmt: skip
        """Rows that are known by a key: taken out, added, moved, changed."""
        was, now = {row[key]: row for row in old}, {row[key]: row for row in new}

        def part(saying: Saying, row: Row) -> Thing:
            whole = thing.part(kind, name(saying, row), f"{field}.{row[key]}")
            return Thing(kind, whole.name, whole.field, row[key]) if field == "steps" else whole

        yield from (removed(part(self.old, row)) for id, row in was.items() if id not in now)
        elsewhere, behind = moved(list(was), list(now)), None
        for id, row in now.items():
            if id not in was:
                yield added(part(self.new, row), behind)
            else:
                if id in elsewhere:
                    yield moved_behind(part(self.new, row), behind)
                yield from self.fields(part(self.new, row), was[id], row)
            behind = name(self.new, row)

    def _rows(
        self, thing: Thing, field: str, old: list[Any], new: list[Any], quantity: Any
    ) -> Iterator[Change]:
        yield from self.rows(thing, field, old, new)

    def rows(self, thing: Thing, field: str, old: list[Any], new: list[Any]) -> Iterator[Change]:
        """Rows that have no key: those at the same place of a changed stretch belong together."""
        matcher = SequenceMatcher(None, _marks(old), _marks(new), autojunk=False)
        for what, i, i_end, j, j_end in matcher.get_opcodes():
            pairs = what == "replace" and i_end - i == j_end - j
            if pairs:
                for place, (before, after) in enumerate(
                    zip(old[i:i_end], new[j:j_end], strict=True)
                ):
                    yield from self._pair(thing, f"{field}[{j + place}]", field, before, after)
            elif what != "equal":
                for place in range(i, i_end):
                    yield removed(self._row(self.old, thing, field, place, old[place]))
                for place in range(j, j_end):
                    yield added(self._row(self.new, thing, field, place, new[place]), None)

    def _pair(
        self, thing: Thing, place: str, field: str, before: Any, after: Any
    ) -> Iterator[Change]:
        if isinstance(before, dict) and isinstance(after, dict) and field in _OBJECTS:
            name = _short(_name(self.new, field, after))
            yield from self.fields(thing.part(_(_ROWS[field]), name, place), before, after)
        elif not same(before, after):
            spoken = [
                f'"{_name(saying, field, row)}"'
                for saying, row in ((self.old, before), (self.new, after))
            ]
            whole = thing.name or _("the job template")
            inner = Thing(thing.kind, whole, thing.inner(place), thing.step)
            yield changed(inner, "", _(_ROWS[field]), *spoken)

    @staticmethod
    def _row(saying: Saying, thing: Thing, field: str, place: int, row: Any) -> Thing:
        name = _short(_name(saying, field, row))
        return thing.part(_(_ROWS[field]), name, f"{field}[{place}]")


def _name(saying: Saying, field: str, row: Any) -> str:
    """What a row without a key is called: a short text of its own."""
    if not isinstance(row, dict):
        return saying.text(row)
    named = row.get({"gates": "reason", "pictures": "caption"}.get(field, "title"))
    return saying.text(named) if named else str(row.get("sha256", ""))[:8]


def _short(name: str) -> str:
    """A name in quotes, cut where it would fill the sentence."""
    return f'"{name}"' if len(name) <= LONG else f'"{name[: LONG - 1].rstrip()}…"'


def _marks(rows: list[Any]) -> list[bytes]:
    return [orjson.dumps(row, option=orjson.OPT_SORT_KEYS) for row in rows]


def _same_in(field: str, before: Row, after: Row) -> bool:
    if field in before and field in after:
        return same(before[field], after[field])
    return False


def _flag(field: str, before: Row, after: Row) -> str | None:
    """The sentence for a yes or no that turned, also where one of the two is left out."""
    if field not in FLAGS:
        return None
    usual = field in ON_WHEN_LEFT_OUT
    was, now = before.get(field, usual), after.get(field, usual)
    return None if was is now else _(FLAGS[field][0 if now else 1])


def _language(code: str) -> str:
    try:
        return str(get_language_info(code)["name_translated"])
    except KeyError:
        return code
