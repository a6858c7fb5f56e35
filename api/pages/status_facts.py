"""What a status page shows: one repair, as far as its customer needs it and no further."""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

from django.core import signing
from django.utils import timezone

from api.pages.status_words import STAGE_SENTENCES
from shop.billing.amounts import money_text
from shop.billing.models import Estimate
from shop.billing.selectors import account, as_lines, current_estimate, leaves_unrepaired
from shop.core.models import Shop
from shop.core.selectors import the_shop
from shop.documents.models import Document
from shop.documents.selectors import latest_issued
from shop.notices.wording import first_name
from shop.repairs.models import Repair, Stage

SALT = "status-page-answer"
TO_FETCH = {Stage.READY, Stage.UNCLAIMED, Stage.DECLINED, Stage.BEYOND_REPAIR}
WITH_REPORT = {Stage.READY, Stage.UNCLAIMED, Stage.HANDED_BACK}


def status_facts(repair: Repair) -> dict[str, Any]:
    """The context of the page."""
    shop = the_shop()
    says, then = STAGE_SENTENCES[Stage(repair.stage)]
    zone = ZoneInfo(shop.time_zone)
    return {
        "shop": shop,
        "first_name": first_name(repair.customer.name),
        "unit": f"{repair.unit.make} {repair.unit.model}",
        "number": repair.number,
        "says": says,
        "then": then,
        "since": timezone.localtime(repair.stage_since, zone).date(),
        "brought_on": timezone.localtime(repair.booked_in_at, zone).date(),
        "due_on": repair.due_on if repair.stage not in {*TO_FETCH, "handed_back"} else None,
        "estimate": _estimate(repair, shop),
        "fetch": _fetch(repair, shop) if repair.stage in TO_FETCH else None,
        "has_report": report_of(repair) is not None,
    }


def report_of(repair: Repair) -> Document | None:
    """The test report, once the repair has become ready."""
    if repair.stage not in WITH_REPORT or leaves_unrepaired(repair):
        return None
    return latest_issued(repair, Document.Kind.TEST_REPORT)


def _estimate(repair: Repair, shop: Shop) -> dict[str, Any] | None:
    estimate = current_estimate(repair)
    if estimate is None or estimate.state == Estimate.State.DRAFT:
        return None
    lines = as_lines(estimate.lines)
    return {
        "id": estimate.id,
        "state": estimate.state,
        "is_open": estimate.state == Estimate.State.SENT,
        "answered_at": estimate.answered_at,
        "lines": [
            (row["text"], row["quantity"], money_text(row["total_minor"], shop.currency))
            for row in lines
        ],
        "net": money_text(estimate.net_minor, shop.currency),
        "tax": money_text(estimate.tax_minor, shop.currency) if estimate.tax_minor else None,
        "total": money_text(estimate.total_minor, shop.currency),
        "note": estimate.note,
        "proof": signing.dumps(str(estimate.id), salt=SALT),
    }


def _fetch(repair: Repair, shop: Shop) -> dict[str, Any]:
    asked = account(repair)
    due = asked["due_minor"]
    return {
        "due": money_text(due, shop.currency) if due > 0 else None,
        "for": [line["text"] for line in asked["lines"]],
        "is_unsafe": leaves_unrepaired(repair),
        "pieces": [piece.name for piece in repair.unit.pieces.filter(state="here")],
    }


def estimate_proven_by(repair: Repair, proof: str) -> Estimate | None:
    """The estimate the form was made for, if this project made the form and it is this repair's."""
    try:
        id = signing.loads(proof, salt=SALT)
    except signing.BadSignature:
        return None
    return repair.estimates.filter(id=id).first()
