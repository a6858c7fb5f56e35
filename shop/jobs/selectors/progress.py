"""How far worksheets have come: the same rules as on the phone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import TypedDict
from uuid import UUID

import orjson

from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.state import failed_states, standing_of, states


class SheetProgress(TypedDict):
    """`done` of `of` required steps are settled; `next` is the title of the first that is open."""

    id: UUID
    repair: UUID
    title: str
    done: int
    of: int
    failed: int
    next: str | None


def open_sheets_of(repairs: Iterable[UUID]) -> list[SheetProgress]:
    """The open worksheets of these repairs, oldest first: two queries, however many there are."""
    found = Worksheet.objects.filter(repair__in=list(repairs), stage=Worksheet.Stage.OPEN)
    sheets = list(
        found.select_related("revision__template")
        .defer("revision__body", "facts")
        .order_by("opened_at", "id")
    )
    entries: dict[UUID, list[Entry]] = defaultdict(list)
    for entry in Entry.objects.filter(worksheet__in=sheets).order_by("seq"):
        entries[entry.record].append(entry)
    return [_progress(sheet, entries[sheet.id]) for sheet in sheets]


def _progress(sheet: Worksheet, entries: list[Entry]) -> SheetProgress:
    found = list(states(orjson.loads(sheet.pack), standing_of(entries)))
    needed = [state for state in found if state.step["required"]]
    still = (state for state in needed if not state.settled and not state.locked_by)
    following = next(still, None)
    return {
        "id": sheet.id,
        "repair": sheet.repair_id,
        "title": sheet.revision.template.title,
        "done": sum(state.settled for state in needed),
        "of": len(needed),
        "failed": len(failed_states(found)),
        "next": str(following.step["title"]) if following else None,
    }
