"""A worksheet goes on without network, through a killed browser, and arrives whole."""

from __future__ import annotations

from playwright.sync_api import Locator, expect

from shop.jobs.models import Entry, Worksheet
from tests.e2e.day import Day
from tests.e2e.steps import bench
from tests.e2e.steps.answers import Typed
from tests.e2e.steps.looks import faults_of
from tests.e2e.steps.queue import kept_entries
from tests.e2e.steps.staff import sign_in_again
from tests.e2e.steps.worksheet import Worker

FINDING = "Hums at 100 Hz when cold."


def work_without_a_server(worker: Worker) -> None:
    """What is entered meanwhile is kept on the phone and counted."""
    done_before = worker.done
    bench.add_finding(worker.page, FINDING)
    worker.work(until="res_found.2")
    a_reading_as_found_outside_its_limits_blocks_nothing(worker)
    a_reading_as_left_that_fails_blocks_until_it_is_corrected(worker)

    kept = kept_entries(worker.page)
    assert len(kept) == worker.done - done_before + 1
    assert bench.unsent(worker.page) == len(kept)


def a_reading_as_found_outside_its_limits_blocks_nothing(worker: Worker) -> None:
    step = worker.here()
    assert step["phase"] == "as_found"
    worker.answers = {**worker.answers, step["id"]: Typed("118", "fail")}
    worker.answer(step)
    worker.next()
    expect(way_out(worker)).to_be_hidden()


def a_reading_as_left_that_fails_blocks_until_it_is_corrected(worker: Worker) -> None:
    worker.answers = {**worker.answers, "res_discharged.2": Typed("80", "fail")}
    worker.work(until="res_discharged.2")
    worker.answer(worker.here())
    worker.next()
    expect(way_out(worker)).to_be_visible()

    way_out(worker).click()
    expect(worker.saved_lines()).to_have_count(1)
    worker.correct(Typed("40m", "pass"), "lead had slipped off")
    worker.next()
    expect(way_out(worker)).to_be_hidden()


def way_out(worker: Worker) -> Locator:
    """What a locked step shows in place of its answers."""
    return worker.card.get_by_role("button", name="Go to that step")


def lose_nothing_when_the_browser_is_killed(day: Day, worksheet: Worksheet, worker: Worker) -> None:
    kept, step = kept_entries(worker.page), worker.here()

    day.phone.kill()
    worker.page = day.listen(day.phone.open(f"/app/worksheets/{worksheet.id}", offline=True))
    worker.has_clock = False

    assert kept_entries(worker.page) == kept
    assert bench.unsent(worker.page) == len(kept)
    assert worker.here() == step
    assert faults_of(worker.page) == []  # nor is anybody shut out of the screen without network


def send_everything_once(day: Day, worksheet: Worksheet, worker: Worker) -> None:
    """Back in the network and signed in again: the books hold what the phone kept, each once."""
    kept = kept_entries(worker.page)
    assert not Entry.objects.filter(id__in=[one["id"] for one in kept]).exists()

    day.phone.forget_session()  # it ended while the phone was away
    day.phone.cut_off(False)
    expect(worker.page.get_by_text("Your session has ended.")).to_be_visible(timeout=30_000)
    assert kept_entries(worker.page) == kept
    sign_in_again(worker.page, "anna")
    bench.wait_until_sent(worker.page)

    held = {str(entry.id): entry for entry in Entry.objects.filter(repair=day.repair)}
    assert len(held) == worker.done + 1
    assert [same_part(held[one["id"]].value) for one in kept] == [
        same_part(one["value"]) for one in kept
    ]
    on_sheet = [held[one["id"]].seq for one in kept if one["record"] == str(worksheet.id)]
    assert on_sheet == sorted(on_sheet)
    day.house.command("shop", "verify_chains")


def same_part(value: dict[str, object]) -> dict[str, object]:
    """What was recorded, without what each side judges for itself."""
    apart = {"judged", "verdict", "low", "high", "expanded_uncertainty"}
    return {key: what for key, what in value.items() if key not in apart}
