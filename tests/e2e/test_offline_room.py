"""A phone without room: nothing is half kept, what was typed stays, and the rest goes on."""

from __future__ import annotations

from playwright.sync_api import CDPSession, Page, expect

from tests.e2e.camera import photo
from tests.e2e.job import Job, LinkedPhone, require_whole, saved_lines, take_up
from tests.e2e.steps import bench
from tests.e2e.steps.keypad import press
from tests.e2e.steps.queue import kept_entries, rows_of

READ = "cell_volt_found"
NO_ROOM = "There is no room on this device"


def test_what_does_not_fit_on_a_full_phone_stays_typed_and_is_saved_once_there_is_room(
    job: Job,
) -> None:
    phone = job.phone("anna")
    take_up(job, phone, "anna").goto(f"/app/repairs/{job.repair}")
    phone.cut_off(True)
    bench.add_finding(phone.page, "Recorded while there was room.")
    type_reading(phone.page, job)
    (kept,) = kept_entries(phone.page)
    phone.close()

    page = phone.open("about:blank", offline=True)
    quota = limit_room(phone, 1)
    page.goto(job.address(job.swap, READ))
    expect(page.locator("article .display input")).to_have_value("1.1")
    page.locator("article").get_by_role("button", name="Save reading").click()
    expect(page.locator("body")).to_contain_text(NO_ROOM)
    expect(page.locator("article .display input")).to_have_value("1.1")
    a_photo_that_does_not_fit_stays_in_view(page, job)
    assert kept_entries(page) == [kept]
    assert rows_of(page, "photos") == []

    phone.cut_off(False)
    bench.wait_until_sent(page)
    assert [str(entry.id) for entry in job.entries(job.repair)] == [kept["id"]]

    quota.send("Storage.overrideQuotaForOrigin", {"origin": phone.url})
    page.locator("article").get_by_role("button", name="Save photo").click()
    expect(saved_lines(page)).to_have_count(1)
    page.goto(job.address(job.swap, READ))
    expect(page.locator("article .display input")).to_have_value("1.1")
    page.locator("article").get_by_role("button", name="Save reading").click()
    expect(saved_lines(page)).to_have_count(1)
    bench.wait_until_sent(page)
    assert job.entries(job.swap)[-1].value["as_typed"] == "1.1"
    assert job.entries(job.look)[-1].kind == "photo"
    require_whole(job.swap)
    require_whole(job.look)


def type_reading(page: Page, job: Job) -> None:
    page.goto(job.address(job.swap, READ))
    press(page.locator("article"), "1.1")


def limit_room(phone: LinkedPhone, size: int) -> CDPSession:
    """The room of the app in bytes, told to a browser that has not yet asked how much there is.

    The session must stay open: with it the limit would go.
    """
    assert phone.context is not None
    session = phone.context.new_cdp_session(phone.page)
    limit = {"origin": phone.url, "quotaSize": size}
    session.send("Storage.overrideQuotaForOrigin", limit)
    return session


def a_photo_that_does_not_fit_stays_in_view(page: Page, job: Job) -> None:
    page.goto(job.address(job.look, "photo_whole"))
    page.locator("article input[type=file]").set_input_files(photo(job.folder, "front"))
    page.locator("article").get_by_role("button", name="Save photo").click()
    expect(page.locator("body")).to_contain_text(NO_ROOM)
    expect(page.locator("article").get_by_role("button", name="Save photo")).to_be_enabled()
    expect(saved_lines(page)).to_have_count(0)
