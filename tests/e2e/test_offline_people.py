"""Several people, several phones: whose entries they are, and what each sees of the others'."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from shop.jobs.models import Entry
from tests.e2e.job import Job, join, require_whole, save_reading, take_up
from tests.e2e.steps import bench
from tests.e2e.steps.queue import kept_entries
from tests.e2e.steps.staff import sign_in

READ = "cell_volt_found"
SEEN_MS = 40_000  # a phone asks every 15 s what others recorded


def test_an_entry_of_a_worksheet_that_was_stopped_meanwhile_says_so_where_it_was_made(
    job: Job,
) -> None:
    away = job.phone("ben")
    bens = join(job, away, "ben")
    away.cut_off(True)
    bens.goto(job.address(job.swap, READ))
    save_reading(bens, "1.1")
    annas = take_up(job, job.phone("anna"), "anna")
    stop_worksheet(annas, job)

    away.cut_off(False)

    expect(bens.get_by_test_id("unsent")).to_contain_text("1 refused", timeout=SEEN_MS)
    expect(bens.locator("main")).to_contain_text("stopped", ignore_case=True)
    bens.get_by_test_id("unsent").click()
    expect(bens.locator("main")).to_contain_text("The worksheet was stopped meanwhile.")
    bens.get_by_role("button", name="Throw away").click()
    bens.get_by_role("button", name="Really throw away").click()
    expect(bens.get_by_test_id("unsent")).to_contain_text("All sent")
    assert kept_entries(bens) == []
    require_whole(job.swap)


def stop_worksheet(page: Page, job: Job) -> None:
    page.goto(job.address(job.swap, READ))
    page.get_by_text("Stop this worksheet").first.click()
    page.get_by_label("Reason").fill("unit goes back unrepaired")
    page.locator("details").get_by_role("button").filter(
        has_text=re.compile("stop", re.IGNORECASE)
    ).click()
    expect(page.locator("main")).to_contain_text("Stopped")


def test_unsent_work_waits_for_its_maker_when_somebody_else_signs_in(job: Job) -> None:
    phone = job.phone("shared")
    page = take_up(job, phone, "anna")
    job.house.stop_web()
    page.goto(job.address(job.swap, READ))
    save_reading(page, "1.1")
    (annas,) = kept_entries(page)

    page.goto("/app/account")
    page.get_by_role("button", name="Sign out").click()
    leaving = page.get_by_role("dialog")
    expect(leaving).to_contain_text("1 entry has not been sent.")
    leaving.get_by_role("button", name="Sign out all the same").click()
    expect(page.get_by_label("User name")).to_be_visible()
    job.house.start_web()

    expect(page.locator("body")).to_contain_text("1 entry of Anna Lot waits on this phone.")
    sign_in(page, "ben", device="shared phone")
    page.goto(f"/app/repairs/{job.repair}")
    bench.add_finding(page, "Ben was here.")
    bench.wait_until_sent(page)
    assert Entry.objects.filter(repair=job.repair, kind="finding").get().made_by.username == "ben"
    assert kept_entries(page) == [annas]
    assert not Entry.objects.filter(id=annas["id"]).exists()

    page.goto("/app/account")
    page.get_by_role("button", name="Sign out").click()
    sign_in(page, "anna", device="shared phone")
    bench.wait_until_sent(page)
    sent = Entry.objects.get(id=annas["id"])
    assert sent.made_by.username == "anna"
    assert kept_entries(page) == []
    require_whole(job.swap)
