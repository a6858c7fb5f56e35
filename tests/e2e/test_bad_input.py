"""What is typed wrong gets a clear message at its field, and nothing is lost."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, Playwright, expect

from tests.e2e.house import House
from tests.e2e.phone import WAIT_MS, as_phone
from tests.e2e.steps import bench
from tests.e2e.steps.looks import faults_of
from tests.e2e.steps.staff import ThroughApi, sign_in
from tests.e2e.steps.visits import on_the_bench


@pytest.fixture(scope="module")
def phone(house: House, chrome: Browser, driver: Playwright) -> Iterator[Page]:
    """Ben's phone."""
    context = chrome.new_context(base_url=house.url, **as_phone(driver))
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.goto("/app/")
    sign_in(page, "ben", device="green phone")
    bench.wait_for_worker(page)
    yield page
    context.close()


@pytest.fixture(scope="module")
def dora(house: House, driver: Playwright) -> Iterator[ThroughApi]:
    session = ThroughApi(driver, house.url, "dora")
    yield session
    session.close()


@pytest.fixture(scope="module")
def ben(house: House, driver: Playwright) -> Iterator[ThroughApi]:
    session = ThroughApi(driver, house.url, "ben")
    yield session
    session.close()


@pytest.fixture(scope="module")
def repair(dora: ThroughApi, ben: ThroughApi) -> str:
    return str(on_the_bench(dora, ben, serial="9212345")["id"])


@pytest.fixture
def reading(phone: Page, repair: str) -> Locator:
    """The form of a resistance reading in the bench log."""
    phone.goto(f"/app/repairs/{repair}")
    phone.get_by_role("button", name="Add to the bench log").click()
    dialog = phone.get_by_role("dialog")
    dialog.get_by_role("button", name="Reading").click()
    dialog.get_by_label("Where").fill("across R12")
    dialog.get_by_label("Quantity").select_option("resistance")
    dialog.locator(".display input").fill("")  # a draft of an earlier reading is kept
    return dialog


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("1,234", "Could “1,234” mean thousands?"),
        ("-47", "cannot be below zero"),
        ("47m", "m is milli. Type mohm if you mean it, M for mega."),
        ("12V", "does not fit here: this step asks for"),
        ("4k7k", "does not fit here"),
    ],
)
def test_a_reading_that_cannot_be_read_says_why_and_stays(
    reading: Locator, typed: str, says: str
) -> None:
    field = reading.locator(".display input")

    field.fill(typed)

    expect(reading.locator(".full")).to_contain_text(says)
    expect(reading.get_by_role("button", name="Save reading")).to_be_disabled()
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_value(typed)


def test_what_was_typed_survives_a_reload(phone: Page, repair: str, reading: Locator) -> None:
    reading.locator(".display input").fill("4k7")
    expect(reading.locator(".full")).to_contain_text("4700")
    phone.wait_for_timeout(300)  # the draft is written a moment after the last key

    phone.reload()
    phone.get_by_role("button", name="Add to the bench log").click()
    dialog = phone.get_by_role("dialog")
    dialog.get_by_role("button", name="Reading").click()
    dialog.get_by_label("Quantity").select_option("resistance")

    expect(dialog.locator(".display input")).to_have_value("4k7")


def test_a_mistyped_code_is_caught_by_its_check_character(
    phone: Page, dora: ThroughApi, repair: str
) -> None:
    code = dora.get(f"repairs/{repair}/")["unit"]["code"]
    wrong = code[:-1] + ("0" if code[-1] != "0" else "1")
    phone.goto("/app/scan")
    field = phone.get_by_label("Code on the tag")

    field.fill(wrong)
    phone.get_by_role("button", name="Find", exact=True).click()

    expect(phone.get_by_text("The last character does not fit the others")).to_be_visible()
    expect(field).to_have_value(wrong)
    field.fill(code.lower())
    phone.get_by_role("button", name="Find", exact=True).click()
    phone.wait_for_url(f"**/app/repairs/{repair}")


def test_a_file_that_is_no_picture_is_not_taken(phone: Page, repair: str, tmp_path: Path) -> None:
    text = tmp_path / "letter.jpg"
    text.write_text("This is a letter.")
    phone.goto(f"/app/repairs/{repair}")
    phone.get_by_role("button", name="Add to the bench log").click()
    dialog = phone.get_by_role("dialog")
    dialog.get_by_role("button", name="Photo").click()

    dialog.locator("input[type=file]").set_input_files(text)

    expect(dialog.get_by_text("This file could not be read as a picture.")).to_be_visible()
    expect(dialog.get_by_role("button", name="Save photo")).to_be_hidden()
    assert bench.unsent(phone) == 0


def test_an_entry_for_a_repair_closed_meanwhile_is_refused_kept_and_can_be_thrown_away(
    phone: Page, dora: ThroughApi, ben: ThroughApi
) -> None:
    repair = on_the_bench(dora, ben, serial="9212346")["id"]
    phone.goto(f"/app/repairs/{repair}")
    expect(phone.get_by_role("button", name="Add to the bench log")).to_be_visible()
    phone.context.set_offline(True)
    bench.add_finding(phone, "Hums at 100 Hz.")
    close_unrepaired(dora, repair)

    phone.context.set_offline(False)

    badge = phone.get_by_test_id("unsent")
    expect(badge).to_contain_text("1 refused", timeout=30_000)
    badge.click()
    expect(phone.get_by_text("The repair was closed meanwhile.").first).to_be_visible()
    expect(phone.get_by_text("Hums at 100 Hz.")).to_be_visible()
    assert faults_of(phone) == []
    phone.get_by_role("button", name="Throw away").click()
    phone.get_by_role("button", name="Really throw away").click()
    expect(phone.get_by_text("Everything on this phone has been sent.")).to_be_visible()
    assert dora.get(f"repairs/{repair}/")["stage"] == "handed_back"


def close_unrepaired(dora: ThroughApi, repair: str) -> None:
    """The customer declines and fetches it."""
    dora.change_stage(repair, "declined", "too dear")
    due = dora.get(f"repairs/{repair}/account/")["due_minor"]
    if due > 0:
        dora.post(f"repairs/{repair}/payments/", {"id": repair, "amount_minor": due, "how": "cash"})
    version = dora.get(f"repairs/{repair}/")["version"]
    body = {"id": repair, "pieces": [], "is_closed_up": True}
    dora.post(f"repairs/{repair}/hand-back/", body, **{"If-Match": f'"{version}"'})


def test_a_supply_that_the_country_does_not_have_is_asked_about_and_nothing_is_lost(
    house: House, chrome: Browser, dora: ThroughApi
) -> None:
    context = chrome.new_context(base_url=house.url)
    page = context.new_page()
    page.goto("/app/")
    sign_in(page, "dora", device="counter")
    page.goto("/app/book-in")
    page.get_by_role("button", name="Save and print").click()
    expect(page.get_by_text("Please fill this in.").first).to_be_visible()

    fill_in(page)
    page.get_by_label("Use at, in volts").fill("120")
    page.get_by_role("button", name="Save and print").click()

    meant = page.get_by_label("This supply is meant all the same")
    expect(meant).to_be_visible()
    expect(page.get_by_label("Serial number", exact=True)).to_have_value("9212347")
    meant.check()
    page.get_by_role("button", name="Save and print").click()
    page.wait_for_url("**/app/booked/*")
    context.close()


def fill_in(page: Page) -> None:
    """The least that a booking needs, for use in Germany."""
    page.get_by_role("combobox", name="Name").fill("Otto Kunde")
    page.get_by_label("Phone").fill("030 23125 72")
    page.get_by_role("combobox", name="Make").fill("Nebelhorn")
    page.get_by_label("Model", exact=True).fill("Echo 92")
    page.get_by_label("Serial number", exact=True).fill("9212347")
    page.get_by_label("What is wrong, in the customer's words").fill("No sound.")
    page.get_by_label("Name of who signs").fill("Otto Kunde")
