"""A calculator without a repair: asked online, there again offline, bad input at its field."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from tests.e2e.house import House
from tests.e2e.phone import WAIT_MS, as_phone
from tests.e2e.steps import bench
from tests.e2e.steps.looks import faults_of
from tests.e2e.steps.staff import ThroughApi, sign_in

FUSE = "/app/calculators/fuses.scale"


@pytest.fixture(scope="module")
def phone(house: House, chrome: Browser, driver: Playwright) -> Iterator[Page]:
    """Ben's phone."""
    context = chrome.new_context(base_url=house.url, **as_phone(driver))
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.goto("/app/")
    sign_in(page, "ben", device="calculating phone")
    bench.wait_for_worker(page)
    yield page
    context.close()


@pytest.fixture
def online(phone: Page) -> Iterator[Page]:
    phone.context.set_offline(False)
    yield phone
    phone.context.set_offline(False)


@pytest.fixture(scope="module")
def ben(house: House, driver: Playwright) -> Iterator[ThroughApi]:
    session = ThroughApi(driver, house.url, "ben")
    yield session
    session.close()


def ask(page: Page, **typed: str) -> None:
    """Fill in fields by their names in the schema, and ask."""
    for name, text in typed.items():
        page.locator(f"[name={name}]").fill(text)
    page.get_by_role("button", name="Work it out").click()


def test_a_calculator_is_found_by_a_word_of_its_question(online: Page) -> None:
    online.goto("/app/bench")
    online.get_by_role("link", name="Calculate").click()

    online.get_by_label("Search calculators").fill("fuse another supply")
    online.get_by_role("link", name="Fuse for another supply").click()

    expect(online).to_have_url(f"{online.url.partition('/app/')[0]}{FUSE}")
    expect(online.get_by_role("button", name="Work it out")).to_be_visible()


# What a tech types into the search, and the calculator that answers it.
ASKED = {
    "fuse 230 V to 115 V": "fuses.scale",
    "link 10-0-200-220-240 for 230 V": "windings.for_supply",
    "100 V 50 Hz instead of 117 V 60 Hz": "windings.flux",
    "which bulb for a 40 W amplifier": "series_lamp.choose_lamp",
    "AA instead of NiCd": "cells.compare",
    "0.9 ohm ESR 100uF 63V": "capacitors.esr",
    "how long until safe 470uF 400V": "discharge.wait",
    "brown black black red brown": "marks.resistor_colours",
    "serial 92": "date_codes.years",
    "0 dBu in volts": "levels.convert",
    "20 V into 8 ohm watts": "levels.power",
    "ground bond 3 m cord": "safety.earth_limit",
    "heater 6.3 V at 245 V": "windings.secondaries",
    "ripple 2A 1000uF": "rails.ripple",
    "600V CAT II mains socket": "readings.category",
    "IEC inlet 10 A 90 C": "cords.coupler",
}


def test_what_techs_type_finds_its_calculator_among_the_first_three(online: Page) -> None:
    online.goto("/app/calculators")
    search = online.get_by_label("Search calculators")

    found = {}
    for typed in ASKED:
        search.fill(typed)
        links = online.get_by_role("main").get_by_role("listitem").get_by_role("link").all()
        found[typed] = [(one.get_attribute("href") or "").rpartition("/")[2] for one in links[:3]]

    assert {typed: names for typed, names in found.items() if ASKED[typed] not in names} == {}


def test_going_back_from_a_calculator_finds_the_search_again(online: Page) -> None:
    online.goto("/app/calculators")
    online.get_by_label("Search calculators").fill("which bulb")
    online.get_by_role("link", name="Choose the first lamp").click()
    expect(online.get_by_role("button", name="Work it out")).to_be_visible()

    online.go_back()

    expect(online.get_by_label("Search calculators")).to_have_value("which bulb")
    expect(online.get_by_role("link", name="Choose the first lamp")).to_be_visible()


def test_what_was_asked_once_is_answered_offline_and_what_was_not_is_said(
    online: Page, ben: ThroughApi
) -> None:
    given = {"old_mark": "T80mAL250V", "old_volt": 230, "new_volt": 115}
    wanted = ben.post("calculators/fuses.scale/", given)["text"]
    online.goto(FUSE)
    ask(online, old_mark="T80mAL250V", old_volt="0.23k", new_volt="115 V")
    expect(online.locator(".said")).to_have_text(wanted)

    online.context.set_offline(True)
    online.goto("/app/calculators")
    online.get_by_role("link", name="Fuse for another supply").click()

    ask(online, old_mark="T80mAL250V", old_volt="230", new_volt="115")
    expect(online.locator(".said")).to_have_text(wanted)
    expect(online.get_by_text("this is the answer of")).to_be_visible()

    ask(online, new_volt="100")
    expect(online.get_by_text("this was never asked on this phone")).to_be_visible()
    expect(online.locator(".said")).to_have_count(0)
    online.reload()
    expect(online.locator("[name=new_volt]")).to_have_value("100")

    online.get_by_text("Asked before").click()
    online.get_by_role("button", name="T80mAL250V").first.click()
    expect(online.locator(".said")).to_have_text(wanted)

    online.context.set_offline(False)
    ask(online, new_volt="100")
    expect(online.locator(".said")).not_to_have_text(wanted)
    expect(online.get_by_text("this is the answer of")).to_have_count(0)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"old_volt": "1,234"}, "Could “1,234” mean thousands?"),
        ({"old_volt": "5000"}, "At most 1 kV."),
        ({"old_volt": "160mA"}, "does not fit here: this field is in V."),
        ({"old_volt": ""}, "This is needed."),
        # This one only the server knows: no fuse of any series has 77 mA.
        ({"old_mark": "T77mAL250V"}, "77 mA"),
    ],
)
def test_bad_input_says_why_at_its_field_and_stays(
    online: Page, typed: dict[str, str], says: str
) -> None:
    online.goto(FUSE)
    good = {"old_mark": "T80mAL250V", "old_volt": "230", "new_volt": "115"}

    ask(online, **{**good, **typed})

    [(name, text)] = typed.items()
    field = online.locator(f"[name={name}]")
    expect(field).to_have_attribute("aria-invalid", "true")
    described = field.get_attribute("aria-describedby") or ""
    expect(online.locator(f"[id='{described.split()[-1]}']")).to_contain_text(says)
    expect(field).to_have_value(text)
    expect(field).to_be_focused()
    assert faults_of(online) == []


def test_a_link_brings_the_inputs_and_the_answer(online: Page) -> None:
    online.goto(FUSE)
    ask(online, old_mark="T80mAL250V", old_volt="230", new_volt="115")
    text = online.locator(".said").inner_text()
    link = online.url

    online.goto("/app/bench")
    online.goto(link)

    expect(online.locator("[name=old_mark]")).to_have_value("T80mAL250V")
    expect(online.locator(".said")).to_have_text(text)


def test_going_back_finds_the_calculator_as_it_was(online: Page) -> None:
    online.goto(FUSE)
    ask(online, old_mark="T80mAL250V", old_volt="230", new_volt="115")
    text = online.locator(".said").inner_text()

    online.get_by_role("link", name="All calculators").click()
    expect(online.get_by_label("Search calculators")).to_be_visible()
    online.go_back()

    expect(online.locator("[name=old_volt]")).to_have_value("230")
    expect(online.locator(".said")).to_have_text(text)


def test_every_worked_case_is_asked_from_its_form_as_it_stands(
    online: Page, ben: ThroughApi
) -> None:
    found: dict[str, tuple[str, str]] = {}
    rows = [row for row in ben.get("calculators/")["results"] if row["example"]]

    for row in rows:
        wanted = ben.post(f"calculators/{row['name']}/", row["example"])
        online.goto(f"/app/calculators/{row['name']}")
        online.get_by_role("button", name="Fill in the example").click()
        online.get_by_role("button", name="Work it out").click()
        expect(online.locator(".said")).to_be_visible()
        found[row["name"]] = (wanted["text"], online.locator(".said").inner_text())

    assert rows
    assert {name: both for name, both in found.items() if differ(*both)} == {}


def differ(one: str, other: str) -> bool:
    return one.split() != other.split()


def test_on_paper_stand_inputs_answer_working_and_sources_without_the_form(online: Page) -> None:
    online.goto(FUSE)
    ask(online, old_mark="T80mAL250V", old_volt="230", new_volt="115")
    expect(online.locator(".said")).to_be_visible()

    online.emulate_media(media="print")

    expect(online.get_by_role("table", name="What was given")).to_contain_text("T80mAL250V")
    expect(online.locator(".said")).to_be_visible()
    expect(online.get_by_role("table", name="How worked out")).to_be_visible()
    expect(online.get_by_role("heading", name="Sources")).to_be_visible()
    for hidden in ("Work it out", "Fill in the example"):
        expect(online.get_by_role("button", name=hidden)).to_be_hidden()
    expect(online.get_by_role("navigation", name="Main")).to_be_hidden()
    online.emulate_media(media="screen")
