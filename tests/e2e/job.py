"""One unit on the bench with two worksheets, and the phones of those who work on it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from uuid import UUID

from playwright.sync_api import Locator, Page, Playwright, expect

from shop.jobs.models import Entry
from shop.jobs.selectors import first_break_of
from tests.e2e.house import House
from tests.e2e.lossy import Link, lossy_link
from tests.e2e.phone import Phone
from tests.e2e.scene import work
from tests.e2e.steps import bench
from tests.e2e.steps.keypad import enter
from tests.e2e.steps.queue import wait_until_kept
from tests.e2e.steps.staff import ThroughApi, sign_in
from tests.e2e.steps.visits import on_the_bench, start_worksheet

SERIALS = count(9270001)
# Up to the first reading, and up to the first photo.
UNTIL = {"backup-cell-swap": "cell_volt_found", "look-over": "photo_whole"}


@dataclass
class LinkedPhone(Phone):
    """A phone on a link of its own, which really is down while it is cut off.

    The browser's own switch holds for the pages alone; its service worker would send all the same.
    """

    link: Link = field(kw_only=True)

    def open(self, path: str = "/app/", *, offline: bool = False) -> Page:
        self.link.down = offline
        return super().open(path, offline=offline)

    def cut_off(self, offline: bool) -> None:
        self.link.down = offline
        super().cut_off(offline)


@dataclass
class Job:
    """`swap` stands at a reading (`cell_volt_found`), `look` at a photo (`photo_whole`)."""

    driver: Playwright
    house: House
    folder: Path
    repair: str
    swap: str
    look: str
    stack: ExitStack
    phones: list[LinkedPhone] = field(default_factory=list)

    def phone(self, name: str) -> LinkedPhone:
        """A phone with a profile and a link to the shop of its own."""
        link = self.stack.enter_context(lossy_link(self.house.port))
        made = LinkedPhone(self.driver, link.url, self.folder / name, link=link)
        self.phones.append(made)
        self.stack.callback(made.close)
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
    swap, look = sheets["backup-cell-swap"], sheets["look-over"]
    with ExitStack() as stack:
        stack.callback(house.start_web)
        yield Job(driver, house, folder, repair, swap, look, stack)


def take_up(job: Job, phone: LinkedPhone, username: str) -> Page:
    """The first opening: signed in, the app and this job's worksheets lie on the phone."""
    page = phone.open()
    sign_in(page, username, device=f"phone of {username}")
    bench.wait_for_worker(page)
    wait_until_kept(page, job.swap, job.look)
    return page


def join(job: Job, phone: LinkedPhone, username: str) -> Page:
    """Somebody who does not have the repair in hand opens its worksheets."""
    page = phone.open()
    sign_in(page, username, device=f"phone of {username}")
    bench.wait_for_worker(page)
    for worksheet in (job.look, job.swap):
        page.goto(job.address(worksheet))
        wait_until_kept(page, worksheet)
    return page


def require_whole(record: str) -> None:
    """The record as the shop holds it: numbered without a gap, each id once, chained."""
    seqs = list(Entry.objects.filter(record=record).order_by("seq").values_list("seq", flat=True))
    assert seqs == list(range(1, len(seqs) + 1))
    assert first_break_of(UUID(record)) is None


def saved_lines(page: Page) -> Locator:
    """What stands recorded on the step that is open."""
    return page.locator("article > .lines > *")


def save_reading(page: Page, typed: str) -> None:
    enter(page.locator("article"), typed, keypad=True)
    expect(saved_lines(page)).not_to_have_count(0)


def save_photo(page: Page, picture: Path) -> None:
    page.locator("article input[type=file]").set_input_files(picture)
    page.locator("article").get_by_role("button", name="Save photo").click()
    expect(saved_lines(page)).not_to_have_count(0)
