"""Reads of money: what a repair costs, what was paid, what is due."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any, TypedDict

from django.db.models import Case, F, Q, Sum, When
from django.utils.translation import gettext as _

from shop.billing.models import Estimate, Invoice
from shop.calc import money
from shop.core.selectors import the_shop
from shop.repairs import stages
from shop.repairs.models import Repair, Stage
from shop.stock.models import Move, Place

State = Estimate.State
GONE_OR_WAITING = {Stage.UNCLAIMED, *stages.CLOSED}


class Line(TypedDict):
    """One line of an estimate, account or invoice; prices without tax."""

    text: str
    quantity: int
    price_minor: int
    total_minor: int


class Account(TypedDict):
    lines: list[Line]
    net_minor: int
    tax_minor: int
    total_minor: int
    paid_minor: int
    due_minor: int


def line(text: str, quantity: int, price_minor: int) -> Line:
    return Line(
        text=text, quantity=quantity, price_minor=price_minor, total_minor=quantity * price_minor
    )


def as_lines(rows: Sequence[dict[str, Any]]) -> list[Line]:
    """Kept lines with their totals."""
    return [line(row["text"], row["quantity"], row["price_minor"]) for row in rows]


def totals_of(lines: Sequence[Line]) -> money.Totals:
    """Net, tax and total at the shop's rate."""
    percent = Fraction(the_shop().tax_percent)
    return money.totals((row["total_minor"], percent) for row in lines)


def is_within_limit(repair: Repair, total_minor: int) -> bool:
    """Whether the customer said beforehand that this much, tax included, may be spent."""
    return 0 < total_minor <= repair.spending_limit_minor


def agreed_estimate(repair: Repair) -> Estimate | None:
    return repair.estimates.filter(state=State.AGREED).order_by("-answered_at", "-id").first()


def current_estimate(repair: Repair) -> Estimate | None:
    """The estimate that counts: the newest that was not replaced."""
    return repair.estimates.exclude(state=State.REPLACED).order_by("-made_at", "-id").first()


def current_invoice(repair: Repair) -> Invoice | None:
    """The invoice that no other one replaces."""
    return repair.invoices.filter(replaced_by=None).order_by("-number").first()


def account(repair: Repair) -> Account:
    """What a repair costs and what is still due; once invoiced, as the invoice says."""
    invoice = current_invoice(repair)
    lines = as_lines(invoice.lines) if invoice else lines_now(repair)
    totals = totals_of(lines)
    net, tax, total = totals.net_minor, totals.tax_minor, totals.total_minor
    if invoice:
        net, tax, total = invoice.net_minor, invoice.tax_minor, invoice.total_minor
    paid = repair.payments.aggregate(sum=Sum("amount_minor"))["sum"] or 0
    return Account(
        lines=lines,
        net_minor=net,
        tax_minor=tax,
        total_minor=total,
        paid_minor=paid,
        due_minor=total - paid,
    )


def lines_now(repair: Repair) -> list[Line]:
    """The lines as things stand: what was agreed, else parts and labour, else the fee.

    A unit that leaves unrepaired costs no more than looking it over.
    """
    if not leaves_unrepaired(repair):
        if estimate := agreed_estimate(repair):
            return as_lines(estimate.lines)
        if worked := [*part_lines(repair), *labour_lines(repair)]:
            return worked
    fee = money.net_within(repair.diagnosis_fee_minor, Fraction(the_shop().tax_percent))
    return [line(_("Fee for looking it over"), 1, fee)] if fee else []


def leaves_unrepaired(repair: Repair) -> bool:
    """Declined or beyond repair, also when it has left or was not fetched since."""
    if repair.stage in stages.UNREPAIRED:
        return True
    return repair.stage in GONE_OR_WAITING and not stages.was_made_ready(repair)


def part_lines(repair: Repair) -> list[Line]:
    """Parts that stayed in the unit, at the price they had when they were taken."""
    signed = Case(When(to_place=Place.REPAIR, then=F("quantity")), default=-F("quantity"))
    moved = Move.objects.filter(repair=repair).values("part__name", "price_minor")
    rows = moved.annotate(left=Sum(signed)).filter(~Q(left=0)).order_by("part__name")
    return [line(row["part__name"], row["left"], row["price_minor"]) for row in rows]


def labour_lines(repair: Repair) -> list[Line]:
    minutes = labour_minutes(repair)
    price = money.price_of_time(minutes, the_shop().hour_price_minor)
    text = _("Labour, %(minutes)s min") % {"minutes": minutes}
    return [line(text, 1, price)] if price else []


def labour_minutes(repair: Repair) -> int:
    """Minutes of work: as corrected, else from the opening to the end of each worksheet."""
    if repair.labour_minutes_corrected is not None:
        return repair.labour_minutes_corrected
    return sum(
        int((closed - opened).total_seconds() // 60)
        for opened, closed in repair.worksheets.values_list("opened_at", "closed_at")
        if closed
    )
