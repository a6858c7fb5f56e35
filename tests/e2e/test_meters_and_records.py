"""A meter turns out to be wrong: written down, calibrated, and all it read found in one look."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from shop.core.models import Person
from shop.jobs.models import Entry, Worksheet
from shop.repairs.models import Repair
from tests.e2e.books import looking_into
from tests.e2e.house import House
from tests.e2e.phone import WAIT_MS
from tests.e2e.scene import Scene
from tests.e2e.steps.staff import ThroughApi, sign_in
from tests.factories.jobs import Phone


@pytest.fixture(scope="module")
def books(house: House, django_db_blocker: Any) -> Iterator[None]:
    """The shop's own database, to look and to tamper in."""
    with django_db_blocker.unblock(), looking_into(house.database):
        yield


@pytest.fixture(scope="module")
def manager(house: House, chrome: Browser) -> Iterator[Page]:
    context = chrome.new_context(base_url=house.url, viewport={"width": 1280, "height": 900})
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.goto("/app/")
    sign_in(page, "max", device="manager's desk")
    yield page
    context.close()


def test_a_meter_is_written_down_and_its_calibration_noted(scene: Scene, manager: Page) -> None:
    manager.goto("/app/board")
    manager.get_by_role("link", name="Meters").click()
    manager.get_by_role("button", name="New meter").click()
    sheet = manager.get_by_role("dialog")
    sheet.get_by_label("Name, as it is called at the bench").fill("Hand meter 7")
    sheet.get_by_label("Add a quantity").select_option(label="Voltage, DC")
    sheet.get_by_label("± % of reading").fill("about half")
    sheet.get_by_role("button", name="Save").click()
    expect(sheet.get_by_text("A number is needed here.")).to_be_visible()

    sheet.get_by_label("± % of reading").fill("0,5")
    sheet.get_by_label("± counts").fill("2")
    sheet.get_by_label("One count").fill("0.01")
    sheet.get_by_role("button", name="Save").click()
    expect(manager.get_by_role("heading", name="Hand meter 7")).to_be_visible()
    expect(manager.get_by_text("nobody wrote down when it is due")).to_be_visible()

    manager.get_by_role("button", name="Note a calibration").click()
    sheet.get_by_label("Calibrated on").fill("2024-02-01")
    sheet.get_by_label("Due again on").fill("2025-02-01")
    sheet.get_by_label("Certificate").fill("K 7")
    sheet.get_by_role("button", name="Save").click()

    expect(manager.get_by_text("overdue since 1 Feb 2025")).to_be_visible()
    expect(manager.get_by_text("± (0.5 % + 2 × 10 mV)")).to_be_visible()


def test_everything_read_with_a_meter_is_found_with_what_it_would_have_been(
    house: House, driver: Playwright, scene: Scene, books: None, manager: Page
) -> None:
    # By hand: a meter that reads 49 % too low shows 5 V for 5 / 0.51 = 9.80 V.
    read_in_the_log(house, driver, scene)
    manager.goto(f"/app/meters/{scene.meter}")

    manager.get_by_label("Since").fill("2020-01-01")
    manager.get_by_label("It reads too high by (%)").fill("-49")
    manager.get_by_role("button", name="Look").click()

    expect(manager.get_by_text(re.compile(r"results? would have been"))).to_be_visible()
    row = manager.locator("tbody tr", has_text="pin 8")
    expect(row).to_contain_text("pin 8")
    expect(row).to_contain_text("4.75 V – 5.25 V")
    expect(row).to_contain_text(re.compile(r"9\.80\d* V"))


def read_in_the_log(house: House, driver: Playwright, scene: Scene) -> None:
    """Anna reads 5 V on a pin with the meter."""
    anna = ThroughApi(driver, house.url, "anna")
    phone = Phone(Person.objects.get(username="anna"), repair=Repair.objects.get(id=scene.in_work))
    more = {"name": "pin 8", "quantity": "voltage_dc", "low": 4.75, "high": 5.25}
    operation = phone.read(None, "5", meter=scene.meter, **more)
    device = anna.me["device"]["id"]
    body = {"format": 1, "device_id": device, "known": {}, "operations": [operation]}
    (result,) = anna.post("sync/", body)["results"]
    anna.close()
    assert result["outcome"] == "applied", result


def test_a_record_says_whether_its_chain_holds(scene: Scene, books: None, manager: Page) -> None:
    worksheet = Worksheet.objects.get(id=scene.worksheets["safety-check"])
    count = worksheet.entries.count()

    manager.goto(f"/app/worksheets/{worksheet.id}")
    manager.get_by_role("link", name="The whole record").click()
    expect(manager.get_by_text(f"The chain holds: {count} entries")).to_be_visible()

    second = Entry.objects.get(record=worksheet.id, seq=2)
    Entry.objects.filter(id=second.id).update(step="another")
    manager.reload()
    expect(manager.get_by_text("The chain does not hold at entry 2")).to_be_visible()

    # Others look at this worksheet as well.
    Entry.objects.filter(id=second.id).update(step=second.step)
    manager.reload()
    expect(manager.get_by_text("The chain holds")).to_be_visible()
