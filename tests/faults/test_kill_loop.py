"""Killed with -9 again and again, nothing acknowledged is lost and nothing is done twice.

A real server, a worker and beat on a real database (the suite's: a SQLite file or PostgreSQL).
The long form: `KILLS=60 python -m pytest -s tests/faults/test_kill_loop.py`; another run of
throws: `KILL_SEED=2`.
"""

from __future__ import annotations

import hashlib
import json
import os
import random
import time
from collections import Counter
from pathlib import Path

import pytest
from django.conf import settings
from django.core.management import call_command

from shop.calc.codes import Kind
from shop.core import outbox
from shop.core.codes import draw_code
from shop.core.models import OutboxEvent
from shop.documents.models import Document
from shop.jobs.models import Entry
from shop.notices.models import Notice
from shop.repairs.models import Repair
from shop.repairs.services import book_in
from shop.stock.models import Move, OrderLine, PurchaseOrder
from tests.factories.booking import booking
from tests.factories.core import PersonFactory, ShopFactory
from tests.factories.jobs import look, reading, started, template
from tests.factories.stock import BinFactory, PartFactory, StockLevelFactory
from tests.faults.desk_and_bench import Sender, Shop
from tests.faults.web import Web
from tests.services import Crew, crew_on, wait_until

KILLS = int(os.environ.get("KILLS", "8"))
SEED = os.environ.get("KILL_SEED", "1")
PLENTY = 100_000
pytestmark = [
    pytest.mark.timeout(120 + 20 * KILLS),
    pytest.mark.django_db(transaction=True),  # what is written here is seen by the processes
]


def furnished() -> Shop:
    """A shop with two worksheets that are never finished, and parts."""
    ShopFactory()
    # The manager may do all of it: book in, record, take parts.
    person = PersonFactory(username="mara", name="Mara", role="manager")
    steps = [reading(f"r{n}") for n in range(4)] + [look("never_answered")]
    repair, _created = book_in(facts=booking(), by=person)
    Repair.objects.filter(id=repair.id).update(stage="on_the_bench")
    repair.refresh_from_db()
    levels = [
        StockLevelFactory(
            part=PartFactory(code=draw_code(Kind.PART)), bin=BinFactory(code=draw_code(Kind.BIN)),
            on_hand=on_hand,
        )
        for on_hand in (PLENTY, 3)
    ]  # fmt: skip
    worksheets = [started(template(*steps, slug=s), by=person, repair=repair) for s in ("a", "b")]
    return Shop(person, worksheets, *levels)


@pytest.fixture
def processes(shared_books, tmp_path):
    """Web server, worker and beat on the books of the test; ended with it."""
    with crew_on(database=shared_books, redis="", folder=tmp_path) as crew:
        crew.environment |= {"SECRET_KEY": settings.SECRET_KEY, "LOG_LEVEL": "ERROR"}
        web = Web(crew.environment, tmp_path)
        try:
            yield web, crew
        finally:
            web.kill()


def killed_again_and_again(web: Web, crew: Crew, sender: Sender, dice: random.Random) -> Counter:
    """Kill the server 10 to 800 ms after it answers; every third time the workers as well.

    Every other time only once it has acknowledged something, so that it is hit in full swing too.
    """
    done: Counter[str] = Counter()
    for kill in range(KILLS):
        if kill % 2:
            before = len(sender.acknowledged)
            wait_until(lambda: sender.failure or len(sender.acknowledged) > before)  # noqa: B023
        time.sleep(dice.uniform(0.01, 0.8))
        web.kill()
        done["web"] += 1
        if kill % 3 == 2:
            crew.kill()
            crew.start()
            done["workers"] += 1
        web.start()
        assert sender.failure is None, (sender.failure, web.log()[-3000:])
    return done


def drained() -> bool:
    """All is done. What was killed five times over is dead by design: a person tries it again."""
    for id in OutboxEvent.objects.filter(dead_at__isnull=False).values_list("id", flat=True):
        revived.append(id)
        outbox.try_again(id=id)
    return not OutboxEvent.objects.filter(done_at=None).exists()


revived: list[object] = []


def test_what_was_acknowledged_is_there_once_however_often_all_is_killed(processes, tmp_path):
    (web, crew), shop, log = processes, furnished(), tmp_path / "acknowledged.jsonl"
    web.start()
    crew.start()
    sender = Sender(shop, web.port, log)

    sender.start()
    kills = killed_again_and_again(web, crew, sender, random.Random(SEED))
    sender.enough.set()
    sender.join(60)
    crew.wait_until(drained, seconds=60 + KILLS * 5)

    assert sender.failure is None, (sender.failure, web.log()[-3000:])
    assert not sender.is_alive()
    told = [json.loads(line) for line in log.read_text().splitlines()]
    assert [number for number, _ids in told] == list(range(1, len(told) + 1))
    require_entries(shop, sender)
    require_stock(shop, sender)
    require_repairs_and_papers(sender)
    call_command("verify_chains")
    call_command("verify_stock")
    kinds = Counter(operation.kind for operation in sender.acknowledged)
    print(f"\n{dict(kills)} kills, {len(told)} operations acknowledged {dict(kinds)}, "
          f"{sender.resent} sent again, {sender.busy} told busy, "
          f"{len(revived)} rows dead and revived")  # fmt: skip
    assert len(told) > KILLS


def of_kind(sender: Sender, kind: str) -> list[str]:
    return [id for one in sender.acknowledged if one.kind == kind for id in one.ids]


def require_entries(shop: Shop, sender: Sender) -> None:
    """Every entry once, and no entry that was not sent."""
    there = Entry.objects.values_list("id", flat=True)
    assert sorted(map(str, there)) == sorted(of_kind(sender, "sync"))


def require_stock(shop: Shop, sender: Sender) -> None:
    """One piece for every move and for every part entry, and one order for the scarce part."""
    taken = {id for one in sender.acknowledged if one.kind == "sync" for id in one.ids[-1:]}
    taken |= set(of_kind(sender, "move"))
    moves = Move.objects.filter(to_place="repair").values_list("id", flat=True)
    assert sorted(map(str, moves)) == sorted(taken)
    for level in (shop.level, shop.scarce):
        level.refresh_from_db()
    gone = PLENTY - shop.level.on_hand + 3 - shop.scarce.on_hand
    assert gone == len(taken)
    assert list(OrderLine.objects.values_list("part", flat=True)) == [shop.scarce.part_id]
    assert PurchaseOrder.objects.count() == 1


def require_repairs_and_papers(sender: Sender) -> None:
    """One repair per booking, with gapless numbers; one receipt, one tag, one message each."""
    booked = of_kind(sender, "book_in")
    repairs = Repair.objects.all()
    assert repairs.filter(id__in=booked).count() == len(booked)
    assert repairs.count() == len(booked) + 1  # the one on the bench
    numbers = sorted(repairs.values_list("number", flat=True))
    assert numbers == list(range(numbers[0], numbers[0] + len(numbers)))
    papers = Counter(Document.objects.values_list("repair_id", "kind"))
    assert papers == {(r.id, kind): 1 for r in repairs for kind in ("receipt", "tag")}
    assert Counter(Notice.objects.values_list("repair_id", "kind")) == {
        (r.id, "booked_in"): 1 for r in repairs
    }
    require_files()


def require_files() -> None:
    """Each paper has its file, whole, and there is no other."""
    media, kept = Path(settings.MEDIA_ROOT), set()
    for document in Document.objects.all():
        content = (media / document.file.name).read_bytes()
        assert hashlib.sha256(content).hexdigest() == document.sha256
        kept.add(document.file.name)
    lying = {str(f.relative_to(media)) for f in media.rglob("*.pdf")}
    assert lying == kept


def test_the_wait_ends(processes):
    web, _crew = processes
    web.start()

    web.kill()

    wait_until(lambda: not web.answers(), seconds=5)
