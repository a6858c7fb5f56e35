"""Two phones on one worksheet, both without network, agree once they are back."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.e2e.job import Job, join, require_whole, save_reading, saved_lines, take_up
from tests.e2e.steps import bench
from tests.e2e.steps.queue import kept_entries

READ = "cell_volt_found"
SEEN_MS = 40_000  # a phone asks every 15 s what others recorded


def test_two_phones_without_network_on_one_worksheet_agree_once_they_are_back(job: Job) -> None:
    phones = [job.phone("anna"), job.phone("ben")]
    annas, bens = take_up(job, phones[0], "anna"), join(job, phones[1], "ben")
    for phone in phones:
        phone.cut_off(True)
        phone.page.goto(job.address(job.swap, READ))
    save_reading(annas, "1.1")
    save_reading(bens, "1.25")
    answer_whether_it_leaked(bens)
    mine = [kept_entries(annas)[0]["id"], *(one["id"] for one in kept_entries(bens))]

    phones[0].cut_off(False)
    bench.wait_until_sent(annas)
    phones[1].cut_off(False)
    bench.wait_until_sent(bens)

    # Nobody reloads: the one that was back first is told as well.
    bens.goto(job.address(job.swap, READ))
    for page in (annas, bens):
        expect(saved_lines(page).filter(has_text="1.25")).to_be_visible(timeout=SEEN_MS)
    assert said(annas) == said(bens)
    annas.goto(job.address(job.swap, "leaked"))
    expect(saved_lines(annas)).to_contain_text("Clean")
    assert [str(entry.id) for entry in job.entries(job.swap)[-3:]] == mine
    require_whole(job.swap)

    annas.goto(job.address(job.swap, READ))
    correct(annas, "1.3", "read again")
    expect(saved_lines(bens).filter(has_text="1.3")).to_be_visible(timeout=SEEN_MS)
    assert said(annas) == said(bens)
    require_whole(job.swap)


def answer_whether_it_leaked(page: Page) -> None:
    page.locator(".here").get_by_role("button", name="Next").click()
    page.locator("article li button").filter(has=page.get_by_text("Clean", exact=True)).click()
    expect(page.locator("article h2").first).not_to_have_text("Has it leaked?")


def correct(page: Page, typed: str, reason: str) -> None:
    card = page.locator("article")
    card.get_by_role("button", name="Correct").click()
    card.get_by_label("Reason").fill(reason)
    card.locator(".display input").fill(typed)
    card.get_by_role("button", name="Save reading").click()
    expect(card.get_by_label("Reason")).to_be_hidden()
    bench.wait_until_sent(page)


def said(page: Page) -> list[str]:
    """The readings on the step as they stand, newest counting, without what was replaced."""
    return page.locator("article > .lines strong").all_inner_texts()
