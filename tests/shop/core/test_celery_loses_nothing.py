"""Real Celery on a real broker: what was promised in a change is done, once, whoever is killed."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.db import transaction
from django.utils import timezone

from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.documents.models import Document
from shop.notices.models import Notice
from shop.repairs.models import StageEvent
from shop.repairs.services.stage_changes import record_work
from shop.stock.models import OrderLine, PurchaseOrder
from shop.stock.selectors import check_levels
from shop.stock.services import approve_order, take_part
from tests.factories.core import PersonFactory, ShopFactory
from tests.factories.stock import OrderLineFactory, StockLevelFactory, SupplierFactory
from tests.factories.units import RepairFactory
from tests.services import crew_on, wakes

pytestmark = pytest.mark.timeout(150)

PARTS = 6
HELD = "tests.shop.core.held_reorder"


@pytest.fixture(params=["files", pytest.param("redis", marks=pytest.mark.real_redis)])
def broker(request) -> str:
    """The two brokers the shop runs on: "" is the folder of messages."""
    return request.getfixturevalue("own_redis") if request.param == "redis" else ""


def take_to_the_reorder_level(parts: int = PARTS) -> list[str]:
    """Parts of one supplier, each taken down to its reorder level: ids of the parts."""
    supplier, repair, anna = SupplierFactory(), RepairFactory(), PersonFactory()
    levels = StockLevelFactory.create_batch(parts, on_hand=3, part__supplier=supplier)
    for level in levels:
        take_part(
            id=new_id(), part=level.part, quantity=1, repair=repair, by=anna, at=timezone.now()
        )
    return [str(level.part_id) for level in levels]


def all_done() -> bool:
    return not OutboxEvent.objects.filter(done_at=None).exists()


def require_one_line_per_part(parts: list[str]) -> None:
    """Nothing lost, nothing doubled: one draft, one line per part, each up to its upper level."""
    lines = OrderLine.objects.values_list("part_id", "quantity")
    assert sorted((str(part), quantity) for part, quantity in lines) == sorted(
        (part, 8) for part in parts
    )
    assert PurchaseOrder.objects.count() == 1
    assert OutboxEvent.objects.filter(done_at__isnull=False).count() == len(parts)
    assert check_levels() == []


def begun(folder: Path, point: str) -> list[str]:
    """Parts whose work came to this point, once for each time it did."""
    return [file.name.split(".")[1] for file in folder.glob(f"{point}.*.begun")]


def test_the_wake_up_alone_brings_the_work_to_the_worker(shared_books, broker, tmp_path):
    with crew_on(database=shared_books, redis=broker, folder=tmp_path) as crew:
        crew.start(beat=False)
        parts = take_to_the_reorder_level()

        crew.wait_until(all_done)

    require_one_line_per_part(parts)


@pytest.mark.parametrize("point", ["before_commit", "after_commit"])
def test_killing_the_worker_in_the_middle_loses_nothing_and_doubles_nothing(
    shared_books, broker, tmp_path, point
):
    hold = tmp_path / f"{point}.hold"
    hold.touch()

    with crew_on(database=shared_books, redis=broker, folder=tmp_path, include=HELD) as crew:
        parts = take_to_the_reorder_level()
        crew.start()
        crew.wait_until(lambda: begun(tmp_path, point))
        killed = crew.kill()
        hit = begun(tmp_path, point)
        lines_at_the_kill = OrderLine.objects.filter(part_id__in=hit).count()
        hold.unlink()
        crew.start()
        crew.wait_until(all_done)

    assert len(killed) >= 4  # the worker, its two processes, and beat
    assert lines_at_the_kill == (0 if point == "before_commit" else len(hit))
    assert set(begun(tmp_path, point)) == set(parts)
    assert all(begun(tmp_path, point).count(part) == 2 for part in hit)
    # The second process may have leased a row and waited for the first one's lock.
    assert len(hit) <= OutboxEvent.objects.filter(tries=2).count() <= 2
    require_one_line_per_part(parts)


def test_wake_ups_that_are_lost_cost_time_only_because_the_sweep_finds_the_work(
    shared_books, broker, tmp_path
):
    with crew_on(database=shared_books, redis=broker, folder=tmp_path) as crew:
        with wakes("redis://127.0.0.1:1/0", {"max_retries": 0}):  # nobody listens there
            parts = take_to_the_reorder_level()
        crew.start()

        crew.wait_until(all_done)

    require_one_line_per_part(parts)


def test_an_approved_order_reaches_its_supplier_as_one_paper_and_one_mail(
    shared_books, broker, tmp_path
):
    ShopFactory()
    order = OrderLineFactory(order__supplier__email="orders@supplier.example").order
    manager = PersonFactory(role="manager")

    with crew_on(database=shared_books, redis=broker, folder=tmp_path) as crew:
        crew.start()
        approve_order(order=order, by=manager, at=timezone.now())
        crew.wait_until(all_done)

    order.refresh_from_db()
    paper, notice = Document.objects.get(order=order), Notice.objects.get(order=order)
    mails = [file.read_text() for file in (tmp_path / "mail").iterdir()]
    assert order.stage == PurchaseOrder.Stage.SENT
    assert (tmp_path / "media" / paper.file.name).read_bytes().startswith(b"%PDF")
    assert notice.sent_at is not None
    assert len(mails) == 1
    assert "To: orders@supplier.example" in mails[0]
    assert notice.message_id in mails[0]


def make_ready() -> StageEvent:
    """A repair that became ready, with the report and the message that must follow."""
    ShopFactory()
    repair = RepairFactory(stage="ready")
    event = StageEvent.objects.create(
        repair=repair, from_stage="on_test", to_stage="ready", at=timezone.now()
    )
    with transaction.atomic():
        record_work("documents.issue_test_report", repair, event)
        record_work("notices.tell_customer", repair, event, kind="ready")
    return event


def test_killing_the_worker_while_it_draws_the_report_doubles_neither_paper_nor_message(
    shared_books, broker, tmp_path
):
    with crew_on(database=shared_books, redis=broker, folder=tmp_path) as crew:
        make_ready()
        crew.start()
        crew.wait_until(Document.objects.exists)  # its row is there, its PDF is being drawn
        crew.kill()
        crew.start()
        crew.wait_until(all_done)

    report = Document.objects.get(kind="test_report")
    notice = Notice.objects.get()
    mails = [file.read_text() for file in (tmp_path / "mail").iterdir()]
    assert (tmp_path / "media" / report.file.name).read_bytes().startswith(b"%PDF")
    assert notice.sent_at is not None
    assert mails
    # Mail is at-least-once: a second one carries the same Message-ID.
    assert all(notice.message_id in mail for mail in mails)
