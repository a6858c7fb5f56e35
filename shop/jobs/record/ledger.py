"""One record while entries are added to it: what stands, what comes next in the chain."""

from __future__ import annotations

from typing import Any
from uuid import UUID

import orjson

from shop.jobs.models import Entry, RecordHead, Worksheet
from shop.jobs.record.chain import hash_of
from shop.jobs.record.state import Standing, stage_of, standing_of
from shop.repairs.models import Repair


class Ledger:
    """A worksheet or the bench log of a repair, with its head locked by the caller."""

    def __init__(
        self,
        *,
        head: RecordHead,
        repair: Repair,
        worksheet: Worksheet | None,
        entries: list[Entry],
    ) -> None:
        self.head, self.repair, self.worksheet = head, repair, worksheet
        self.pack: dict[str, Any] | None = orjson.loads(worksheet.pack) if worksheet else None
        self.by_id: dict[UUID, Entry] = {entry.id: entry for entry in entries}
        self.replaced: set[UUID] = {e.replaces_id for e in entries if e.replaces_id}
        self.standing: Standing = standing_of(entries)
        self.added: list[Entry] = []

    def append(self, entry: Entry) -> None:
        """Give an entry its place in the chain."""
        self.head.last_seq += 1
        entry.seq = self.head.last_seq
        entry.hash = hash_of(entry, self.head.last_hash)
        self.head.last_hash = entry.hash
        self.by_id[entry.id] = entry
        self.added.append(entry)
        self._stand(entry)

    def _stand(self, entry: Entry) -> None:
        if entry.replaces_id:
            self.replaced.add(entry.replaces_id)
            before = self.by_id[entry.replaces_id]
            if before.step in self.standing:
                self.standing[before.step].remove(before)
        if entry.step:
            self.standing.setdefault(entry.step, []).append(entry)

    def stage(self) -> str | None:
        """The stage of the worksheet by what stands now; None for a bench log or a stopped one."""
        if self.pack is None or self.worksheet is None:
            return None
        if self.worksheet.stage == Worksheet.Stage.STOPPED:
            return None
        return stage_of(self.pack, self.standing)
