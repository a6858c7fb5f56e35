"""Worksheets that have come to a hold point nobody has signed."""

from __future__ import annotations

from collections import defaultdict
from typing import Any, NamedTuple
from uuid import UUID

from shop.core.models import Person, Role
from shop.jobs.models import Entry, Revision, Worksheet
from shop.repairs.stages import CLOSED

Done = dict[UUID, set[str]]


class HeldSheet(NamedTuple):
    """An open worksheet whose work has reached a hold point that nobody has signed."""

    worksheet: UUID
    repair: UUID
    title: str
    step: dict[str, Any]


def missing_sign_offs() -> dict[UUID, str]:
    """By repair: the title of a worksheet that waits for a signature."""
    return {held.repair: held.title for held in held_sheets()}


def held_sheets() -> list[HeldSheet]:
    """Every open worksheet that waits for a signature, with its first such hold point.

    Reached means: the step before it, or one after it, has an entry.
    """
    sheets = (
        Worksheet.objects.filter(stage=Worksheet.Stage.OPEN)
        .exclude(repair__stage__in=CLOSED)
        .order_by("opened_at", "id")
    )
    rows = list(sheets.values_list("id", "repair_id", "revision_id", "revision__template__title"))
    steps = _steps_of({revision_id for _id, _repair, revision_id, _title in rows})
    done = _answered_steps() if any(_hold_points(found) for found in steps.values()) else {}
    return [
        HeldSheet(id, repair_id, title, step)
        for id, repair_id, revision_id, title in rows
        if (step := _held_at(steps[revision_id], done.get(id, set())))
    ]


def sign_offs_for(person: Person, held: list[HeldSheet]) -> list[HeldSheet]:
    """Those that need this person: their role, or somebody other than who did the work.

    Where whoever works the sheet may sign it, nobody else is waited for.
    """
    mine = [one for one in held if _needs(one.step, person)]
    ids = [one.worksheet for one in mine if one.step.get("other_person")]
    own = Entry.objects.filter(worksheet__in=ids, made_by=person).exclude(kind=Entry.Kind.SIGN_OFF)
    worked = set(own.order_by().values_list("worksheet_id", flat=True)) if ids else set()
    return [one for one in mine if one.worksheet not in worked]


def _needs(step: dict[str, Any], person: Person) -> bool:
    if person.role == Role.MANAGER:
        return step.get("role") == Role.MANAGER or bool(step.get("other_person"))
    return bool(step.get("other_person")) and step.get("role") == person.role


def _steps_of(revisions: set[UUID]) -> dict[UUID, list[dict[str, Any]]]:
    rows = Revision.objects.filter(id__in=revisions).values_list("id", "body__steps")
    return {id: steps or [] for id, steps in rows}


def _answered_steps() -> Done:
    """Steps with an entry, by open worksheet. A repeated step counts by its first name."""
    entries = Entry.objects.filter(worksheet__stage=Worksheet.Stage.OPEN).exclude(step="")
    done: Done = defaultdict(set)
    for worksheet_id, step in entries.order_by().values_list("worksheet_id", "step").distinct():
        if worksheet_id:
            done[worksheet_id].add(step)
            done[worksheet_id].add(step.split("/")[0])
    return done


def _hold_points(steps: list[dict[str, Any]]) -> list[int]:
    return [place for place, step in enumerate(steps) if step.get("kind") == "sign_off"]


def _held_at(steps: list[dict[str, Any]], done: set[str]) -> dict[str, Any] | None:
    for place in _hold_points(steps):
        reached = [step["id"] for step in steps[max(place - 1, 0) :] if step is not steps[place]]
        if steps[place]["id"] not in done and done.intersection(reached):
            return steps[place]
    return None
