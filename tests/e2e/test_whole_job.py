"""The main job, end to end: from the counter to the bench to the customer's phone.

One unit goes through the shop on real processes (web server, worker, beat, PostgreSQL, Redis, mail)
and real browsers; the network fails in the middle of a worksheet and the phone's browser is killed.
"""

from __future__ import annotations

import subprocess
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from shop.documents.models import Document
from shop.jobs.models import Entry, Worksheet
from shop.repairs.models import Photo, Repair, RepairPhoto
from shop.stock.models import Move, PurchaseOrder, StockLevel
from tests.e2e.camera import film_of, photo, picture_of
from tests.e2e.house import House, wait_for
from tests.e2e.phone import WAIT_MS, Phone
from tests.e2e.steps import answers, bench, customer, desk, manager
from tests.e2e.steps.answers import Typed
from tests.e2e.steps.queue import kept_entries
from tests.e2e.steps.staff import sign_in, sign_in_again
from tests.e2e.steps.worksheet import Worker

SERIAL = "920417"  # built in 1992: the serial starts with 92 (common practice, no source)
FUSE = "FUSE-T160mAL250V"


@dataclass
class Day:
    """What everybody in this test has at hand."""

    house: House
    chrome: Browser
    driver: Playwright
    folder: Path
    phone: Phone
    desks: dict[str, Page] = field(default_factory=dict)
    repair: str = ""
    faults: list[str] = field(default_factory=list)

    def listen(self, page: Page) -> Page:
        """Note what goes wrong inside a page and is not shown to anybody."""
        page.on("pageerror", lambda error: self.faults.append(f"{page.url}: {error}"))
        return page

    def desk_of(self, username: str) -> Page:
        if username not in self.desks:
            context = self.chrome.new_context(
                base_url=self.house.url, viewport={"width": 1280, "height": 900}
            )
            context.set_default_timeout(WAIT_MS)
            page = self.listen(context.new_page())
            page.goto("/app/")
            sign_in(page, username, device=f"desk of {username}")
            self.desks[username] = page
        return self.desks[username]

    @property
    def row(self) -> Repair:
        return Repair.objects.select_related("unit", "customer", "assigned_to").get(id=self.repair)

    def worker(self, worksheet: Worksheet, table: dict[str, Typed], **more: Any) -> Worker:
        inside = photo(self.folder, "inside")
        return Worker(self.phone.page, bench.pack_of(worksheet), inside, table, **more)


@pytest.fixture
def day(
    house: House, chrome: Browser, driver: Playwright, books: None, tmp_path: Path, keep_look: Any
) -> Iterator[Day]:
    today = Day(house, chrome, driver, tmp_path, Phone(driver, house.url, tmp_path / "profile"))
    yield today
    print("\n".join(today.faults))
    keep_look([*today.desks.values(), *today.phone.open_pages()])
    today.phone.close()
    for page in today.desks.values():
        page.context.close()


def test_the_whole_job_from_the_counter_to_hand_back(day: Day) -> None:
    book_in_at_the_counter(day)
    scan_the_printed_tag(day)
    look_over_and_get_the_go_ahead(day)
    convert_the_mains_while_the_network_fails(day)
    swap_the_backup_cell(day)
    power_up_through_the_lamp(day)
    order_what_ran_short(day)
    check_the_safety_and_sign(day)
    tell_the_customer(day)
    hand_back(day)
    assert day.faults == []


def book_in_at_the_counter(day: Day) -> None:
    page = day.desk_of("dora")
    day.repair = desk.book_in(page, serial=SERIAL, photo=photo(day.folder, "damage", (40, 90, 60)))

    assert desk.paper(page, "Receipt").startswith(b"%PDF")
    tag = desk.paper(page, "Tag")
    assert SERIAL[:2] == "92"
    assert day.row.unit.code in text_of_pdf(tag, day.folder)
    day.phone.film = film_of(picture_of(tag, day.folder), day.folder)
    booked = customer.mail(day.house, "is with us", str(day.row.number))
    assert customer.attached_pdf(booked).startswith(b"%PDF")
    (damage,) = RepairPhoto.objects.filter(repair=day.repair)
    wait_for(lambda: Photo.objects.filter(sha256=damage.sha256).exists())


def scan_the_printed_tag(day: Day) -> None:
    page = day.listen(day.phone.open())
    sign_in(page, "anna", device="blue phone")
    bench.wait_for_worker(page)
    bench.scan(page)

    assert page.url.endswith(day.repair)
    expect(page.locator("main")).to_contain_text("leaking cell", ignore_case=True)
    expect(page.locator("main")).to_contain_text("DO NOT POWER")
    expect(page.locator("main")).to_contain_text("Save the stored sounds first.")
    expect(page.locator("main")).to_contain_text("Holes and other visible changes: yes.")


def look_over_and_get_the_go_ahead(day: Day) -> None:
    bench.change_stage(day.phone.page, "being looked over")
    assert day.row.assigned_to.username == "anna"
    lines = [("Mains conversion, 20 min", "1", "24.00"), ("Cell swap, 20 min", "1", "24.00")]
    desk.send_estimate(day.desk_of("dora"), day.repair, lines)
    asked = customer.mail(day.house, "What the repair", "will cost")

    with customer.visiting(day.chrome, day.driver, customer.link_in(asked, day.house)) as page:
        customer.agree(page, total="57.12 EUR")

    assert day.row.stage == "on_the_bench"


def convert_the_mains_while_the_network_fails(day: Day) -> None:
    page = day.phone.page
    page.goto(f"/app/repairs/{day.repair}")
    worksheet = bench.start_worksheet(page, "Mains conversion")
    worker = day.worker(worksheet, answers.MAINS_CONVERSION)
    worker.work(until="dead_pins")
    bench.wait_until_sent(page)
    sent_before = Entry.objects.filter(worksheet=worksheet).count()
    assert sent_before == worker.done

    day.house.stop_web()
    worker.work(until="res_found.2")
    a_reading_as_found_outside_its_limits_blocks_nothing(worker)
    a_reading_as_left_that_fails_blocks_until_it_is_corrected(worker)
    kept = kept_entries(page)
    assert bench.unsent(page) == len(kept) == worker.done - sent_before

    day.phone.kill()
    worker.page = day.listen(day.phone.open(f"/app/worksheets/{worksheet.id}", offline=True))
    worker.has_clock = False
    assert kept_entries(worker.page) == kept
    assert bench.unsent(worker.page) == len(kept)
    day.house.start_web()
    worker.work(until="setting")
    everything_arrives_once(day, worksheet, worker)

    worker.page.goto(f"/app/worksheets/{worksheet.id}")
    worker.work()
    bench.wait_until_sent(worker.page)
    the_conversion_is_recorded(day, worksheet, worker)


def a_reading_as_found_outside_its_limits_blocks_nothing(worker: Worker) -> None:
    step = worker.here()
    assert step["phase"] == "as_found"
    worker.answers = {**worker.answers, step["id"]: Typed("118", "fail")}
    worker.answer(step)
    worker.next()
    expect(worker.card.get_by_text("First:", exact=False)).to_be_hidden()


def a_reading_as_left_that_fails_blocks_until_it_is_corrected(worker: Worker) -> None:
    worker.answers = {**worker.answers, "res_discharged.2": Typed("80", "fail")}
    worker.work(until="res_discharged.2")
    worker.answer(worker.here())
    worker.next()
    expect(worker.card.get_by_text("First:", exact=False)).to_be_visible()

    worker.card.get_by_role("button", name="Go to that step").click()
    expect(worker.saved_lines()).to_have_count(1)
    worker.correct(Typed("40m", "pass"), "lead had slipped off")
    worker.next()
    expect(worker.card.get_by_text("First:", exact=False)).to_be_hidden()


def everything_arrives_once(day: Day, worksheet: Worksheet, worker: Worker) -> None:
    """Back in the network: what the phone kept is what the books hold, each entry once."""
    kept = kept_entries(worker.page)
    assert Entry.objects.filter(id__in=[one["id"] for one in kept]).count() == 0

    day.phone.forget_session()  # it ended while the phone was away
    day.phone.cut_off(False)
    expect(worker.page.get_by_text("Your session has ended.")).to_be_visible(timeout=30_000)
    assert kept_entries(worker.page) == kept
    sign_in_again(worker.page, "anna")
    bench.wait_until_sent(worker.page)

    held = {str(e.id): e for e in Entry.objects.filter(worksheet=worksheet)}
    assert len(held) == worker.done
    assert [held[one["id"]].value.get("as_typed") for one in kept] == [
        one["value"].get("as_typed") for one in kept
    ]
    in_order = [held[one["id"]].seq for one in kept]
    assert in_order == sorted(in_order)
    day.house.command("shop", "verify_chains")


def the_conversion_is_recorded(day: Day, worksheet: Worksheet, worker: Worker) -> None:
    worksheet.refresh_from_db()
    assert worksheet.stage == "passed"
    entries = Entry.objects.filter(worksheet=worksheet)
    assert entries.count() == worker.done
    assert Counter(entries.values_list("replaces", flat=True)).most_common(1)[0][0] is None
    pictures = {e.value["sha256"] for e in entries.filter(kind="photo")}
    wait_for(lambda: Photo.objects.filter(sha256__in=pictures).count() == len(pictures))
    level = StockLevel.objects.get(part__order_code=FUSE)
    assert level.on_hand == 5
    (move,) = Move.objects.filter(repair=day.repair, part__order_code=FUSE)
    assert (move.quantity, move.short) == (1, 0)
    wait_for(lambda: set_for(day.row) == (120, 60))


def set_for(repair: Repair) -> tuple[int | None, int | None]:
    """The supply of the unit as the last conversion left it."""
    return repair.unit.set_for_volt, repair.unit.set_for_hz


def swap_the_backup_cell(day: Day) -> None:
    page = day.phone.page
    page.goto(f"/app/repairs/{day.repair}")
    worksheet = bench.start_worksheet(page, "Backup-cell swap")
    worker = day.worker(worksheet, answers.BACKUP_CELL)
    worker.work(until="rest")
    the_timer_cannot_be_ended_early(worker)
    worker.work()
    bench.wait_until_sent(page)
    worksheet.refresh_from_db()
    assert worksheet.stage == "passed"


def the_timer_cannot_be_ended_early(worker: Worker) -> None:
    if not worker.has_clock:
        worker.page.clock.install()
        worker.has_clock = True
    worker.card.get_by_role("button", name="Start the timer").click()
    worker.page.clock.fast_forward(300_000)
    expect(worker.card.get_by_role("timer")).to_contain_text(":")
    expect(worker.card.get_by_role("button", name="Save and go on")).to_be_hidden()
    worker.card.get_by_role("button", name="Stop and start anew later").click()


def power_up_through_the_lamp(day: Day) -> None:
    page = day.phone.page
    page.goto(f"/app/repairs/{day.repair}")
    worksheet = bench.start_worksheet(page, "First power-up")
    worker = day.worker(worksheet, answers.SERIES_LAMP, has_clock=True)
    worker.work()
    bench.wait_until_sent(page)
    worksheet.refresh_from_db()
    assert worksheet.stage == "passed"
    assert day.row.unit.model_sheet.idle_watt != 9  # what was measured is noted on the sheet


def order_what_ran_short(day: Day) -> None:
    draft = wait_for(lambda: PurchaseOrder.objects.filter(stage="draft").first())
    assert [line.part.order_code for line in draft.lines.all()] == [FUSE]

    manager.approve_order(day.desk_of("max"), "Bauteilhof")

    (sent,) = wait_for(lambda: day.house.mailbox.to("orders@bauteilhof.example"))
    assert customer.attached_pdf(sent).startswith(b"%PDF")
    assert PurchaseOrder.objects.get(id=draft.id).stage == "sent"


def check_the_safety_and_sign(day: Day) -> None:
    page = day.phone.page
    page.goto(f"/app/repairs/{day.repair}")
    worksheet = bench.start_worksheet(page, "Electrical safety check")
    worker = day.worker(worksheet, {}, has_clock=True)
    worker.work(until="sign")
    bench.wait_until_sent(page)
    signing_waits_for_the_network(day, worker)
    worker.work()
    worksheet.refresh_from_db()
    assert worksheet.stage == "passed"
    wait_for(lambda: day.row.stage == "ready")


def signing_waits_for_the_network(day: Day, worker: Worker) -> None:
    """Nobody can vouch for who signs while the shop's server is out of reach."""
    day.phone.cut_off(True)
    day.phone.page.reload()
    expect(worker.card.get_by_role("button", name="Sign", exact=True)).to_be_disabled()
    assert not Entry.objects.filter(repair=day.repair, kind="sign_off").exists()
    day.phone.cut_off(False)
    day.phone.page.reload()


def tell_the_customer(day: Day) -> None:
    ready = customer.mail(day.house, "is ready to fetch", "passed its tests")
    assert customer.attached_pdf(ready).startswith(b"%PDF")
    link = customer.link_in(ready, day.house)

    with customer.visiting(day.chrome, day.driver, link) as page:
        expect(page.get_by_role("heading", name="How to fetch it")).to_be_visible()
        expect(page.locator("body")).to_contain_text("mains cord")
        report = customer.report(page)

    said = text_of_pdf(report, day.folder)
    assert "as left" in said.lower()
    assert "T160mAL250V" in said
    assert Document.objects.filter(repair=day.repair, kind="test_report").count() == 1


def hand_back(day: Day) -> None:
    desk.take_payment(day.desk_of("dora"), day.repair)
    desk.hand_back(day.desk_of("dora"), day.repair)

    assert day.row.stage == "handed_back"
    assert not day.row.unit.pieces.filter(state="here").exists()
    manager.board_says(day.desk_of("max"), "1 finished", "Fuse 5 x 20 mm T160mAL250V")


def text_of_pdf(pdf: bytes, folder: Path) -> str:
    file = folder / "paper.pdf"
    file.write_bytes(pdf)
    words = ["pdftotext", "-layout", str(file), "-"]
    return subprocess.run(words, check=True, capture_output=True, text=True).stdout
