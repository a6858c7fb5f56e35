"""A new version of the app comes in the middle of a worksheet, and nothing is lost.

The later release is the built app under other file names (`release.py`). The link hands it out in
place of the files that the shop's server has, and those of the old release no more.
"""

from __future__ import annotations

from playwright.sync_api import Page, expect

from deploy.launch.places import BUILT_APP
from shop.jobs.models import Entry
from tests.e2e.job import Job, require_whole, saved_lines, take_up
from tests.e2e.release import next_release
from tests.e2e.scene import work
from tests.e2e.steps import bench
from tests.e2e.steps.keypad import press
from tests.e2e.steps.queue import kept_entries

READ = "plug_pins"
NEWS = "A new version is ready."
# The old worker first ends what it has begun, such as keeping the decoder.
TAKEN_OVER_MS = 60_000
NEXT = "meta[name=release]"  # what only the later release has in its head


def test_an_update_in_the_middle_of_a_worksheet_loses_nothing(job: Job) -> None:
    work(job.swap, until="rest")
    work(job.look, until=READ)
    phone = job.phone("anna")
    page, link = take_up(job, phone, "anna"), phone.link
    link.shut = {"sync"}
    page.goto(job.address(job.swap, "rest"))
    page.locator("article").get_by_role("button", name="Start the timer").click()
    page.goto(job.address(job.look, READ))
    bench.add_finding(page, "Waits for the shop.")
    press(page.locator("article"), "0.4")
    kept = kept_entries(page)

    link.release = next_release(BUILT_APP, job.folder / "release")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.locator(".lines").get_by_text(NEWS)).to_be_visible()
    expect(page.locator(NEXT)).to_have_count(0)
    the_old_version_goes_on(page)

    page.get_by_role("button", name="Use it now").click()
    expect(page.locator(NEXT)).to_be_attached(timeout=TAKEN_OVER_MS)
    assert page.url.endswith(job.address(job.look, READ))
    expect(page.locator("article .display input")).to_have_value("0.4")
    expect(page.locator(f'a[href*="{job.swap}?step=rest"]')).to_contain_text(":")
    assert kept_entries(page) == kept
    assert bench.unsent(page) == 1

    link.shut = set()
    page.locator("article").get_by_role("button", name="Save reading").click()
    expect(saved_lines(page)).to_have_count(1)
    bench.wait_until_sent(page)
    assert Entry.objects.filter(id=kept[0]["id"]).count() == 1
    assert job.entries(job.look)[-1].value["as_typed"] == "0.4"
    require_whole(job.look)


def the_old_version_goes_on(page: Page) -> None:
    """Also with pages that were never opened: their code comes from the phone."""
    page.get_by_role("link", name="The whole record").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Record of")
    page.go_back()
    expect(page.locator("article .display input")).to_have_value("0.4")
