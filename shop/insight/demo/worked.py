"""Works a job template on a repair at a time in the past, through the rules of real entries.

Every entry is made, judged and chained as one from a phone would be; only its time is given. What
`answers` does not name is answered as on a sound unit: the choice that passes, a value well inside
the limits, the whole of a wait. `answers` are by the id of a pack's step, or of a grid's cell:

    work_through(
        repair=repair, template="reform-capacitors", by=anna, at=then, meters=meters,
        facts={"idle_years": "12"},
        answers={
            "smell": "none",                    # a choice by its key; a reading as typed
            "note": "C12 bulges.",              # the words of a note, or below a picture
            "res_dead.2": ["62", "3.1"],        # read again after the first did not pass
            "ramp/r3/current": "0.04",          # one cell
            "photo_dent": Left("no dent"),      # skipped or not applicable, with the reason
        },
    )

Steps that are not required are worked where they are named. The pace is 45 s for each entry. Raises
RuntimeError for a step that cannot be settled and for an answer that no step wanted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any, NamedTuple

from shop.benches.models import Bench, Meter
from shop.core.models import Person
from shop.core.selectors import shop_zone
from shop.insight.demo.answering import GRIDS, Told, cells_asked, good_answer, told
from shop.insight.demo.camera import take_photo
from shop.insight.demo.fixed import id_at
from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.ledger import Ledger
from shop.jobs.record.making import make_entry
from shop.jobs.record.state import Step, StepState, states
from shop.jobs.record.wire import EntryIn
from shop.jobs.services import start_worksheet
from shop.jobs.services.recording import move_parts, open_ledger
from shop.repairs.models import Repair

PACE = timedelta(seconds=45)


class Left(NamedTuple):
    """A step that was not worked, and why."""

    reason: str
    how: str = "not_applicable"


Answer = str | Left | Sequence[str]


def work_through(
    *, repair: Repair, template: str, by: Person, at: datetime, meters: Sequence[Meter],
    facts: Mapping[str, Any] | None = None, answers: Mapping[str, Answer] | None = None,
    others: Sequence[Person] = (), bench: Bench | None = None,
) -> Worksheet:  # fmt: skip
    """Leave a worksheet that was begun at `at` and worked to its end; see the module.

    `others` sign where the step asks for another role or person.
    """
    worksheet, _new = start_worksheet(
        id=id_at(at, f"worksheet {repair.number} {template}"),
        repair=repair, template=template, by=by, bench=bench, facts=dict(facts or {}),
    )  # fmt: skip
    with open_ledger(worksheet.id, is_worksheet=True, now=at) as ledger:
        hand = _Hand(ledger, by, others, {one.id: one for one in meters}, dict(answers or {}), at)
        hand.work()
    stage = Worksheet.objects.filter(id=worksheet.id).values_list("stage", flat=True).get()
    closed_at = None if stage == Worksheet.Stage.OPEN else hand.clock
    Worksheet.objects.filter(id=worksheet.id).update(opened_at=at, closed_at=closed_at)
    worksheet.refresh_from_db()
    return worksheet


@dataclass
class _Hand:
    """Who works on which record, how late it is, and what is still to be said."""

    ledger: Ledger
    by: Person
    others: Sequence[Person]
    meters: dict[Any, Meter]
    answers: dict[str, Answer]
    clock: datetime
    done: set[str] = field(default_factory=set)

    def work(self) -> None:
        for step in self._steps():
            for name, answer in self._asked(step):
                self._answer(step, name, answer)
        if self.answers:
            raise RuntimeError(f"no step wanted these answers: {sorted(self.answers)}")

    def _steps(self) -> Iterator[Step]:
        """One after another, those that a choice brings up included."""
        assert self.ledger.pack is not None  # noqa: S101 - this is a worksheet
        while True:
            named = {name.partition("/")[0] for name in self.answers}  # a grid by its cells
            found = states(self.ledger.pack, self.ledger.standing)
            left = next((one.step for one in found if _is_wanted(one, named)), None)
            if left is None:
                return
            if left["id"] in self.done:
                raise RuntimeError(f"the demo cannot settle step {left['id']}")
            self.done.add(left["id"])
            yield left

    def _asked(self, step: Step) -> Iterator[tuple[str, Told]]:
        """(step or cell, what to enter), in order."""
        if step["kind"] in GRIDS and not isinstance(self.answers.get(step["id"]), Left):
            for name, cell in cells_asked(step, self.answers):
                yield from self._each(name, cell)
        else:
            yield from self._each(step["id"], step)

    def _each(self, name: str, asked: Step) -> Iterator[tuple[str, Told]]:
        given = self.answers.pop(name, None)
        if isinstance(given, Left):
            yield name, Told("skip", {"how": given.how, "reason": given.reason})
        elif asked.get("kind") == "photo":
            words = given if isinstance(given, str) else asked["title"]
            yield name, Told("photo", take_photo(words, repair=self.ledger.repair, by=self.by))
        elif given is None:
            yield name, good_answer(asked, self.ledger.standing, self.clock, self._on_wall())
        else:
            for one in [given] if isinstance(given, str) else given:
                yield name, told(asked, one, self._on_wall())

    def _on_wall(self) -> list[Meter]:
        return list(self.meters.values())

    def _answer(self, step: Step, name: str, answer: Told) -> None:
        self.clock += max(PACE, timedelta(seconds=answer.seconds))
        # An id of its own for each try: the first is made at another second than the next.
        id = id_at(self.clock, f"{self.ledger.head.record} {name}")
        if step["kind"] == "sign_off":
            self.ledger.append(self._signature(step, id))
            return
        sent = EntryIn(
            id=id, record=self.ledger.head.record, repair=self.ledger.repair.id,
            worksheet=self.ledger.head.record, step=name,
            kind=answer.kind,  # type: ignore[arg-type]  # one of the literals, by `Told`
            value=answer.value, made_by=self.by.id, made_at=self.clock, **self._in_place_of(name),
        )  # fmt: skip
        entry = make_entry(
            self.ledger, sent, person=self.by, devices=frozenset(), meters=self.meters,
            zone=shop_zone(), now=self.clock,
        )  # fmt: skip
        move_parts(self.ledger, entry)
        self.ledger.append(entry)

    def _in_place_of(self, name: str) -> dict[str, Any]:
        """A cell that is read again corrects what stood there: a grid's worst reading counts."""
        before = self.ledger.standing.get(name)
        if not before or "/" not in name:
            return {}
        return {"replaces": before[-1].id, "reason": "Put right, then read again."}

    def _signature(self, step: Step, id: Any) -> Entry:
        signer = self._signer(step)
        return Entry(
            id=id,
            record=self.ledger.head.record,
            repair_id=self.ledger.repair.id,
            worksheet_id=self.ledger.head.record,
            step=step["id"],
            kind=Entry.Kind.SIGN_OFF,
            value={"role": signer.role, "signed_by": str(signer.id), "note": ""},
            made_by=signer,
            made_at=self.clock,
            received_at=self.clock,
        )

    def _signer(self, step: Step) -> Person:
        """Who may sign by the step: the worker where that is allowed, else the first of others."""
        others = [one for one in self.others if one != self.by]
        may = others if step.get("other_person") else [self.by, *others]
        found = next((one for one in may if one.role in (step["role"], "manager")), None)
        if found is None:
            raise RuntimeError(f"nobody of the demo may sign step {step['id']}")
        return found


def _is_wanted(state: StepState, named: set[str]) -> bool:
    """What must be worked and is not, and what is named."""
    return state.step["id"] in named or bool(state.step["required"] and not state.settled)
