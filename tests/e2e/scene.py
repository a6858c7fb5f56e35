"""A shop in the middle of its day: repairs in several stages, worksheets half done, an order."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Playwright

from shop.benches.models import Meter
from shop.core.models import Person
from shop.jobs.models import Worksheet
from shop.stock.models import PurchaseOrder
from shop.units.models import ModelSheet
from tests.e2e.house import House, wait_for
from tests.e2e.steps.staff import ThroughApi
from tests.e2e.steps.visits import book_in, on_the_bench, start_worksheet
from tests.factories.working import work_to_end

LINES = [{"text": "Mains conversion", "quantity": 1, "price_minor": 24000}]
# Each worksheet of the unit in work is done up to one step, so that all kinds can be seen open.
UNTIL = {
    "mains-conversion": "dead_pins",
    "backup-cell-swap": "store_note",
    "series-lamp-power-up": "ramp",
    "safety-check": "sign",
}


@dataclass
class Scene:
    """Where each kind of screen can be seen: ids by what they show."""

    booked: str
    in_work: str
    asked: str
    ready: str
    order: str
    worksheets: dict[str, str]
    status_asked: str
    status_ready: str
    meter: str
    draft: str
    sheet: str


def set_scene(house: House, driver: Playwright) -> Scene:
    dora, anna = (ThroughApi(driver, house.url, name) for name in ("dora", "anna"))
    booked = book_in(dora, serial="9200001", pieces=[{"name": "mains cord"}])["id"]
    in_work, worksheets = _in_work(dora, anna)
    asked = _asked(dora, anna)
    ready = _ready(dora, anna)
    order = wait_for(lambda: PurchaseOrder.objects.exclude(stage="dropped").first())
    scene = Scene(
        booked, in_work, asked, ready, str(order.id), worksheets,
        _status(dora, asked), _status(dora, ready),
        str(Meter.objects.order_by("name")[0].id), _draft(anna),
        str(ModelSheet.objects.exclude(primary={}).order_by("model")[0].id),
    )  # fmt: skip
    dora.close()
    anna.close()
    return scene


def _in_work(dora: ThroughApi, anna: ThroughApi) -> tuple[str, dict[str, str]]:
    """One repair with every template open, each worked up to a step of another kind."""
    repair = on_the_bench(dora, anna, serial="9200002", damage="Scratch on the lid.")["id"]
    worksheets = {slug: start_worksheet(anna, repair, slug) for slug in UNTIL}
    for slug, step in UNTIL.items():
        work(worksheets[slug], until=step)
    return repair, worksheets


def _draft(anna: ThroughApi) -> str:
    """A change of a job template that waits for somebody else's review."""
    source = {"template": "look-over"}
    draft = anna.post("template-drafts/", {"slug": "look-over", "from": source})
    anna.post(f"template-drafts/{draft['id']}/submit/", {"note": "Nothing is changed yet."})
    return str(draft["id"])


def work(worksheet: str, *, until: str | None = None) -> str:
    tech, other = (Person.objects.get(username=name) for name in ("anna", "ben"))
    return work_to_end(Worksheet.objects.get(id=worksheet), tech, until=until, other=other)


def _asked(dora: ThroughApi, anna: ThroughApi) -> str:
    repair = book_in(dora, serial="9200003")["id"]
    anna.change_stage(repair, "looking_over")
    body: dict[str, Any] = {"id": repair, "lines": LINES, "note": "Cell and conversion together."}
    estimate = dora.post(f"repairs/{repair}/estimates/", body)
    dora.post(f"estimates/{estimate['id']}/send/", {})
    return str(repair)


def _ready(dora: ThroughApi, anna: ThroughApi) -> str:
    pieces = [{"name": "mains cord"}, {"name": "footswitch"}]
    repair = on_the_bench(dora, anna, serial="9200004", pieces=pieces)["id"]
    for slug in UNTIL:
        assert work(start_worksheet(anna, repair, slug)) == "passed", slug
    wait_for(lambda: _is_ready(dora, repair), seconds=60)
    return str(repair)


def _is_ready(dora: ThroughApi, repair: str) -> bool:
    now = dora.get(f"repairs/{repair}/")
    papers = {row["kind"] for row in now["documents"] if row["state"] == "ready"}
    return now["stage"] == "ready" and "test_report" in papers


def _status(dora: ThroughApi, repair: str) -> str:
    return str(dora.post(f"repairs/{repair}/status-link/", {})["url"])
