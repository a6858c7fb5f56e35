"""A model sheet written from nothing at the bench, and the conversion that then knows its links."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, Playwright, expect

from shop.units.models import ModelSheet
from tests.e2e.house import House
from tests.e2e.phone import WAIT_MS
from tests.e2e.steps import bench, visits
from tests.e2e.steps.looks import faults_of
from tests.e2e.steps.staff import ThroughApi, sign_in

UNIT = {"make": "Sollwerk", "model": "Breitband 4", "serial": "88-0031"}
# Supply, links, line and neutral, fuse as marked.
SETTINGS = (
    ("115", (("1", "3"), ("2", "4")), ("1", "2"), "T160mAL250V"),
    ("230", (("2", "3"),), ("1", "4"), "T80mAL250V"),
)


@pytest.fixture
def screen(house: House, chrome: Browser) -> Iterator[Page]:
    """Ben at a desktop."""
    context = chrome.new_context(base_url=house.url, viewport={"width": 1280, "height": 900})
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.goto("/app/")
    sign_in(page, "ben", device="desk of the bench")
    yield page
    context.close()


@pytest.fixture
def repair(house: House, driver: Playwright) -> Iterator[str]:
    """A unit that nothing is known of, on Ben's bench; it came set for 230 V and goes to 115 V."""
    dora, ben = (ThroughApi(driver, house.url, name) for name in ("dora", "ben"))
    made = visits.on_the_bench(
        dora, ben, serial=UNIT["serial"], unit={"model_sheet": None, **UNIT},
        use_at_volt=115, use_at_hz=60,
    )  # fmt: skip
    yield made["id"]
    dora.close()
    ben.close()


def add(page: Page, title: str) -> None:
    page.get_by_role("button", name=f"Add: {title}", exact=True).click()


def write_primary(page: Page) -> None:
    add(page, "Primary")
    add(page, "Section")  # one stands there already
    for place, (name, start, finish) in enumerate((("A", "1", "2"), ("B", "3", "4"))):
        at = f"primary.sections[{place}]"
        page.locator(f'[name="{at}.name"]').fill(name)
        page.locator(f'[name="{at}.start"]').fill(start)
        page.locator(f'[name="{at}.finish"]').fill(finish)
        page.locator(f'[name="{at}.rated_volt"]').fill("115")
    page.locator('[name="primary.plate_hz[0]"]').fill("50")


def write_supply(page: Page, place: int, setting: tuple[str, ...]) -> Locator:
    """A supply with its links and its fuse. Answers its card."""
    volt, links, (line, neutral), fuse = setting
    add(page, "Supply")
    page.locator(f'[name="supplies[{place}].volt"]').fill(volt)
    page.locator(f'[name="supplies[{place}].name"]').fill(f"{volt} V")
    page.locator(f'[name="supplies[{place}].fuse"]').fill(fuse)
    page.locator(f'[name="supplies[{place}].fuse_source"]').fill("rating plate")
    card = page.get_by_role("group", name=f"{volt} V", exact=True)
    card.get_by_label("Line to").select_option(line)
    card.get_by_label("Neutral to").select_option(neutral)
    for one, other in links:
        card.get_by_label("Link from").select_option(one)
        card.get_by_label("to", exact=True).select_option(other)
        card.get_by_role("button", name="Link", exact=True).click()
    return card


@pytest.mark.usefixtures("books")
def test_a_sheet_is_written_from_nothing_and_a_conversion_knows_its_links(
    screen: Page, repair: str
) -> None:
    screen.goto(f"/app/repairs/{repair}")
    screen.get_by_role("link", name="New from this unit").click()
    expect(screen.get_by_label("Make", exact=True)).to_have_value(UNIT["make"])
    screen.locator('[name="kind"]').fill("preamplifier")
    screen.get_by_label("Supply", exact=True).select_option("linear")
    write_primary(screen)

    cards = [write_supply(screen, place, one) for place, one in enumerate(SETTINGS)]

    # Each arrangement is drawn and judged while it is written.
    expect(cards[0].get_by_role("img")).to_have_attribute(
        "aria-label", "Joined: 1–3, 2–4; line to 1, neutral to 2."
    )
    expect(cards[1].get_by_text("These links make 230 V")).to_be_visible()
    expect(cards[1].get_by_text("T80mAL250V: 80 mA")).to_be_visible()
    assert "\n".join(faults_of(screen)) == ""

    # What is typed survives a reload.
    screen.wait_for_timeout(300)
    screen.reload()
    expect(screen.locator('[name="supplies[1].fuse"]')).to_have_value("T80mAL250V")

    screen.get_by_role("button", name="Save the sheet").click()
    expect(screen.get_by_text("The model sheet is saved.")).to_be_visible()
    sheet = ModelSheet.objects.get(make=UNIT["make"])
    assert [row["links"] for row in sheet.supplies] == [[["1", "3"], ["2", "4"]], [["2", "3"]]]

    # A change is told in the history.
    screen.wait_for_url(f"**/app/model-sheets/{sheet.id}")
    screen.get_by_text("Power and cord").click()
    screen.locator('[name="rated_watt"]').fill("12")
    screen.get_by_label("Why").fill("by the rating plate")
    screen.get_by_role("button", name="Save the sheet").click()
    screen.get_by_role("heading", name="History").click()
    expect(screen.get_by_text("Rated power: 12 W.")).to_be_visible()
    expect(screen.get_by_text("by the rating plate")).to_be_visible()

    # The unit has its sheet now, and a conversion computes from it.
    screen.goto(f"/app/repairs/{repair}")
    worksheet = bench.start_worksheet(screen, "Mains conversion")
    winding = bench.pack_of(worksheet)["work"]["winding"]
    assert winding["value"]["links"] == [["1", "3"], ["2", "4"]]
    assert winding["value"]["from_model_sheet"]
