"""What it will cost, and who may say yes to it."""

import pytest

from shop.billing.errors import EstimateNotDraft, EstimateNotOpen, StageHasNoEstimate
from shop.billing.models import Estimate
from shop.billing.selectors import current_estimate, is_within_limit
from shop.billing.services import answer_estimate, make_estimate, send_estimate
from shop.core.errors import BadField, Conflict
from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from tests.factories.core import ShopFactory
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db

LINES = [
    {"text": "Mains conversion", "quantity": 1, "price_minor": 9500},
    {"text": "Capacitor", "quantity": 2, "price_minor": 420},
]


@pytest.fixture
def repair(db):
    ShopFactory(tax_percent="19.00")
    return RepairFactory(stage="on_the_bench")


def drafted(repair, by, lines=LINES, id=None):
    return make_estimate(id=id or new_id(), repair=repair, lines=lines, by=by)


def test_tax_is_taken_on_the_sum(repair, dora):
    estimate = drafted(repair, dora)

    # By hand: 95.00 + 2 x 4.20 = 103.40; 19 % of it is 19.646.
    assert (estimate.net_minor, estimate.tax_minor, estimate.total_minor) == (10340, 1965, 12305)
    assert estimate.state == "draft"


def test_the_same_id_again_is_the_same_estimate(repair, dora):
    id = new_id()

    assert drafted(repair, dora, id=id) == drafted(repair, dora, id=id)
    with pytest.raises(Conflict):
        drafted(repair, dora, lines=LINES[:1], id=id)

    assert Estimate.objects.count() == 1


def test_a_new_estimate_takes_the_place_of_an_open_one(repair, dora):
    first = send_estimate(estimate=drafted(repair, dora), by=dora)

    second = drafted(repair, dora)

    first.refresh_from_db()
    assert first.state == "replaced"
    assert current_estimate(repair) == second
    with pytest.raises(EstimateNotOpen):
        answer_estimate(estimate=first, agreed=True, how="by phone", by=dora)


@pytest.mark.parametrize(
    ("lines", "field"),
    [
        ([], "lines"),
        ([{"text": " ", "quantity": 1, "price_minor": 1}], "lines[0].text"),
        ([{"text": "x", "quantity": 0, "price_minor": 1}], "lines[0]"),
        ([{"text": "x", "quantity": 1, "price_minor": -1}], "lines[0]"),
    ],
)
def test_a_line_that_cannot_be_is_refused_by_name(repair, dora, lines, field):
    with pytest.raises(BadField) as refused:
        drafted(repair, dora, lines=lines)

    assert refused.value.field == field
    assert not Estimate.objects.exists()


def test_sending_waits_for_the_go_ahead_and_tells_the_customer(repair, dora):
    estimate = send_estimate(estimate=drafted(repair, dora), by=dora)

    repair.refresh_from_db()
    assert (estimate.state, repair.stage) == ("sent", "awaiting_go_ahead")
    kinds = set(OutboxEvent.objects.values_list("kind", flat=True))
    assert {"documents.issue_estimate", "notices.tell_customer"} <= kinds


def test_sending_twice_sends_once(repair, dora):
    estimate = drafted(repair, dora)
    send_estimate(estimate=estimate, by=dora)

    send_estimate(estimate=estimate, by=dora)

    assert OutboxEvent.objects.filter(kind="notices.tell_customer").count() == 1
    assert repair.events.filter(to_stage="awaiting_go_ahead").count() == 1


def test_a_replaced_draft_cannot_be_sent(repair, dora):
    first = drafted(repair, dora)
    drafted(repair, dora)

    with pytest.raises(EstimateNotDraft):
        send_estimate(estimate=first, by=dora)


def test_before_anybody_looked_there_is_nothing_to_send(repair, dora):
    repair.stage = "booked_in"
    repair.save()

    with pytest.raises(StageHasNoEstimate):
        send_estimate(estimate=drafted(repair, dora), by=dora)

    assert Estimate.objects.get().state == "draft"
    assert not OutboxEvent.objects.exists()


@pytest.mark.parametrize(
    ("limit", "total", "within"), [(0, 1, False), (100, 100, True), (100, 101, False)]
)
def test_the_limit_counts_the_last_cent(repair, limit, total, within):
    repair.spending_limit_minor = limit

    assert is_within_limit(repair, total) is within


def test_within_the_limit_nobody_is_asked(repair, dora):
    repair.spending_limit_minor = 12305
    repair.save()

    estimate = send_estimate(estimate=drafted(repair, dora), by=dora)

    repair.refresh_from_db()
    assert (estimate.state, repair.stage) == ("agreed", "on_the_bench")
    assert estimate.answered_how == "within what may be spent without asking"
    assert not OutboxEvent.objects.filter(kind="notices.tell_customer").exists()


@pytest.mark.parametrize(
    ("agreed", "state", "stage"),
    [(True, "agreed", "on_the_bench"), (False, "declined", "declined")],
)
def test_the_answer_moves_the_repair_on(repair, dora, agreed, state, stage):
    estimate = send_estimate(estimate=drafted(repair, dora), by=dora)

    answer_estimate(estimate=estimate, agreed=agreed, how="by phone", words="Go on.", by=dora)

    repair.refresh_from_db()
    event = repair.events.order_by("at", "id").last()
    assert (estimate.state, repair.stage) == (state, stage)
    assert "by phone" in event.reason
    assert "Go on." in event.reason
    assert event.by == dora


def test_the_same_answer_again_changes_nothing_and_another_is_refused(repair, dora):
    estimate = send_estimate(estimate=drafted(repair, dora), by=dora)
    answer_estimate(estimate=estimate, agreed=True, how="by phone", by=dora)
    events = repair.events.count()

    answer_estimate(estimate=estimate, agreed=True, how="on the status page")
    with pytest.raises(EstimateNotOpen):
        answer_estimate(estimate=estimate, agreed=False, how="on the status page")

    estimate.refresh_from_db()
    assert (estimate.state, estimate.answered_how) == ("agreed", "by phone")
    assert repair.events.count() == events
