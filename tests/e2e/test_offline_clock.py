"""A phone whose clock is a day off: what it records arrives, in the order in which it was made.

Only the clock that the app reads is moved; the browser's own, by which it keeps cookies, is right.
"""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from tests.e2e.job import Job, require_whole, take_up
from tests.e2e.scene import work
from tests.e2e.steps import bench
from tests.e2e.steps.queue import kept_entries

A_DAY = timedelta(days=1)
MOVE_CLOCK = """
(() => {
  const Right = Date;
  let by = %d;
  globalThis.leap = (ms) => { by += ms; };
  globalThis.Date = class extends Right {
    constructor(...given) { given.length ? super(...given) : super(Right.now() + by); }
    static now() { return Right.now() + by; }
  };
})();
"""


@pytest.mark.parametrize("off", [A_DAY, -A_DAY], ids=["a day ahead", "a day behind"])
def test_entries_of_a_phone_whose_clock_is_a_day_off_arrive_in_their_order(
    job: Job, off: timedelta
) -> None:
    work(job.swap, until="rest")
    phone = job.phone("anna")
    take_up(job, phone, "anna")
    phone.close()
    page = phone.open("/app/", offline=True)
    move_clock(page, off)
    page.goto(f"/app/repairs/{job.repair}")
    for text in ("First.", "Second.", "Third."):
        bench.add_finding(page, text)
    run_a_timer(page, job)
    kept = kept_entries(page)

    phone.cut_off(False)
    bench.wait_until_sent(page)

    log, swap = job.entries(job.repair), job.entries(job.swap)
    assert [entry.value["text"] for entry in log] == ["First.", "Second.", "Third."]
    assert [str(entry.id) for entry in [*log, *swap[-1:]]] == [one["id"] for one in kept]
    for entry in log:
        assert abs(entry.made_at - timezone.now() - off) < timedelta(hours=1)
        assert abs(entry.received_at - timezone.now()) < timedelta(hours=1)
    require_whole(job.repair)
    require_whole(job.swap)
    page.goto("/app/queue")
    side = "ahead of" if off > timedelta() else "behind"
    expect(page.locator("main")).to_contain_text(f"The clock of this device is 1 day {side}")


def move_clock(page: Page, off: timedelta) -> None:
    page.context.add_init_script(MOVE_CLOCK % int(off.total_seconds() * 1000))


def run_a_timer(page: Page, job: Job) -> None:
    """Ten minutes on the clock as it runs, however wrong it is: here it leaps over them."""
    page.goto(job.address(job.swap, "rest"))
    card = page.locator("article")
    card.get_by_role("button", name="Start the timer").click()
    expect(card.get_by_role("timer")).to_contain_text("9:5")
    expect(card.get_by_role("button", name="Save and go on")).to_be_hidden()
    page.evaluate("leap(601_000)")
    card.get_by_role("button", name="Save and go on").click()
    expect(card.get_by_role("timer")).to_be_hidden()
