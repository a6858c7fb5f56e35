"""The worksheet on a phone in the hand: swipes, undo, slips, pictures, keys, timers, large text."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, CDPSession, Locator, Page, expect

from tests.e2e.camera import photo
from tests.e2e.house import House
from tests.e2e.phone import WAIT_MS
from tests.e2e.scene import Scene
from tests.e2e.steps.looks import faults_of, keep_picture
from tests.e2e.steps.staff import ThroughApi, sign_in
from tests.e2e.steps.visits import on_the_bench, start_worksheet

SMALL, PHONE = {"width": 320, "height": 640}, {"width": 390, "height": 844}
# A step of every kind, as the scene left it: the worksheet and the step.
KINDS = {
    "caution": ("mains-conversion", "keep_unplugged"),
    "instruction": ("backup-cell-swap", "reset"),
    "computed": ("backup-cell-swap", "candidates"),
    "look": ("mains-conversion", "set_for_agrees"),
    "reading": ("mains-conversion", "dead_pins"),
    "photo": ("mains-conversion", "photo_outside"),
    "take_part": ("backup-cell-swap", "take_label"),
    "timer": ("backup-cell-swap", "rest"),
    "note": ("backup-cell-swap", "store_note"),
    "ramp": ("series-lamp-power-up", "ramp"),
    "sign_off": ("safety-check", "sign"),
    "table": ("supply-rails", "found"),
}
# What is cut off within its own box, and is not meant to be: a long shop name is.
CUT: str = """
() => [...document.querySelectorAll("main *, dialog[open] *")]
  .filter((one) => one instanceof HTMLElement && !one.matches("progress, input, select, textarea")
    && one.checkVisibility() && getComputedStyle(one).overflowX !== "visible"
    && !one.closest(".only-heard, .scroll-x") && getComputedStyle(one).clipPath === "none"
    && one.clientWidth > 1 && one.scrollWidth > one.clientWidth + 1)
  .map((one) => `${one.localName}.${one.className} “${one.innerText?.slice(0, 30)}” is cut off`)
"""
SERIALS = count(1)
LARGE_TEXT = "document.documentElement.style.fontSize = '200%'"


@pytest.fixture(scope="module")
def hand(house: House, chrome: Browser) -> Iterator[Page]:
    """Anna's phone: a touch screen, signed in."""
    context = chrome.new_context(
        base_url=house.url, viewport=PHONE, has_touch=True, is_mobile=True,  # type: ignore[arg-type]
        permissions=["notifications"],
    )  # fmt: skip
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.goto("/app/")
    sign_in(page, "anna", device="worksheet screen")
    yield page
    context.close()


@pytest.fixture
def fresh(scene: Scene, house: House, driver: Any) -> str:
    """A mains conversion that nobody has begun."""
    dora, anna = (ThroughApi(driver, house.url, name) for name in ("dora", "anna"))
    repair = on_the_bench(dora, anna, serial=f"93{next(SERIALS):05}")["id"]
    sheet = start_worksheet(anna, repair, "mains-conversion")
    dora.close()
    anna.close()
    return sheet


@pytest.fixture(scope="module")
def rails(scene: Scene, house: House, driver: Any) -> str:
    """A worksheet with a table, nothing of it worked: its rows are seen from the list."""
    anna = ThroughApi(driver, house.url, "anna")
    sheet = start_worksheet(anna, scene.in_work, "supply-rails")
    anna.close()
    return sheet


def open_sheet(page: Page, sheet: str, step: str = "") -> Locator:
    """Opens a worksheet, at a step; the title of the step on the screen."""
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    page.goto(f"/app/worksheets/{sheet}{f'?step={step}' if step else ''}")
    title = page.locator("article h2")
    expect(title).to_be_visible()
    return title


def begin(page: Page, sheet: str) -> None:
    """The first step, which locks all others, is done."""
    title = open_sheet(page, sheet)
    first = title.inner_text()
    page.get_by_role("button", name="Understood and done").click()
    expect(title).not_to_have_text(first)


def bar(page: Page, name: str) -> Locator:
    return page.locator(".ways").get_by_role("button", name=name, exact=True)


class Finger:
    """One or two fingers on the glass, as the browser gets them from the phone."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.session: CDPSession = page.context.new_cdp_session(page)

    def stroke(self, start: tuple[float, float], end: tuple[float, float], steps: int = 6) -> None:
        self._send("touchStart", start)
        for n in range(1, steps + 1):
            part = n / steps
            self._send(
                "touchMove", *[tuple(a + (b - a) * part for a, b in zip(start, end, strict=True))]
            )
        self._send("touchEnd")

    def spread(self, middle: tuple[float, float], start: float, end: float) -> None:
        """Two fingers go apart, from `start` to `end` px."""
        x, y = middle
        for n, apart in enumerate([start + (end - start) * i / 6 for i in range(7)]):
            kind = "touchMove" if n else "touchStart"
            self._send(kind, (x - apart / 2, y), (x + apart / 2, y))
        self._send("touchEnd")

    def _send(self, kind: str, *points: Any) -> None:
        touches = [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(points)]
        self.session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touches})


def test_a_swipe_goes_to_the_next_step_and_back_and_the_edge_stays_the_browsers(
    hand: Page, fresh: str
) -> None:
    title = open_sheet(hand, fresh)
    first, finger = title.inner_text(), Finger(hand)

    finger.stroke((300, 300), (120, 304))
    expect(title).not_to_have_text(first)
    second = title.inner_text()
    finger.stroke((8, 300), (200, 304))
    finger.stroke((200, 420), (190, 250))
    expect(title).to_have_text(second)
    finger.stroke((120, 300), (300, 304))

    expect(title).to_have_text(first)


def test_the_list_comes_with_a_swipe_up_and_shows_the_way_back(hand: Page, fresh: str) -> None:
    title = open_sheet(hand, fresh)
    was = title.inner_text()

    Finger(hand).stroke((195, 815), (195, 600))
    dialog = hand.get_by_role("dialog")
    expect(dialog.get_by_role("heading", name="All steps")).to_be_visible()
    dialog.get_by_role("button", name=re.compile("Which fuse is fitted")).click()
    expect(title).to_have_text("Which fuse is fitted?")
    hand.get_by_role("button", name=f"Back to where you were: {was}").click()

    expect(title).to_have_text(was)
    expect(hand.get_by_role("button", name=re.compile("Back to where"))).to_have_count(0)


def test_undo_corrects_what_was_saved_last_and_takes_nothing_out_of_the_record(
    hand: Page, fresh: str
) -> None:
    begin(hand, fresh)
    title = open_sheet(hand, fresh, "set_for_agrees")
    asked = title.inner_text()
    expect(bar(hand, "Undo")).to_be_disabled()
    hand.get_by_role("button", name=re.compile("^It is set as booked in")).click()
    expect(title).not_to_have_text(asked)

    bar(hand, "Undo").click()
    expect(title).to_have_text(asked)
    other = hand.get_by_role("button", name=re.compile("^It is set differently"))
    expect(other).to_be_disabled()
    hand.get_by_role("button", name="tapped the wrong one").click()
    other.click()

    lines = hand.locator("article > .lines")
    expect(lines).to_contain_text("It is set differently")
    expect(lines.locator(".earlier s")).to_have_text("It is set as booked in")
    expect(lines).to_contain_text("tapped the wrong one")


def test_a_thousandfold_slip_is_asked_about_and_saved_all_the_same(
    hand: Page, scene: Scene
) -> None:
    open_sheet(hand, scene.worksheets["series-lamp-power-up"], "earth")
    hand.get_by_role("button", name="Correct").click()
    shown = hand.locator(".display input")
    assert shown.input_value() != "", "a correction begins with what was typed"

    hand.get_by_role("button", name="clear").click()
    hand.get_by_role("button", name="mistyped").click()
    for key in "90":
        hand.get_by_role("group", name="Keys").get_by_role("button", name=key, exact=True).click()
    expect(hand.get_by_text("Did you mean 90 mΩ?")).to_be_visible()
    expect(hand.get_by_role("button", name="Save reading")).to_be_enabled()
    hand.get_by_role("button", name="Take 90 mΩ").click()

    expect(hand.locator(".full .verdict")).to_have_text("pass")
    expect(hand.get_by_text("Did you mean")).to_have_count(0)


def test_how_limits_were_worked_out_is_one_tap_away_before_and_after_saving(
    hand: Page, scene: Scene
) -> None:
    open_sheet(hand, scene.worksheets["mains-conversion"], "dead_pins")
    hand.get_by_role("button", name="How worked out").click()
    expect(hand.get_by_role("dialog").get_by_role("table")).to_be_visible()
    hand.keyboard.press("Escape")
    expect(hand.get_by_role("dialog")).to_have_count(0)

    open_sheet(hand, scene.worksheets["series-lamp-power-up"], "earth")
    expect(hand.locator("article .lines figure .value")).to_be_visible()


def test_a_worksheet_is_worked_with_the_keyboard_alone(hand: Page, scene: Scene) -> None:
    sheet = scene.worksheets["mains-conversion"]
    title = open_sheet(hand, sheet, "dead_pins")
    hand.set_viewport_size({"width": 1280, "height": 900})
    before = title.inner_text()

    hand.keyboard.press("4")
    expect(hand.locator(".display input")).to_have_value("4")
    hand.keyboard.type("n")  # in a field it is nano
    expect(hand.locator(".display input")).to_have_value("4n")
    hand.keyboard.press("PageUp")
    expect(title).not_to_have_text(before)
    hand.keyboard.press("PageDown")
    expect(title).to_have_text(before)
    expect(hand.locator(".display input")).to_be_focused()
    hand.locator(".display input").fill("")
    hand.locator(".display input").blur()
    hand.keyboard.press("?")
    expect(hand.get_by_role("dialog")).to_contain_text("Next step")
    hand.keyboard.press("Escape")

    expect(hand.get_by_role("dialog")).to_have_count(0)


def test_a_timer_rings_until_it_is_touched_and_lives_through_a_reload(
    hand: Page, scene: Scene
) -> None:
    open_sheet(hand, scene.worksheets["backup-cell-swap"], "rest")
    hand.clock.install()
    hand.get_by_role("button", name="Start the timer").click()
    expect(hand.get_by_text("Running since")).to_be_visible()

    hand.clock.fast_forward("00:11:00")
    silence = hand.get_by_role("button", name="Silence")
    expect(silence).to_be_visible()
    hand.reload()
    expect(hand.get_by_text(re.compile("time is up"))).to_be_visible()
    expect(silence).to_be_visible()
    silence.click()

    expect(silence).to_have_count(0)
    expect(hand.get_by_text(re.compile("time is up"))).to_be_visible()


def test_a_picture_fills_the_screen_is_enlarged_and_closes_with_the_way_back(
    hand: Page, fresh: str, tmp_path: Path
) -> None:
    begin(hand, fresh)
    title = open_sheet(hand, fresh, "photo_outside")
    was = title.inner_text()
    plate = photo(tmp_path, "plate", (40, 90, 60))
    hand.locator("input[type=file]").set_input_files(plate)
    hand.get_by_label("What it shows").fill("the plate")
    hand.get_by_role("button", name="Save photo").click()

    hand.get_by_role("button", name="Show large: the plate").click()
    viewer = hand.get_by_role("dialog", name="the plate")
    expect(viewer.get_by_role("img")).to_be_visible()
    box = viewer.bounding_box()
    assert box
    assert (box["width"], box["height"]) == (PHONE["width"], PHONE["height"])
    Finger(hand).spread((195, 400), 80, 240)
    assert large(viewer) == pytest.approx(3, rel=0.05)
    viewer.get_by_role("button", name="Whole picture").click()
    assert large(viewer) == 1
    for _tap in range(2):
        hand.touchscreen.tap(195, 400)
    assert large(viewer) > 2
    hand.go_back()

    expect(viewer).to_have_count(0)
    expect(title).to_have_text(was)


def large(viewer: Locator) -> float:
    """How many times as large as it fits a picture is shown."""
    matrix = viewer.get_by_role("img").evaluate("one => getComputedStyle(one).transform")
    return float(matrix.removeprefix("matrix(").split(",")[0]) if "matrix" in matrix else 1.0


@pytest.mark.parametrize("kind", KINDS)
def test_a_step_serves_large_text_on_the_smallest_phone(
    kind: str, hand: Page, scene: Scene, rails: str
) -> None:
    slug, step = KINDS[kind]
    open_sheet(hand, scene.worksheets.get(slug, rails), step)
    hand.set_viewport_size(SMALL)  # type: ignore[arg-type]
    hand.evaluate("document.documentElement.dataset.theme = 'contrast'")
    hand.evaluate(LARGE_TEXT)

    keep_picture(hand, f"large/{kind}")

    assert [*faults_of(hand), *hand.evaluate(CUT)] == []
