"""What differs between two sound states of a template, as sentences."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from shop.jobs.format.difference.comparing import Comparing, Name, Row
from shop.jobs.format.difference.telling import Change, Thing
from shop.jobs.format.said import Saying

__all__ = ["Change", "differences"]

_LISTS = frozenset({"cautions", "gates", "facts", "parts", "work", "steps"})


def differences(
    before: dict[str, Any], after: dict[str, Any], language: str = "en"
) -> list[Change]:
    """Every change from one sound body to another, in the order of the template.

    Empty exactly when both say the same as JSON. Sentences are in the active language, texts of the
    template in `language`.
    """
    comparing = Comparing(Saying(before, language), Saying(after, language))
    return list(_changes(comparing, before, after))


def _changes(comparing: Comparing, before: Row, after: Row) -> Iterator[Change]:
    whole = Thing("", _("the job template"))
    yield from comparing.fields(whole, before, after, skip=_LISTS)
    inside = Thing("", "")
    for field in ("cautions", "gates"):
        yield from comparing.rows(inside, field, before.get(field, []), after.get(field, []))
        yield from _given_at_all(whole, field, before, after)
    for field, kind, key, name in _keyed_lists():
        old, new = before.get(field, []), after.get(field, [])
        yield from comparing.keyed(inside, kind, field, key, old, new, name)
        yield from _given_at_all(whole, field, before, after)
    old_steps, new_steps = list(_flat(before)), list(_flat(after))
    yield from comparing.keyed(inside, _("step"), "steps", "id", old_steps, new_steps, _step)


def _given_at_all(whole: Thing, field: str, before: Row, after: Row) -> Iterator[Change]:
    """An empty list is not the same file as no list."""
    if (field in before) != (field in after) and not before.get(field) and not after.get(field):
        words = _("An empty list of %s was written down or left out.") % field
        yield whole.change("changed", words, field=field)


def _keyed_lists() -> tuple[tuple[str, str, str, Name], ...]:
    def title(saying: Saying, row: Row) -> str:
        return f'"{saying.text(row["title"])}"'

    def name(saying: Saying, row: Row) -> str:
        return f'"{saying.text(row["name"])}"'

    return (
        ("facts", _("question"), "key", title),
        ("parts", _("part"), "key", name),
        ("work", _("calculation"), "name", title),
    )


def _step(saying: Saying, row: Row) -> str:
    return f'"{saying.step(row["id"])}"'


def _flat(body: Row) -> Iterator[Row]:
    """The steps one after another. Those of a block say so, the first of them how it repeats."""
    for entry in body["steps"]:
        if "steps" not in entry:
            yield entry
            continue
        for place, step in enumerate(entry["steps"]):
            shared = {"repeat": entry["repeat"]} if place == 0 else {}
            if place == 0 and "when_fact" in entry:
                shared["block_when_fact"] = entry["when_fact"]
            yield {**step, **shared, "in_block": True}
