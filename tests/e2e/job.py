"""One unit on the bench with two worksheets, and the phones of those who work on it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from uuid import UUID

from playwright.sync_api import Page, Playwright

from shop.jobs.models import Entry
from shop.jobs.selectors import first_break_of
from tests.e2e.house import House
from tests.e2e.phone import Phone
from tests.e2e.scene import work
from tests.e2e.steps import bench
from tests.e2e.steps.queue import wait_until_kept
from tests.e2e.steps.staff import ThroughApi, sign_in
from tests.e2e.steps.visits import on_the_bench, start_worksheet

SERIALS = count(9270001)
# Up to the first reading, and up to the first photo.
UNTIL = {"backup-cell-swap": "cell_volt_found", "look-over": "photo_whole"}


@dataclass
class Job:
    """`swap` stands at a reading (`cell_volt_found`), `look` at a photo (`photo_whole`)."""

    driver: Playwright
    house: House
    folder: Path
    repair: str
    swap: str
    look: str
    phones: list[Phone] = field(default_factory=list)

    def phone(self, name: str, url: str | None = None) -> Phone:
        """A phone of its own; `url`: of a link, in place of the shop's own."""
        made = Phone(self.driver, url or self.house.url, self.folder / name)
        self.phones.append(made)
        return made

    def address(self, worksheet: str, step: str | None = None) -> str:
        return f"/app/worksheets/{worksheet}" + (f"?step={step}" if step else "")

    def entries(self, record: str) -> list[Entry]:
        return list(Entry.objects.filter(record=record).order_by("seq"))


@contextmanager
def job_on_the_bench(house: House, driver: Playwright, folder: Path) -> Iterator[Job]:
    """Anna has the unit in hand. Phones that the test opened are closed, the server runs again."""
    dora, anna = (ThroughApi(driver, house.url, name) for name in ("dora", "anna"))
    repair = str(on_the_bench(dora, anna, serial=str(next(SERIALS)))["id"])
    sheets = {slug: start_worksheet(anna, repair, slug) for slug in UNTIL}
    for slug, step in UNTIL.items():
        work(sheets[slug], until=step)
    dora.close()
    anna.close()
    job = Job(driver, house, folder, repair, sheets["backup-cell-swap"], sheets["look-over"])
    try:
        yield job
    finally:
        for phone in job.phones:
            phone.close()
        house.start_web()


def take_up(job: Job, phone: Phone, username: str) -> Page:
    """The first opening: signed in, the app and this job's worksheets lie on the phone."""
    page = phone.open()
    sign_in(page, username, device=f"phone of {username}")
    bench.wait_for_worker(page)
    wait_until_kept(page, job.swap, job.look)
    return page


def require_whole(record: str) -> None:
    """The record as the shop holds it: numbered without a gap, each id once, chained."""
    seqs = list(Entry.objects.filter(record=record).order_by("seq").values_list("seq", flat=True))
    assert seqs == list(range(1, len(seqs) + 1))
    assert first_break_of(UUID(record)) is None
