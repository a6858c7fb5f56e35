"""What it will cost, and the customer's answer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.billing.errors import EstimateNotDraft, EstimateNotOpen, StageHasNoEstimate
from shop.billing.models import Estimate
from shop.billing.selectors import as_lines, is_within_limit, totals_of
from shop.core import outbox
from shop.core.errors import BadField
from shop.core.idempotency import require_same
from shop.core.models import Person
from shop.repairs.models import Repair, Stage
from shop.repairs.services import change_stage

State = Estimate.State
MAX_LINES = 40
# Where a repair may be when the question of cost comes up.
ASKED_FROM = {Stage.LOOKING_OVER, Stage.ON_THE_BENCH, Stage.ON_TEST, Stage.AWAITING_GO_AHEAD}


@transaction.atomic
def make_estimate(
    *, id: UUID, repair: Repair, lines: Sequence[dict[str, Any]], note: str = "", by: Person
) -> Estimate:
    """Draft an estimate; an open one of the same repair is replaced. A repeat returns the first.

    Raises BadField for a line that cannot be, Conflict if the id has other content.
    """
    kept = _checked(lines)
    if known := Estimate.objects.filter(id=id).first():
        return require_same(known, repair_id=repair.id, lines=kept, note=note)

    repair.estimates.filter(state__in=[State.DRAFT, State.SENT]).update(state=State.REPLACED)
    totals = totals_of(as_lines(kept))
    return Estimate.objects.create(
        id=id,
        repair=repair,
        lines=kept,
        note=note,
        net_minor=totals.net_minor,
        tax_minor=totals.tax_minor,
        total_minor=totals.total_minor,
        made_by=by,
        made_at=timezone.now(),
    )


def _checked(lines: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    if not 0 < len(lines) <= MAX_LINES:
        raise BadField("lines", _("An estimate has between 1 and 40 lines."), "number_of_lines")
    for index, row in enumerate(lines):
        if not str(row["text"]).strip():
            raise BadField(f"lines[{index}].text", _("Say what this line is for."), "blank")
        if row["quantity"] < 1 or row["price_minor"] < 0:
            raise BadField(
                f"lines[{index}]",
                _("A quantity is at least 1 and a price not below 0."),
                "bad_line",
            )
    return [
        {
            "text": str(row["text"]).strip(),
            "quantity": row["quantity"],
            "price_minor": row["price_minor"],
        }
        for row in lines
    ]


@transaction.atomic
def send_estimate(*, estimate: Estimate, by: Person) -> Estimate:
    """Ask the customer. Within their spending limit nobody is asked: it counts as agreed.

    A repeat finds it sent and changes nothing. Raises EstimateNotDraft, StageHasNoEstimate.
    """
    repair, now = estimate.repair, timezone.now()
    repair.refresh_from_db()
    if repair.stage not in ASKED_FROM:
        raise StageHasNoEstimate()
    if not _take_from_draft(estimate, now):
        estimate.refresh_from_db()
        if estimate.state in {State.DRAFT, State.REPLACED}:
            raise EstimateNotDraft()
        return estimate
    outbox.record(
        "documents.issue_estimate",
        key=f"estimate-paper:{estimate.id}",
        estimate_id=str(estimate.id),
    )
    if is_within_limit(repair, estimate.total_minor):
        return _settled(estimate, True, _("within what may be spent without asking"), "", None)
    if repair.stage != Stage.AWAITING_GO_AHEAD:
        change_stage(repair=repair, to=Stage.AWAITING_GO_AHEAD, by=by)
    outbox.record(
        "notices.tell_customer",
        key=f"notice:estimate:{estimate.id}",
        kind="estimate",
        repair_id=str(repair.id),
        cause_id=str(estimate.id),
    )
    return estimate


def _take_from_draft(estimate: Estimate, now: Any) -> bool:
    draft = Estimate.objects.filter(id=estimate.id, state=State.DRAFT)
    taken = bool(draft.update(state=State.SENT, sent_at=now))
    estimate.refresh_from_db()
    return taken


@transaction.atomic
def answer_estimate(
    *, estimate: Estimate, agreed: bool, how: str, words: str = "", by: Person | None = None
) -> Estimate:
    """Write down the customer's answer and move the repair on. `by` None: on the status page.

    The same answer again changes nothing. Raises EstimateNotOpen if it waits for no answer.
    """
    estimate.refresh_from_db()
    if estimate.state == (State.AGREED if agreed else State.DECLINED):
        return estimate
    return _settled(estimate, agreed, how, words, by)


def _settled(estimate: Estimate, agreed: bool, how: str, words: str, by: Person | None) -> Estimate:
    # One UPDATE checks and answers, so the desk and the customer cannot both be first.
    waiting = Estimate.objects.filter(id=estimate.id, state=State.SENT)
    answered = waiting.update(
        state=State.AGREED if agreed else State.DECLINED,
        answered_at=timezone.now(),
        answered_how=how[:40],
        answer_words=words[:300],
        answer_taken_by=by,
    )
    if not answered:
        raise EstimateNotOpen()
    estimate.refresh_from_db()
    repair = estimate.repair
    repair.refresh_from_db()
    if repair.stage == Stage.AWAITING_GO_AHEAD:
        to = Stage.ON_THE_BENCH if agreed else Stage.DECLINED
        change_stage(repair=repair, to=to, by=by, reason=_reason(agreed, how, words))
    return estimate


def _reason(agreed: bool, how: str, words: str) -> str:
    said = _("The customer agreed, %s.") if agreed else _("The customer declined, %s.")
    return f"{said % how} {words}".strip()
