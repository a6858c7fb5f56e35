"""Checks of procedures: they are there, come to an end, fit together and stay countable."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from shop.jobs.format.bench_conditions import steps_in
from shop.jobs.format.checking.step import TAKEN_IDS
from shop.jobs.format.problems import Findings, Path
from shop.jobs.format.revisions import FindProcedure, Procedure, procedure_steps, remembered

Body = dict[str, Any]
DEEPEST = 3
MOST_STEPS = 400
LONGEST_ID = 60  # of a step in the pack, before the number of its turn and the name of a cell
SAME = ("title", "quantity", "choices", "names")  # what makes it the same question


def check_procedures(body: Body, found: Findings, find: FindProcedure) -> None:
    """Check each procedure of a template whose own shape is right."""
    find = remembered(find)
    asked = {fact["key"]: fact for fact in body.get("facts", [])}
    taken = {*TAKEN_IDS, *(step["id"] for step in _steps(body))}
    named = {work["name"] for work in body.get("work", [])}
    for index, step in enumerate(body["steps"]):
        if step.get("kind") == "procedure":
            _Procedure(body, step, ("steps", index), found, find).run(asked, taken, named)
    if _count(body, find) > MOST_STEPS:
        reason = _("With its procedures it has more than %d steps.")
        found.add(("steps",), reason % MOST_STEPS)


class _Procedure:
    """The checks of one step that works another template."""

    def __init__(
        self, body: Body, step: Body, path: Path, found: Findings, find: FindProcedure
    ) -> None:
        self.body, self.step, self.path, self.found, self.find = body, step, path, found, find

    def add(self, reason: object, name: str = "procedure") -> None:
        self.found.add((*self.path, name), reason, self.step["id"])

    def run(self, asked: dict[str, Body], taken: set[str], named: set[str]) -> None:
        """What was asked so far, ids and names of work that are taken: this one adds its own."""
        inner = self.find(self.step["procedure"])
        if inner is None:
            missing = _("There is no published job template %s to be worked here.")
            self.add(missing % self.step["procedure"]["template"])
            return
        if not self._comes_to_an_end(inner, (self.body["slug"],)):
            return
        self._role(inner)
        self._safety(inner)
        self._ids(inner, taken)
        self._work(inner, named)
        for fact in _facts(inner.body, self.find):
            self._question(asked.setdefault(fact["key"], fact), fact)

    def _comes_to_an_end(self, inner: Procedure, chain: tuple[str, ...]) -> bool:
        if inner.slug in chain:
            self.add(_("%s works itself: this never ends.") % " > ".join((*chain, inner.slug)))
            return False
        if len(chain) > DEEPEST:
            self.add(_("Procedures are nested more than %d deep.") % DEEPEST)
            return False
        deeper = [self.find(step["procedure"]) for step in procedure_steps(inner.body)]
        return all(self._comes_to_an_end(one, (*chain, inner.slug)) for one in deeper if one)

    def _role(self, inner: Procedure) -> None:
        if inner.body["role"] == "manager" and self.body["role"] != "manager":
            self.add(_("%s is worked by the manager, so this must be too.") % inner.slug)

    def _safety(self, inner: Procedure) -> None:
        """What a skippable choice can hide must not be safety."""
        looks = {step["id"]: step for step in _steps(self.body)}
        if not any(step.get("safety") for step in _steps_in_all(inner.body, self.find)):
            return
        for name, _keys in steps_in(self.step.get("when")):
            if name in looks and not looks[name].get("safety"):
                reason = _("A safety step may hang only on safety steps; %r can be skipped.")
                self.add(reason % name, "when")

    def _ids(self, inner: Procedure, taken: set[str]) -> None:
        """Ids in the pack are prefixed with the step's; none may stand twice or grow too long."""
        for inner_id in _ids_in(inner.body, self.find):
            whole = f"{self.step['id']}-{inner_id}"
            if whole in taken:
                self.add(_("The id %r stands twice.") % whole, "id")
            if len(whole) > LONGEST_ID:
                reason = _("With its procedure this makes an id of more than %d characters: %s")
                self.add(reason % (LONGEST_ID, whole), "id")
            taken.add(whole)

    def _work(self, inner: Procedure, named: set[str]) -> None:
        """An answer of one procedure must not be shown as that of another."""
        for name in _work_in(inner.body, self.find):
            whole = f"{self.step['id']}_{name}"
            if whole in named:
                self.add(_("%r stands twice.") % whole, "id")
            named.add(whole)

    def _question(self, first: Body, other: Body) -> None:
        if any(first.get(name) != other.get(name) for name in SAME):
            self.add(_("%r is asked here too, and is another question.") % other["key"])


def _steps(body: Body) -> Iterator[Body]:
    """Every step, also of blocks."""
    for entry in body["steps"]:
        yield from entry.get("steps", [entry])


def _inner(body: Body, find: FindProcedure) -> Iterator[tuple[Body, Procedure]]:
    """Each procedure step with the revision it works."""
    for step in procedure_steps(body):
        if (inner := find(step["procedure"])) is not None:
            yield step, inner


def _steps_in_all(body: Body, find: FindProcedure) -> Iterator[Body]:
    yield from _steps(body)
    for _step, inner in _inner(body, find):
        yield from _steps_in_all(inner.body, find)


def _ids_in(body: Body, find: FindProcedure) -> Iterator[str]:
    """Ids as they stand in a pack, without the number of a turn."""
    yield from (step["id"] for step in _steps(body) if step["kind"] != "procedure")
    for step, inner in _inner(body, find):
        yield from (f"{step['id']}-{inner_id}" for inner_id in _ids_in(inner.body, find))


def _work_in(body: Body, find: FindProcedure) -> Iterator[str]:
    """Names of work as they stand in a pack, without the number of a turn."""
    yield from (work["name"] for work in body.get("work", []))
    for step, inner in _inner(body, find):
        yield from (f"{step['id']}_{name}" for name in _work_in(inner.body, find))


def _facts(body: Body, find: FindProcedure) -> Iterator[Body]:
    yield from body.get("facts", [])
    for _step, inner in _inner(body, find):
        yield from _facts(inner.body, find)


def _count(body: Body, find: FindProcedure, depth: int = 0) -> int:
    own = sum(1 for step in _steps(body) if step["kind"] != "procedure")
    if depth > DEEPEST:
        return own
    return own + sum(_count(inner.body, find, depth + 1) for _step, inner in _inner(body, find))
