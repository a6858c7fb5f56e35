"""An instrument on the bench: read over its socket, offered by the command, taken on the phone."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, Playwright, expect

from shop.benches.instruments.simulated import SimulatedInstrument, simulated
from shop.benches.models import Meter
from shop.core.models import Device
from shop.jobs.models import Entry, Worksheet
from shop.jobs.selectors import first_break_of
from tests.e2e.house import ROOT, House, wait_for
from tests.e2e.phone import Phone
from tests.e2e.seed import PEOPLE
from tests.e2e.steps.looks import faults_of, keep_picture
from tests.e2e.steps.staff import ThroughApi, sign_in
from tests.e2e.steps.visits import on_the_bench, start_worksheet
from tests.factories.working import work_to_end

# A look for offers that got no answer lets the phone wait up to half a minute for the next one.
OFFERED_MS = 60_000
Offer = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def instrument() -> SimulatedInstrument:
    return SimulatedInstrument({"voltage_dc": ["0.4"]})


@pytest.fixture
def offer(house: House, books: None, instrument: Any, tmp_path: Path) -> Iterator[Offer]:
    """Runs the command as on the PC of the bench, which knows nothing of the shop's database."""
    code = Meter.objects.get(name="Hand meter").code
    environment = {
        "PATH": os.environ["PATH"], "PYTHONPATH": str(ROOT), "METER_SHOP": house.url,
        "METER_PASSWORD": PEOPLE["ben"][2], "XDG_STATE_HOME": str(tmp_path),
    }  # fmt: skip
    with simulated(instrument) as address:

        def run(*more: str) -> subprocess.CompletedProcess[str]:
            words = ["--at", address, "--as", "ben", "--bench", "Bench 1", "--meter", code]
            return subprocess.run(
                [sys.executable, "-m", "shop", "meter", "offer", *words, "--once", *more],
                cwd=ROOT, env=environment, text=True, capture_output=True, check=False, timeout=60,
            )  # fmt: skip

        yield run


@pytest.fixture
def phone(house: House, driver: Playwright, tmp_path: Path, keep_look: Any) -> Iterator[Phone]:
    """Anna's phone, which stands at Bench 1."""
    held = Phone(driver, house.url, tmp_path / "profile")
    sign_in(held.open(), "anna", device="blue phone")
    held.page.goto("/app/account")
    held.page.get_by_label("This device stands at the bench").select_option(label="Bench 1")
    yield held
    keep_look(held.open_pages())
    held.close()


def opened(house: House, driver: Playwright, slug: str, until: str, serial: str) -> str:
    """A worksheet that Anna worked up to a step; the address of that step."""
    dora, anna = (ThroughApi(driver, house.url, name) for name in ("dora", "anna"))
    repair = on_the_bench(dora, anna, serial=serial)["id"]
    worksheet = start_worksheet(anna, repair, slug)
    tech = Worksheet.objects.get(id=worksheet)
    work_to_end(tech, tech.opened_by, until=until)
    dora.close()
    anna.close()
    return f"/app/worksheets/{worksheet}?step={until}"


def last_reading(at: str) -> Entry | None:
    worksheet = at.split("/")[3].split("?")[0]
    return Entry.objects.filter(worksheet=worksheet, kind="reading").order_by("-seq").first()


def taken(page: Page, shown: str) -> None:
    """Take what is offered and save it."""
    expect(page.get_by_text(shown, exact=True)).to_be_visible(timeout=OFFERED_MS)
    page.get_by_role("button", name="Take it").click()
    expect(page.get_by_role("button", name="Take it")).to_have_count(0)
    page.get_by_role("button", name="Save reading").click()


def test_a_reading_is_offered_taken_judged_and_kept_with_the_words_of_the_instrument(
    house: House, driver: Playwright, phone: Phone, offer: Offer, instrument: SimulatedInstrument
) -> None:
    at = opened(house, driver, "mains-conversion", "dead_pins", "9200041")
    page = phone.page
    page.goto(at)
    expect(page.get_by_role("button", name="Save reading")).to_be_visible()

    instrument.say("current_dc", "0.16")
    assert offer().returncode == 0
    expect(page.get_by_text("Hand meter reads 160 mA: Current, DC.")).to_be_visible()
    expect(page.get_by_role("button", name="Take it")).to_have_count(0)

    instrument.say("voltage_dc", "0.4")
    assert offer("--quantity", "voltage_dc").returncode == 0
    expect(page.get_by_text("400 mV", exact=True)).to_be_visible()
    assert faults_of(page) == []
    keep_picture(page, "offered-reading")
    taken(page, "400 mV")

    entry = wait_for(lambda: last_reading(at))
    assert (entry.step, entry.value_text, entry.verdict) == ("dead_pins", "0.4", "pass")
    assert entry.value["instrument"]["said"] == "+4.00000000E-01"
    assert entry.meter.name == "Hand meter"
    assert entry.made_by.username == "anna"  # who saved it, not who offered it
    assert first_break_of(entry.record) is None


def test_what_was_changed_by_hand_no_longer_says_that_an_instrument_read_it(
    house: House, driver: Playwright, phone: Phone, offer: Offer
) -> None:
    at = opened(house, driver, "mains-conversion", "dead_pins", "9200042")
    page = phone.page
    page.goto(at)
    assert offer().returncode == 0
    page.get_by_role("button", name="Take it").click()

    page.locator(".display input").fill("0.3")
    page.get_by_role("button", name="Save reading").click()

    entry = wait_for(lambda: last_reading(at))
    assert entry.value_text == "0.3"
    assert "instrument" not in entry.value


def test_reading_after_reading_fills_cell_after_cell(
    house: House, driver: Playwright, phone: Phone, offer: Offer, instrument: SimulatedInstrument
) -> None:
    at = opened(house, driver, "series-lamp-power-up", "ramp", "9200043")
    page = phone.page
    page.goto(at)
    page.locator("tbody button").first.click()

    for value in ("25", "20"):
        instrument.say("voltage_ac", value)
        assert offer("--quantity", "voltage_ac").returncode == 0
        taken(page, f"{value} V")

    wait_for(lambda: (entry := last_reading(at)) and entry.value_text == "20")
    worksheet = at.split("/")[3].split("?")[0]
    cells = Entry.objects.filter(worksheet=worksheet, step__startswith="ramp/")
    read = {entry.step: entry.value["instrument"]["said"] for entry in cells}
    assert sorted(read.values()) == ["+2.00000000E+01", "+2.50000000E+01"]
    assert len(read) == 2


def test_the_manager_withdraws_the_pc_like_a_phone(
    house: House, driver: Playwright, offer: Offer
) -> None:
    assert offer().returncode == 0
    device = Device.objects.filter(name__startswith="PC ").latest("enrolled_at")
    manager = ThroughApi(driver, house.url, "max")

    manager.post(f"devices/{device.id}/revoke/", {})

    refused = offer()
    assert refused.returncode == 1
    assert "withdrawn" in refused.stderr
    manager.close()
