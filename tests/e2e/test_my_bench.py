"""A repair goes from one bench to the other, with a note that names whom it waits for."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from shop.jobs.models import Mention
from shop.repairs.models import Repair, StageEvent
from tests.e2e.house import wait_for
from tests.e2e.job import Job, require_whole, take_up
from tests.e2e.phone import Phone, seen_soon
from tests.e2e.steps import bench
from tests.e2e.steps.keypad import enter
from tests.e2e.steps.queue import wait_until_kept
from tests.e2e.steps.staff import sign_in

WORDS = "the cell is out, the pads are green."


def test_a_handed_over_repair_goes_on_offline_and_late_entries_of_the_old_phone_arrive(
    job: Job,
) -> None:
    hers, his = job.phone("anna"), job.phone("ben")
    anna = take_up(job, hers, "anna")
    write_to_ben(anna, job)
    hand_to_ben(anna)
    hers.cut_off(True)
    find_something_late(anna)

    ben = open_bench(his, job)
    expect(ben.get_by_text("Anna Lot writes to you about")).to_be_visible()
    expect(ben.get_by_text(WORDS)).to_be_visible()
    take(ben, job)
    wait_until_kept(ben, job.swap, job.look)
    his.cut_off(True)
    go_on_without_network(ben, job)

    his.cut_off(False)
    hers.cut_off(False)
    bench.wait_until_sent(ben)
    bench.wait_until_sent(anna)
    assert [entry.made_by.username for entry in job.entries(job.swap)[-1:]] == ["ben"]
    kinds = [(entry.kind, entry.made_by.username) for entry in job.entries(job.repair)]
    assert kinds == [("note", "anna"), ("finding", "anna")]
    for record in (job.swap, job.repair):
        require_whole(record)
    seen = Mention.objects.filter(entry__repair=job.repair, seen_at__isnull=False)
    assert wait_for(lambda: [mention.person.username for mention in seen.all()]) == ["ben"]


def write_to_ben(page: Page, job: Job) -> None:
    page.goto(f"/app/repairs/{job.repair}")
    page.get_by_role("button", name="Add to the bench log").click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("button", name="Note", exact=True).click()
    text = dialog.get_by_role("textbox", name="Note")
    text.press_sequentially("@be")
    dialog.get_by_role("button", name="@Ben Litze").click()
    text.press_sequentially(WORDS)
    expect(dialog.get_by_text("Waits for: Ben Litze")).to_be_visible()
    dialog.get_by_role("button", name="Save note").click()
    expect(dialog).to_be_hidden()
    bench.wait_until_sent(page)


def hand_to_ben(page: Page) -> None:
    page.get_by_role("button", name="Hand over").click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_label("Ben Litze").check()
    dialog.get_by_label("What they should know").fill("Lunch. The holder is in the bag.")
    dialog.get_by_role("button", name="Hand over").click()
    expect(dialog).to_be_hidden()
    expect(page.get_by_text("Ben Litze has it in hand.")).to_be_visible()


def find_something_late(page: Page) -> None:
    """The sheet opens on what was added last: a note."""
    page.get_by_role("button", name="Add to the bench log").click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("button", name="Finding", exact=True).click()
    dialog.get_by_label("In words").fill("A hairline crack beside the holder.")
    dialog.get_by_role("button", name="Save finding").click()
    expect(dialog).to_be_hidden()
    seen_soon(lambda: bench.unsent(page) == 1)


def open_bench(phone: Phone, job: Job) -> Page:
    page = phone.open()
    sign_in(page, "ben", device="phone of ben")
    bench.wait_for_worker(page)
    page.goto("/app/bench")
    expect(page.get_by_text("Lunch. The holder is in the bag.")).to_be_visible()
    return page


def take(page: Page, job: Job) -> None:
    repair = Repair.objects.get(id=job.repair)
    page.get_by_role("button", name="Seen: Anna Lot").click()
    expect(page.get_by_text(WORDS)).to_have_count(0)
    named = page.get_by_role("button", name=f"repair {repair.number}", exact=False)
    named.first.click()
    expect(page.locator(f'a[href="/app/worksheets/{job.swap}"]')).to_contain_text("go on at step")
    last = StageEvent.objects.filter(repair=repair).exclude(hands="").order_by("at", "id").last()
    assert last is not None
    assert (last.hands, last.by and last.by.username) == ("taken", "ben")


def go_on_without_network(page: Page, job: Job) -> None:
    page.reload()
    expect(page.get_by_text("No network. This is as it was")).to_be_visible()
    page.locator(f'a[href="/app/worksheets/{job.swap}"]').click()
    page.wait_for_url("**step=cell_volt_found")
    enter(page.locator("article"), "1.2", keypad=True)
    expect(page.locator("article").get_by_text("not sent yet").first).to_be_visible()
    page.goto("/app/bench")
    seen_soon(lambda: bench.unsent(page) == 1)  # the count is read after the page is there
