"""Without network from the second open on: everything for one's repairs is on the phone."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from shop.repairs.models import Photo
from tests.e2e.camera import photo
from tests.e2e.house import wait_for
from tests.e2e.job import Job, require_whole, save_photo, save_reading, saved_lines, take_up
from tests.e2e.steps import bench
from tests.e2e.steps.queue import kept_entries, rows_of


def test_from_the_second_open_a_phone_works_without_network_and_without_a_server(job: Job) -> None:
    phone = job.phone("anna")
    take_up(job, phone, "anna")
    phone.close()
    job.house.stop_web()

    page = phone.open("/app/", offline=True)
    walk_from_the_bench_to_the_worksheet(page, job)
    save_reading(page, "1.1")
    page.goto(job.address(job.look, "photo_whole"))
    save_photo(page, photo(job.folder, "front"))
    page.reload()

    expect(saved_lines(page)).to_have_count(1)
    expect(page.locator("article img")).to_be_visible()
    page.goto(job.address(job.swap, "cell_volt_found"))
    expect(saved_lines(page)).to_contain_text("1.1")
    assert bench.unsent(page) == 2
    (picture,) = rows_of(page, "photos")
    kept = kept_entries(page)

    job.house.start_web()
    phone.cut_off(False)
    bench.wait_until_sent(page)
    assert kept[0]["id"] == str(job.entries(job.swap)[-1].id)
    assert kept[1]["id"] == str(job.entries(job.look)[-1].id)
    assert wait_for(lambda: Photo.objects.filter(sha256=picture["sha256"]).first())
    require_whole(job.swap)
    require_whole(job.look)


def walk_from_the_bench_to_the_worksheet(page: Page, job: Job) -> None:
    """Bench list, repair, worksheet and step, as one gets there by tapping."""
    page.locator(f'a[href="/app/repairs/{job.repair}"]').first.click()
    expect(page.locator("main")).to_contain_text("leaking cell", ignore_case=True)
    page.locator(f'a[href^="/app/worksheets/{job.swap}"]').first.click()
    expect(page.get_by_text("No network.").first).to_be_visible()
    page.wait_for_url("**step=cell_volt_found")
    expect(page.locator("article .display input")).to_be_visible()
