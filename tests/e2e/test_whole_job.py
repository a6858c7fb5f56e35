"""The main job, end to end: from the counter to the bench to the customer's phone.

One unit goes through the shop on real processes (web server, worker, beat, PostgreSQL, Redis, mail)
and real browsers; the network fails in the middle of a worksheet and the phone's browser is killed.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Playwright, expect

from shop.documents.models import Document
from shop.jobs.models import Entry, Worksheet
from shop.repairs.models import Photo, Repair, RepairPhoto
from shop.stock.models import Move, PurchaseOrder, StockLevel
from tests.e2e.camera import film_of, photo, picture_of, text_of_pdf
from tests.e2e.day import Day
from tests.e2e.house import House, wait_for
from tests.e2e.phone import Phone
from tests.e2e.steps import answers, bench, customer, cut_off, desk, manager
from tests.e2e.steps.staff import sign_in
from tests.e2e.steps.worksheet import Worker

SERIAL = "920417"  # built in 1992: the serial starts with 92 (common practice, no source)
FUSE = "FUSE-T160mAL250V"


@pytest.fixture
def day(
    house: House, chrome: Browser, driver: Playwright, books: None, tmp_path: Path, keep_look: Any
) -> Iterator[Day]:
    today = Day(house, chrome, driver, tmp_path, Phone(driver, house.url, tmp_path / "profile"))
    yield today
    print("\n".join(today.faults))
    keep_look([*today.desks.values(), *today.phone.open_pages()])
    today.phone.close()
    house.start_web()  # it may have failed while the server was down
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
    day.phone.page.goto(f"/app/repairs/{day.repair}")
    worksheet = bench.start_worksheet(day.phone.page, "Mains conversion")
    worker = day.worker(worksheet, answers.MAINS_CONVERSION)
    worker.work(until="dead_pins")
    bench.wait_until_sent(worker.page)
    assert Entry.objects.filter(worksheet=worksheet).count() == worker.done

    day.house.stop_web()
    cut_off.work_without_a_server(worker)
    cut_off.lose_nothing_when_the_browser_is_killed(day, worksheet, worker)
    day.house.start_web()
    worker.work(until="setting")
    cut_off.send_everything_once(day, worksheet, worker)

    worker.page.goto(f"/app/worksheets/{worksheet.id}")
    worker.work()
    bench.wait_until_sent(worker.page)
    the_conversion_is_recorded(day, worksheet, worker)


def the_conversion_is_recorded(day: Day, worksheet: Worksheet, worker: Worker) -> None:
    worksheet.refresh_from_db()
    assert worksheet.stage == "passed"
    entries = Entry.objects.filter(worksheet=worksheet)
    assert entries.count() == worker.done
    (mended,) = entries.exclude(replaces=None)
    assert (mended.replaces.verdict, mended.verdict) == ("fail", "pass")
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
    worker = day.worker(worksheet, answers.BACKUP_CELL, skips={"dump_photo": "kept as a file"})
    worker.work(until="rest")
    the_timer_cannot_be_ended_early(worker)
    worker.work()
    bench.wait_until_sent(page)
    worksheet.refresh_from_db()
    assert worksheet.stage == "passed"
    (skip,) = Entry.objects.filter(worksheet=worksheet, kind="skip")
    assert (skip.step, skip.value["reason"]) == ("dump_photo", "kept as a file")


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
    # What was measured is noted on the sheet in the background.
    wait_for(lambda: day.row.unit.model_sheet.idle_watt != 9)


def order_what_ran_short(day: Day) -> None:
    draft = wait_for(lambda: PurchaseOrder.objects.filter(stage="draft").first())
    assert [line.part.order_code for line in draft.lines.all()] == [FUSE]

    manager.approve_order(day.desk_of("max"), "Bauteilhof")

    (sent,) = wait_for(lambda: day.house.mailbox.to("orders@bauteilhof.example"))
    assert customer.attached_pdf(sent).startswith(b"%PDF")
    wait_for(lambda: PurchaseOrder.objects.get(id=draft.id).stage == "sent")


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
