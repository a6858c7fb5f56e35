"""What waits for one person: handed over, noted for them, to be signed, or come back to them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Final, NotRequired, TypedDict
from uuid import UUID

from django.db.models import F, Max
from django.utils.translation import get_language

from shop.core.models import Person
from shop.insight.selectors.arrivals import repairs_with_parts_here
from shop.insight.selectors.sign_offs import held_sheets, sign_offs_for
from shop.jobs.format.texts import in_language
from shop.jobs.models import Entry
from shop.jobs.selectors import mentions_waiting_for
from shop.repairs.models import Repair, Stage, StageEvent
from shop.repairs.stages import UNREPAIRED

# From where a repair comes back to its tech, and what that is called.
BACK: Final[dict[str, str]] = {
    Stage.ON_TEST: "test_failed",
    Stage.AWAITING_GO_AHEAD: "go_ahead",
    Stage.AWAITING_PARTS: "parts",
    Stage.AWAITING_OTHER: "answer",
}
Back = dict[UUID, StageEvent]


class WaitingRepair(TypedDict):
    id: UUID
    number: str
    unit: str
    code: str


class Waiting(TypedDict):
    """One thing that waits. `kind` says what for; `text` is what somebody wrote about it."""

    kind: str
    repair: WaitingRepair
    at: datetime | None
    by_name: str
    text: str
    mention: NotRequired[UUID]
    worksheet: NotRequired[UUID]
    step: NotRequired[str]


def waiting_rows(person: Person, mine: list[Repair], handed: list[StageEvent]) -> list[Waiting]:
    """All that waits for this person; `mine` they have taken, `handed` brought them the others."""
    return [
        *_handed(handed),
        *_noted(person),
        *_to_sign(person),
        *_come_back(person, mine),
        *_parts_here(mine),
        *_to_close_up(mine),
    ]


def _handed(events: list[StageEvent]) -> Iterator[Waiting]:
    repairs = Repair.objects.select_related("unit").in_bulk([e.repair_id for e in events])
    for event in sorted(events, key=lambda event: event.at):
        yield _row("handed", repairs[event.repair_id], event)


def _noted(person: Person) -> Iterator[Waiting]:
    for mention in mentions_waiting_for(person):
        entry = mention.entry
        yield {
            "kind": "note",
            "repair": _repair(entry.repair),
            "at": entry.made_at,
            "by_name": str(entry.made_by),
            "text": str(entry.value.get("text", "")),
            "mention": mention.id,
        }


def _to_sign(person: Person) -> Iterator[Waiting]:
    held = sign_offs_for(person, held_sheets())
    repairs = Repair.objects.select_related("unit").in_bulk([one.repair for one in held])
    for one in held:
        yield {
            **_row("sign_off", repairs[one.repair]),
            "text": f"{one.title}: {in_language(one.step['title'], get_language() or 'en')}",
            "worksheet": one.worksheet,
            "step": str(one.step["id"]),
        }


def _come_back(person: Person, mine: list[Repair]) -> Iterator[Waiting]:
    """Back on the bench by somebody else's doing, and this person has not gone on with it yet."""
    here = [repair for repair in mine if repair.stage == Stage.ON_THE_BENCH]
    events, seen = _last_changes(here), _last_entries(person, here)
    for repair in here:
        event = events.get(repair.id)
        if event is None or event.from_stage not in BACK or event.by_id == person.id:
            continue
        if repair.id not in seen or seen[repair.id] < event.at:
            yield _row(BACK[event.from_stage], repair, event)


def _last_changes(repairs: list[Repair]) -> Back:
    """The event that brought each repair into the stage it is in."""
    events = StageEvent.objects.filter(repair__in=repairs).exclude(from_stage=F("to_stage"))
    found = events.select_related("by").order_by("at", "id")
    return {event.repair_id: event for event in found}


def _last_entries(person: Person, repairs: list[Repair]) -> dict[UUID, datetime]:
    own = Entry.objects.filter(repair__in=repairs, made_by=person).order_by()
    return dict(own.values_list("repair_id").annotate(last=Max("received_at")))


def _parts_here(mine: list[Repair]) -> Iterator[Waiting]:
    waiting = [repair for repair in mine if repair.stage == Stage.AWAITING_PARTS]
    here = repairs_with_parts_here(waiting)
    for repair in waiting:
        if repair.id in here:
            yield _row("parts_here", repair)


def _to_close_up(mine: list[Repair]) -> Iterator[Waiting]:
    """A unit that leaves unrepaired is closed up and labelled at the bench."""
    for repair in mine:
        if repair.stage in UNREPAIRED and repair.closed_up_at is None:
            yield _row("close_up", repair)


def _row(kind: str, repair: Repair, event: StageEvent | None = None) -> Waiting:
    return {
        "kind": kind,
        "repair": _repair(repair),
        "at": event.at if event else None,
        "by_name": str(event.by) if event and event.by else "",
        "text": event.reason if event else "",
    }


def _repair(repair: Repair) -> WaitingRepair:
    unit = repair.unit
    return {
        "id": repair.id,
        "number": str(repair.number),
        "unit": f"{unit.make} {unit.model}",
        "code": unit.code,
    }
