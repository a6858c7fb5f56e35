"""What a repair costs, what was paid, and that nothing leaves unpaid by accident."""

import pytest
from django.db import IntegrityError, transaction

from shop.billing.errors import NothingToInvoice
from shop.billing.models import Invoice, Payment
from shop.billing.requirements import paid_or_agreed
from shop.billing.selectors import account, lines_now
from shop.billing.services import (
    answer_estimate,
    issue_invoice,
    make_estimate,
    send_estimate,
    take_payment,
)
from shop.core.errors import BadField, Conflict
from shop.core.ids import new_id
from shop.core.models import Counter, OutboxEvent
from shop.repairs.models import StageEvent
from shop.stock.models import Move, Part, Supplier
from tests.factories.core import NOW, ShopFactory
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def repair(db):
    ShopFactory(tax_percent="20.00", hour_price_minor=7200)
    return RepairFactory(stage="on_the_bench", diagnosis_fee_minor=4500)


def moved(repair, by, quantity, price, back=0):
    supplier, _ = Supplier.objects.get_or_create(name="Depot", email="o@depot.example")
    part = Part.objects.create(code=f"A{price}", name=f"Part {price}", supplier=supplier)
    places = [("bin", "repair", quantity), ("repair", "bin", back)]
    for start, end, number in places:
        if number:
            Move.objects.create(
                part=part, quantity=number, from_place=start, to_place=end, repair=repair,
                price_minor=price, by=by, at=NOW,
            )  # fmt: skip


# 37.50 and 20 % of it are the 45.00 that were said.
def test_an_untouched_repair_costs_its_fee_which_includes_tax(repair):
    found = account(repair)

    assert [(row["text"], row["total_minor"]) for row in found["lines"]] == [
        ("Fee for looking it over", 3750)
    ]
    assert (found["tax_minor"], found["total_minor"]) == (750, 4500)


@pytest.mark.parametrize("percent", ["0.00", "7.70", "19.00", "20.00", "25.50"])
def test_no_more_is_asked_for_looking_it_over_than_was_said(percent):
    ShopFactory(tax_percent=percent)

    for said in (1, 99, 3500, 9999):
        asked = account(RepairFactory(diagnosis_fee_minor=said))["total_minor"]
        assert said - 1 <= asked <= said


def test_parts_that_went_back_are_not_paid_for(repair, anna):
    moved(repair, anna, 3, 400, back=1)
    moved(repair, anna, 1, 900, back=1)

    assert [(row["quantity"], row["total_minor"]) for row in lines_now(repair)] == [(2, 800)]


def test_labour_is_priced_by_the_minute(repair):
    repair.labour_minutes_corrected = 17
    repair.save()

    # By hand: 17 min of 72.00 an hour are 20.40.
    assert account(repair)["total_minor"] == 2448
    assert account(repair)["lines"][0]["price_minor"] == 2040


def test_what_was_agreed_counts_whatever_it_took(repair, dora, anna):
    moved(repair, anna, 1, 99900)
    lines = [{"text": "All of it", "quantity": 1, "price_minor": 5000}]
    estimate = make_estimate(id=new_id(), repair=repair, lines=lines, by=dora)
    send_estimate(estimate=estimate, by=dora)
    answer_estimate(estimate=estimate, agreed=True, how="by phone", by=dora)

    assert account(repair)["total_minor"] == 6000


def test_a_unit_that_leaves_unrepaired_costs_its_fee_only(repair, anna):
    moved(repair, anna, 1, 900)
    for stage in ("declined", "handed_back"):
        StageEvent.objects.create(repair=repair, to_stage=stage, at=NOW)
        repair.stage = stage

        assert [row["total_minor"] for row in lines_now(repair)] == [3750]


# Computed: three lines of 0.33 at 20 % are 0.20 of tax by document and 0.21 line by line.
def test_tax_is_rounded_once_for_the_whole_account(repair, anna):
    for price in (33, 33_0, 33_00):
        moved(repair, anna, 1, price)

    found = account(repair)

    assert (found["net_minor"], found["tax_minor"]) == (3663, 733)


def test_a_payment_sent_twice_is_taken_once(repair, dora):
    id = new_id()
    sent = {"id": id, "repair": repair, "amount_minor": 4500, "how": "card", "by": dora}

    assert take_payment(**sent) == take_payment(**sent)
    with pytest.raises(Conflict):
        take_payment(**(sent | {"amount_minor": 1}))

    assert Payment.objects.count() == 1
    assert account(repair)["due_minor"] == 0


@pytest.mark.parametrize(
    ("sent", "field"),
    [
        ({"amount_minor": 0, "how": "cash"}, "amount_minor"),
        ({"amount_minor": 5, "how": "beads"}, "how"),
        ({"amount_minor": 5, "how": "waived", "reason": "  "}, "reason"),
    ],
)
def test_what_is_no_payment_leaves_no_trace(repair, dora, sent, field):
    with pytest.raises(BadField) as refused:
        take_payment(id=new_id(), repair=repair, by=dora, **sent)

    assert refused.value.field == field
    assert not Payment.objects.exists()


@pytest.mark.parametrize("broken", [{"amount_minor": 0}, {"how": "waived", "amount_minor": 5}])
def test_the_database_refuses_such_payments_too(repair, dora, broken):
    fields = {"amount_minor": 5, "how": "cash"} | broken

    with pytest.raises(IntegrityError), transaction.atomic():
        Payment.objects.create(id=new_id(), repair=repair, taken_by=dora, taken_at=NOW, **fields)


def test_handing_back_requires_payment_or_a_reason(repair, dora):
    assert "45.00" in paid_or_agreed(repair)

    take_payment(id=new_id(), repair=repair, amount_minor=4100, how="cash", by=dora)
    assert "4.00" in paid_or_agreed(repair)
    take_payment(
        id=new_id(), repair=repair, amount_minor=400, how="waived", reason="Our delay.", by=dora
    )

    assert paid_or_agreed(repair) is None


@transaction.atomic
def invoice_and_fail(by):
    issue_invoice(repair=RepairFactory(diagnosis_fee_minor=1), by=by)
    raise RuntimeError


def test_invoices_are_numbered_without_gaps_even_past_a_failure(repair, dora):
    first = issue_invoice(repair=repair, by=dora)
    with pytest.raises(RuntimeError):
        invoice_and_fail(dora)

    second = issue_invoice(repair=RepairFactory(diagnosis_fee_minor=1), by=dora)

    assert second.number == first.number + 1
    assert Counter.objects.get(kind="invoice").last == second.number


def test_invoicing_the_same_again_is_the_same_invoice(repair, dora):
    assert issue_invoice(repair=repair, by=dora) == issue_invoice(repair=repair, by=dora)

    assert OutboxEvent.objects.filter(kind="documents.issue_invoice").count() == 1


def test_a_changed_account_is_a_new_invoice_that_names_the_old(repair, dora, anna):
    first = issue_invoice(repair=repair, by=dora)
    moved(repair, anna, 1, 900)

    second = issue_invoice(repair=repair, by=dora)

    assert second.replaces == first
    assert account(repair)["total_minor"] == 1080
    assert Invoice.objects.count() == 2


def test_nothing_is_not_invoiced(repair, dora):
    repair.diagnosis_fee_minor = 0
    repair.save()

    with pytest.raises(NothingToInvoice):
        issue_invoice(repair=repair, by=dora)

    assert not Counter.objects.filter(kind="invoice", last__gt=0).exists()
