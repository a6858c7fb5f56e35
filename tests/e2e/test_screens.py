"""Every screen, on the smallest phone and on a desktop, in light and dark, for everybody."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

import pytest
from playwright.sync_api import Browser, Page, expect

from deploy.launch.places import FRONTEND
from tests.e2e.house import House
from tests.e2e.phone import WAIT_MS
from tests.e2e.scene import Scene
from tests.e2e.steps.looks import (
    faults_of,
    faults_of_colour,
    faults_of_width,
    keep_picture,
    large_text,
)
from tests.e2e.steps.staff import sign_in

PHONE, DESKTOP = {"width": 320, "height": 700}, {"width": 1280, "height": 900}
GROUNDS = {"phone": ("contrast", "dark", "light"), "desktop": ("light", "dark")}
PATH = re.compile(r'path: "(/[^"]+)"')
Address = Callable[[Scene], str]
Do = Callable[[Page], None]


@dataclass(frozen=True)
class Screen:
    """Who sees it, where it is, and what is done there first. `shows`: words that must be there."""

    name: str
    who: str | None
    at: Address
    shows: str
    do: Do | None = None


def open_by(role: str, name: str) -> Do:
    return lambda page: page.get_by_role(role, name=name).first.click()  # type: ignore[arg-type]


def type_reading(typed: str) -> Do:
    return lambda page: page.locator(".display input").fill(typed)


def work_out_example(page: Page) -> None:
    open_by("button", "Fill in the example")(page)
    open_by("button", "Work it out")(page)


def step(slug: str, step: str) -> Address:
    return lambda scene: f"/app/worksheets/{scene.worksheets[slug]}?step={step}"


def path(at: str) -> Address:
    return lambda _scene: at


BENCH: Final = (
    Screen("bench", "anna", path("/app/bench"), "My bench"),
    Screen("scan", "anna", path("/app/scan"), "Scan a tag"),
    Screen("wrong-code", "anna", path("/app/t/NABCDEFG"), "The last character does not fit"),
    Screen("labels", "anna", path("/app/labels"), "Hand meter", open_by("button", "Meters")),
    Screen("repair", "anna", lambda s: f"/app/repairs/{s.in_work}", "Forgets its sounds."),
    Screen("start-worksheet", "anna", lambda s: f"/app/repairs/{s.in_work}", "About 20 minutes",
           open_by("button", "Start a worksheet")),
    Screen("bench-log", "anna", lambda s: f"/app/repairs/{s.in_work}", "Symptom",
           open_by("button", "Add to the bench log")),
    Screen("caution", "anna", step("safety-check", "closed"), "Correct"),
    Screen("locked", "anna", step("mains-conversion", "dead_wait"), "Go to that step"),
    Screen("reading", "anna", step("mains-conversion", "dead_pins"), "fail", type_reading("118")),
    Screen("photo", "anna", step("mains-conversion", "photo_outside"), "Take another photo"),
    Screen("look", "anna", step("backup-cell-swap", "kept"), "pass"),
    Screen("note", "anna", step("backup-cell-swap", "store_note"), "Save note"),
    Screen("timer", "anna", step("backup-cell-swap", "rest"), "Start the timer"),
    Screen("take-part", "anna", step("backup-cell-swap", "take_label"), "Take 1 from stock"),
    Screen("skip", "anna", step("backup-cell-swap", "take_label"), "Save without doing it",
           open_by("button", "Skip")),
    Screen("computed", "anna", step("backup-cell-swap", "candidates"), "How worked out",
           lambda page: page.get_by_text("How worked out").first.click()),
    Screen("drawing", "anna", step("mains-conversion", "setting"), "Joined:"),
    Screen("ramp", "anna", step("series-lamp-power-up", "ramp"), "Stop at once when"),
    Screen("ramp-reading", "anna", step("series-lamp-power-up", "ramp"), "Save reading",
           lambda page: page.locator("tbody button").first.click()),
    Screen("sign-off", "anna", step("safety-check", "sign"), "Your own password, once more",
           lambda page: page.get_by_role("button", name="Sign", exact=True).click()),
    Screen("all-steps", "anna", step("mains-conversion", "keep_unplugged"), "Photo of the links",
           open_by("button", "steps")),
    Screen("queue", "anna", path("/app/queue"), "Everything on this phone has been sent."),
    Screen("calculators", "anna", path("/app/calculators"), "Legal arrangements"),
    Screen("calculator-wrong", "anna", path("/app/calculators/fuses.scale"), "This is needed.",
           open_by("button", "Work it out")),
    Screen("calculator-answer", "anna", path("/app/calculators/windings.arrangements"), "Joined:",
           work_out_example),
    Screen("calculator-kinds", "anna", path("/app/calculators/series_lamp.operating_point"),
           "Sources", work_out_example),
    Screen("find", "anna", path("/app/find"), "Any scrap"),
    Screen("account", "anna", path("/app/account"), "Sign out"),
)  # fmt: skip
DESK: Final = (
    Screen("desk", "dora", path("/app/desk"), "ready to fetch"),
    Screen("book-in", "dora", path("/app/book-in"), "Save and print"),
    Screen("booked", "dora", lambda s: f"/app/booked/{s.booked}", "Saved as repair"),
    Screen("desk-repair", "dora", lambda s: f"/app/desk/repairs/{s.asked}", "has not answered"),
    Screen("make-estimate", "dora", lambda s: f"/app/desk/repairs/{s.booked}", "Line 1",
           open_by("button", "Make an estimate")),
    Screen("payment", "dora", lambda s: f"/app/desk/repairs/{s.ready}", "Record payment",
           open_by("button", "Take a payment")),
    Screen("hand-back", "dora", lambda s: f"/app/desk/repairs/{s.ready}/hand-back", "Tick each"),
    Screen("place", "dora", path("/app/place"), "Code of the unit"),
)  # fmt: skip
MANAGER: Final = (
    Screen("board", "max", path("/app/board"), "In the shop, by stage"),
    Screen("orders", "max", path("/app/orders"), "Bauteilhof"),
    Screen("order", "max", lambda s: f"/app/orders/{s.order}", "Bauteilhof"),
    Screen("phones", "max", path("/app/phones"), "Last seen"),
    Screen("stuck-work", "max", path("/app/stuck-work"), "Nothing is stuck."),
    Screen("meters", "max", path("/app/meters"), "When a meter is overdue"),
    Screen("new-meter", "max", path("/app/meters"), "Name, as it is called",
           open_by("button", "New meter")),
    Screen("meter", "max", lambda s: f"/app/meters/{s.meter}", "Everything read with it"),
    Screen("calibration", "max", lambda s: f"/app/meters/{s.meter}", "How it was found",
           open_by("button", "Note a calibration")),
    Screen("record", "max", lambda s: f"/app/worksheets/{s.worksheets['safety-check']}/record",
           "The chain holds"),
    Screen("model-sheets", "max", path("/app/model-sheets"), "New model sheet"),
    Screen("model-sheet", "max", lambda s: f"/app/model-sheets/{s.sheet}", "Primary windings"),
    Screen("templates", "max", path("/app/templates"), "waits for a second look"),
    Screen("new-template", "max", path("/app/templates"), "What is the job called?",
           open_by("button", "New job template")),
    Screen("take-in-template", "max", path("/app/templates"), "Choose a file, or drop it here",
           open_by("button", "Take in a file")),
    Screen("template", "max", path("/app/templates/look-over"), "Start a change",
           lambda page: page.get_by_text("1 revision").click()),
    Screen("editor", "max", lambda s: f"/app/templates/drafts/{s.draft}", "Add a step"),
    Screen("editor-head", "max", lambda s: f"/app/templates/drafts/{s.draft}?at=about",
           "About how long, in minutes"),
    Screen("editor-step", "max", lambda s: f"/app/templates/drafts/{s.draft}?at=steps.4",
           "What the tech sees"),
    Screen("editor-add", "max", lambda s: f"/app/templates/drafts/{s.draft}",
           "What kind of step is it?", open_by("button", "Add a step")),
    Screen("trial", "max", lambda s: f"/app/templates/drafts/{s.draft}/trial", "Only a trial"),
    Screen("review", "max", lambda s: f"/app/templates/drafts/{s.draft}/review", "Send back"),
)  # fmt: skip
OUTSIDE: Final = (
    Screen("sign-in", None, path("/app/"), "Sign in with your own name"),
    Screen("status-asked", None, lambda s: s.status_asked, "I agree"),
    Screen("status-ready", None, lambda s: s.status_ready, "How to fetch it"),
    Screen("status-no-link", None, path("/s/nothing-here/"), "nothing at this address"),
)
SCREENS: Final = (*OUTSIDE, *BENCH, *DESK, *MANAGER)


@pytest.fixture(scope="module")
def seats(house: House, chrome: Browser) -> Iterator[Callable[[str | None], Page]]:
    """A page for each person, signed in once."""
    pages: dict[str | None, Page] = {}

    def page_of(who: str | None) -> Page:
        if who not in pages:
            context = chrome.new_context(base_url=house.url, viewport=PHONE)  # type: ignore[arg-type]
            context.set_default_timeout(WAIT_MS)
            pages[who] = context.new_page()
            if who:
                pages[who].goto("/app/")
                sign_in(pages[who], who, device=f"screens of {who}")
        return pages[who]

    yield page_of
    for page in pages.values():
        page.context.close()


@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.name)
def test_a_screen_serves_everybody(
    screen: Screen, scene: Scene, seats: Callable[[str | None], Page]
) -> None:
    page = seats(screen.who)
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    show(page, screen, scene)

    found = {look: faults for look, faults in faults_by_look(page, screen.name) if faults}

    assert found == {}


def test_every_screen_of_the_app_is_looked_at(scene: Scene) -> None:
    seen = [screen.at(scene).split("?")[0] for screen in SCREENS]

    unseen = [route for route in routes() if not any(leads_to(route, at) for at in seen)]

    assert unseen == []


def routes() -> list[str]:
    """The addresses of the app's pages, as its route tables write them."""
    tables = (FRONTEND / "src" / "pages").glob("**/routes.ts")
    found = [path for table in tables for path in PATH.findall(table.read_text())]
    assert found
    return found


def leads_to(route: str, address: str) -> bool:
    return re.fullmatch("/app" + re.sub(r":\w+", "[^/]+", route), address) is not None


def test_the_checks_find_what_is_planted(chrome: Browser) -> None:
    page = chrome.new_page(viewport=PHONE)  # type: ignore[arg-type]
    page.set_content(
        "<title>t</title><main><h1>h</h1><input><a href='/'>low</a>"
        "<p style='width: 400px; color: #ccc'>wide and pale</p>"
        "</main>"
    )

    found = " ".join([*faults_of(page), *faults_of_colour(page)])

    assert "label:" in found
    assert "a “low” is" in found
    assert "px wide in a window of 320" in found
    assert "color-contrast:" in found
    page.close()


def show(page: Page, screen: Screen, scene: Scene) -> None:
    page.goto(screen.at(scene))
    if screen.do:
        screen.do(page)
    expect(page.locator("body")).to_contain_text(screen.shows)


def faults_by_look(page: Page, name: str) -> Iterator[tuple[str, list[str]]]:
    """The screen on a phone and a desktop, on each ground, and with large text on the phone."""
    for size, viewport in (("phone", PHONE), ("desktop", DESKTOP)):
        page.set_viewport_size(viewport)  # type: ignore[arg-type]
        for ground in GROUNDS[size]:
            page.emulate_media(color_scheme="light" if ground == "light" else "dark")
            put_on(page, ground)
            keep_picture(page, f"{size}-{ground}/{name}")
            look = faults_of if ground == "light" else faults_of_colour
            yield f"{size}, {ground}", look(page)
        if size == "phone":
            with large_text(page):
                keep_picture(page, f"phone-large/{name}")
                yield "phone, large text", faults_of_width(page)


def put_on(page: Page, ground: str) -> None:
    """High contrast is chosen in the app, the others follow the device."""
    page.evaluate(
        "(ground) => ground === 'contrast' ? document.documentElement.dataset.theme = ground"
        " : delete document.documentElement.dataset.theme",
        ground,
    )
