"""What waits for somebody this morning: repairs handed over, notes that name a colleague."""

from __future__ import annotations

from datetime import datetime, timedelta

from shop.core.models import Person
from shop.core.selectors import shop_zone
from shop.insight.demo.fixed import ago, id_at
from shop.insight.demo.plan import Plan
from shop.jobs.record.making import make_entry
from shop.jobs.record.wire import EntryIn
from shop.jobs.services.recording import open_ledger
from shop.repairs.models import Hands, Repair, StageEvent


def leave_waiting(repair: Repair, plan: Plan, crew: dict[str, Person], now: datetime) -> None:
    """What the plan says of this morning, made an hour after the shop was opened."""
    at = max(ago(now, 0, hour=9), repair.stage_since + timedelta(minutes=1))
    by = crew[plan.tech]
    if plan.noted:
        name, words = plan.noted
        _note(repair, by, crew[name], words, at)
    if plan.handed:
        name, words = plan.handed
        _hand_over(repair, by, crew[name], words, at)


def _note(repair: Repair, by: Person, to: Person, words: str, at: datetime) -> None:
    with open_ledger(repair.id, is_worksheet=False, now=at) as ledger:
        sent = EntryIn(
            id=id_at(at, f"note {repair.number}"), record=repair.id, repair=repair.id, kind="note",
            value={"text": f"@{to} {words}", "mentions": [str(to.id)]}, made_by=by.id, made_at=at,
        )  # fmt: skip
        entry = make_entry(
            ledger, sent, person=by, devices=frozenset(), meters={}, zone=shop_zone(), now=at
        )
        ledger.append(entry)


def _hand_over(repair: Repair, by: Person, to: Person, words: str, at: datetime) -> None:
    Repair.objects.filter(id=repair.id).update(assigned_to=to, version=repair.version + 1)
    StageEvent.objects.create(
        id=id_at(at, f"handed over {repair.number}"), repair=repair, from_stage=repair.stage,
        to_stage=repair.stage, at=at, by=by, reason=words, hands=Hands.HANDED, handed_to=to,
    )  # fmt: skip
