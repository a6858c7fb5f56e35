"""Estimates, answers and payments of the invented repairs."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from shop.billing.models import Estimate, Payment
from shop.billing.selectors import account, as_lines, totals_of
from shop.core.models import Person
from shop.insight.demo.fixed import id_at, pick
from shop.repairs.models import Repair, Stage, StageEvent

State = Estimate.State


def write_estimate(repair: Repair, *, by: Person) -> None:
    """What was asked and answered, as far as the repair has come. One has not been asked yet."""
    asked = StageEvent.objects.filter(repair=repair, to_stage=Stage.AWAITING_GO_AHEAD).first()
    if asked is None or (repair.number % 11 == 0 and repair.stage == Stage.AWAITING_GO_AHEAD):
        return
    answer = StageEvent.objects.filter(repair=repair, from_stage=Stage.AWAITING_GO_AHEAD).first()
    lines = _lines(repair)
    totals = totals_of(as_lines(lines))
    Estimate.objects.create(
        id=id_at(asked.at, f"estimate {repair.number}"), repair=repair, lines=lines,
        net_minor=totals.net_minor, tax_minor=totals.tax_minor, total_minor=totals.total_minor,
        made_by=by, made_at=asked.at, sent_at=asked.at + timedelta(minutes=10),
        **_answer(answer, by),
    )  # fmt: skip


def _lines(repair: Repair) -> list[dict[str, Any]]:
    """What a repair costs in the demo.

    Conversion and cell swap with the parts at hand take 15 to 20 minutes of bench time: common
    practice, no source. Longer times are fault-finding.
    """
    minutes = (20, 20, 45, 90)[pick(f"minutes {repair.number}", 4)]
    return [
        {"text": f"Labour, {minutes} min", "quantity": 1, "price_minor": 120 * minutes},
        {"text": "Electrical safety check", "quantity": 1, "price_minor": 1900},
        {"text": "Parts", "quantity": 1, "price_minor": 450 + 90 * (repair.number % 13)},
    ]


def _answer(event: StageEvent | None, by: Person) -> dict[str, Any]:
    if event is None:
        return {"state": State.SENT}
    agreed = event.to_stage == Stage.ON_THE_BENCH
    return {
        "state": State.AGREED if agreed else State.DECLINED,
        "answered_at": event.at,
        "answered_how": "by phone",
        "answer_words": "Go ahead." if agreed else "No, that is too dear.",
        "answer_taken_by": by,
    }


def take_payment(repair: Repair, *, by: Person, at: datetime) -> None:
    """Whoever fetched a unit has paid what was due."""
    due = account(repair)["due_minor"]
    if due > 0:
        Payment.objects.create(
            id=id_at(at, f"payment {repair.number}"),
            repair=repair,
            amount_minor=due,
            how="card" if repair.number % 2 else "cash",
            taken_by=by,
            taken_at=at,
        )
