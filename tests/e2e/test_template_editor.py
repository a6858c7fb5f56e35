"""A job that does not come with the program is written in the browser, reviewed, published, worked.

Nobody types JSON: every field is found by the words on the screen.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Playwright, expect

from shop.jobs.models import Draft, Entry, Revision
from shop.stock.models import Move
from tests.e2e.day import Day
from tests.e2e.house import House
from tests.e2e.phone import Phone
from tests.e2e.steps import bench
from tests.e2e.steps.answers import Typed
from tests.e2e.steps.editor import Editor, review
from tests.e2e.steps.staff import ThroughApi, sign_in
from tests.e2e.steps.visits import on_the_bench

TITLE = "Fan replacement"
NOISE = "Noise of the old fan at one metre"
STEPS = [
    "Unplug it", "Does the old fan turn freely?", "Photo of the old fan", "Take the grommets",
    "Airflow at the outlet", "Noise at one metre", "Supply of the fan",
    "What the next one should know", "A second pair of eyes",
]  # fmt: skip


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


def test_a_job_is_written_reviewed_published_and_worked_in_the_browser(day: Day) -> None:
    editor = Editor(day.desk_of("max"))
    editor.begin(TITLE)
    write_the_head(editor)
    write_what_is_done(editor)
    write_what_is_read(editor)
    write_how_it_ends(editor)
    editor.has_no_faults()
    assert editor.steps() == STEPS

    try_it(day)
    have_it_reviewed(day, editor)
    work_it_on_the_phone(day)

    assert day.faults == []


def write_the_head(editor: Editor) -> None:
    editor.open_part("What it is for")
    editor.fill("What it is for", "A fan that is loud or does not turn is replaced and measured.")
    editor.fill("About how long, in minutes", "25")

    editor.open_part("Cautions on every screen")
    editor.press("Add: Cautions on every screen")
    editor.fill("Cautions on every screen 1", "Fingers away from turning blades.")

    editor.open_part("Asked at the start")
    editor.press("Add a question")
    editor.fill("Question", NOISE)
    editor.choose("What is asked for", "Sound level (dB(A))")

    editor.open_part("Parts")
    editor.press("Add a part")
    editor.fill("Name of the part", "Grommet 6 mm")
    editor.fill("Order code", "GROMMET-6")
    editor.wait_until_saved()


def write_what_is_done(editor: Editor) -> None:
    editor.add_step("Caution", "Unplug it")
    editor.fill(
        "What is to be done", "Pull the plug. Local codes and licensed practice come first."
    )
    editor.unfold("Safety")
    editor.tick("Safety step")

    editor.add_step("Look", "Does the old fan turn freely?")
    editor.fill("What the tech sees", "Yes, and it is dirty")
    editor.fill("What the tech sees", "No, it is stuck", nth=1)
    editor.choose("What it means", "neither", nth=1)

    editor.add_step("Photo", "Photo of the old fan")
    editor.unfold("Only in some cases")
    editor.press("Add: Condition", within="Only after these answers")
    editor.wait_until_saved()

    editor.add_step("Take a part", "Take the grommets")
    editor.choose("Which part", "Grommet 6 mm")


def write_what_is_read(editor: Editor) -> None:
    """One limit is a number, one comes from what was asked, and a table has both ends."""
    editor.add_step("Reading", "Airflow at the outlet")
    editor.choose("What is read", "Airflow (m³/h)")
    editor.choose("Limits", "a lowest and a highest value")
    editor.choose("At least", "a fixed number")
    editor.fill("Number (m³/h)", "40")
    judged_after_the_work(editor)

    editor.add_step("Reading", "Noise at one metre")
    editor.choose("What is read", "Sound level (dB(A))")
    editor.choose("Limits", "a lowest and a highest value")
    editor.choose("At most", "something known")
    editor.pick_known(NOISE)
    judged_after_the_work(editor)

    editor.add_step("Table", "Supply of the fan")
    editor.press("Add: Column")
    editor.fill("Name of the column", "Volts")
    editor.choose("Limits", "a lowest and a highest value")
    for end, volt in (("At least", "11.4"), ("At most", "12.6")):
        editor.choose(end, "a fixed number")
        editor.fill("Number (V)", volt, nth=0 if end == "At least" else 1)
    for number, row in enumerate(("At rest", "At full speed")):
        editor.press("Add: Row")
        editor.fill("Name of the row", row, nth=number)
    editor.choose("When it is read", "as left")


def judged_after_the_work(editor: Editor) -> None:
    editor.choose("When it is read", "as left")
    editor.tick("Must pass before the worksheet can be finished")
    # Its meter is none of those the shop has written down.
    editor.choose_meters()
    editor.wait_until_saved()


def write_how_it_ends(editor: Editor) -> None:
    editor.add_step("Sign-off", "A second pair of eyes")
    editor.add_step("Note", "What the next one should know")
    editor.move_up("What the next one should know")


def try_it(day: Day) -> None:
    """A dry run on a unit nobody knows: all can pass, and nothing of it is recorded."""
    page = day.desk_of("max")
    before = Entry.objects.count()
    page.get_by_role("link", name="Try it all").click()
    page.get_by_role("button", name="Change", exact=True).click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_label(NOISE).fill("41")
    dialog.get_by_role("button", name="Try it on this").click()

    page.get_by_role("button", name="Answer all so that it passes").click()

    expect(page.get_by_text("All done: this worksheet would be passed.")).to_be_visible()
    assert Entry.objects.count() == before
    page.get_by_role("link", name=TITLE).click()


def have_it_reviewed(day: Day, editor: Editor) -> None:
    editor.ask_for_review("Are the limits right?")
    draft = Draft.objects.get(slug="fan-replacement")
    assert draft.stage == "in_review"

    review(day.desk_of("ben"), "ben", TITLE, agree=False, note="Say in which gear.")
    editor.page.reload()
    expect(editor.page.get_by_text("Sent back by Ben Litze: Say in which gear.")).to_be_visible()
    editor.open_step("Noise at one metre")
    editor.fill("What is to be done", "At full speed.")
    editor.wait_until_saved()
    editor.ask_for_review("Said.")
    review(day.desk_of("ben"), "ben", TITLE)
    editor.page.reload()
    editor.publish("The first one.")

    expect(editor.page.get_by_text("At full speed.").first).to_be_visible()
    revision = Revision.objects.get(template="fan-replacement")
    assert (revision.number, revision.reviewed_by.username) == (1, "ben")


def work_it_on_the_phone(day: Day) -> None:
    dora, anna = (ThroughApi(day.driver, day.house.url, name) for name in ("dora", "anna"))
    day.repair = on_the_bench(dora, anna, serial="9200077")["id"]
    page = day.listen(day.phone.open())
    sign_in(page, "anna", device="blue phone")
    page.goto(f"/app/repairs/{day.repair}")

    worksheet = bench.start_worksheet(page, TITLE, **{NOISE: "41"})
    typed = {
        "airflow_at_the_outlet": Typed("52", "pass"),
        "noise_at_one_metre": Typed("36", "pass"),
    }
    worker = day.worker(worksheet, typed, signs_as="ben")
    worker.work()
    bench.wait_until_sent(page)

    worksheet.refresh_from_db()
    assert worksheet.stage == "passed"
    read = Entry.objects.filter(worksheet=worksheet, kind="reading").order_by("seq")
    assert [entry.unit for entry in read] == ["m3/h", "dB(A)", "V", "V"]
    assert Move.objects.filter(repair=day.repair, part__order_code="GROMMET-6").count() == 1
    dora.close()
    anna.close()
