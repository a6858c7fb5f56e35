"""One change between two states of a template, and the sentence that says it."""

from __future__ import annotations

from typing import Literal

import msgspec
from django.utils.translation import gettext as _

LONG = 60  # longer texts are shown beside the sentence, not in it
What = Literal["added", "removed", "changed", "moved"]


class Change(msgspec.Struct, frozen=True):
    """What became of one thing. `text` is a sentence; `before`, `after` are as people say them."""

    what: What
    step: str | None
    field: str
    before: str | None
    after: str | None
    text: str


class Thing(msgspec.Struct, frozen=True):
    """What a change is about: a step, a fact, a row of a table.

    `kind` says what it is, `name` how a sentence calls it, `field` where it is in the template.
    """

    kind: str
    name: str
    field: str = ""
    step: str | None = None

    def inner(self, field: str) -> str:
        """The dotted path of a field of this thing."""
        return f"{self.field}.{field}".lstrip(".")

    def part(self, kind: str, name: str, field: str) -> Thing:
        """A thing inside this one."""
        full = _("%(part)s of %(whole)s") % {"part": name, "whole": self.name}
        return Thing(kind, full if self.name else name, self.inner(field), self.step)

    def change(
        self, what: What, text: str, before: str | None = None, after: str | None = None,
        field: str | None = None,
    ) -> Change:  # fmt: skip
        place = self.field if field is None else self.inner(field)
        return Change(what, self.step, place, before, after, _sentence(text))


def changed(thing: Thing, field: str, label: str, before: str | None, after: str | None) -> Change:
    """The value of one field became another; None: it was or is not given."""
    names = {"label": label, "name": thing.name, "before": before, "after": after}
    if before is None:
        short = _("New for %(name)s: %(label)s – %(after)s.")
        long = _("New for %(name)s: %(label)s.")
    elif after is None:
        short = _("No longer given for %(name)s: %(label)s – %(before)s.")
        long = _("No longer given for %(name)s: %(label)s.")
    else:
        short = _("%(label)s of %(name)s changed from %(before)s to %(after)s.")
        long = _("%(label)s of %(name)s changed.")
    is_short = before != after and not is_long(before) and not is_long(after)
    return thing.change("changed", (short if is_short else long) % names, before, after, field)


def added(thing: Thing, behind: str | None, after: str | None = None) -> Change:
    names = {"kind": thing.kind, "name": thing.name, "behind": behind}
    words = _("%(kind)s %(name)s was added.")
    if behind:
        words = _("%(kind)s %(name)s was added after %(behind)s.")
    return thing.change("added", words % names, None, after)


def removed(thing: Thing, before: str | None = None) -> Change:
    names = {"kind": thing.kind, "name": thing.name}
    return thing.change("removed", _("%(kind)s %(name)s was taken out.") % names, before)


def moved_behind(thing: Thing, behind: str | None) -> Change:
    names = {"kind": thing.kind, "name": thing.name, "behind": behind}
    words = _("%(kind)s %(name)s comes first now.")
    if behind:
        words = _("%(kind)s %(name)s comes after %(behind)s now.")
    return thing.change("moved", words % names)


def is_long(said: str | None) -> bool:
    return said is not None and (len(said) > LONG or "\n" in said)


def _sentence(words: str) -> str:
    """With a capital at its start, and one full stop at its end."""
    return words[:1].upper() + words[1:].replace("..", ".").replace('.".', '."')
