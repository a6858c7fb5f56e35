"""A shared phone: its PINs, its lock, who comes in."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

from tests.e2e.phone import Phone
from tests.e2e.scene import Scene
from tests.e2e.seed import PEOPLE
from tests.e2e.steps.staff import sign_in

PINS = {"anna": "4071", "ben": "90217"}


def name(who: str) -> str:
    return PEOPLE[who][0]


def set_pin(page: Page, who: str) -> None:
    page.goto("/app/account")
    page.get_by_role("button", name="Set a PIN for this phone").click()
    sheet = page.get_by_role("dialog")
    sheet.get_by_label("PIN", exact=True).fill(PINS[who])
    sheet.get_by_label("The same PIN again").fill(PINS[who])
    sheet.get_by_label("Your password, once more").fill(PEOPLE[who][2])
    sheet.get_by_role("button", name="Save").click()
    expect(page.get_by_text("Your PIN opens this phone.")).to_be_visible()


def lock(page: Page) -> Locator:
    page.get_by_role("button", name="Lock this phone").locator("visible=true").click()
    return locked(page)


def locked(page: Page) -> Locator:
    screen = page.get_by_role("dialog", name="Locked")
    expect(screen).to_be_visible()
    return screen


def choose(page: Page, who: str) -> None:
    screen = locked(page)
    if screen.get_by_role("button", name="Somebody else").is_visible():
        screen.get_by_role("button", name="Somebody else").click()
    screen.get_by_role("button", name=name(who)).click()


def tap(page: Page, pin: str) -> None:
    pad = locked(page).get_by_role("group", name=re.compile("PIN of"))
    for digit in pin:
        pad.get_by_role("button", name=digit, exact=True).click()
    pad.get_by_role("button", name="Open").click()


def come_in(page: Page, who: str) -> None:
    choose(page, who)
    tap(page, PINS[who])
    expect(page.get_by_role("dialog", name="Locked")).to_be_hidden()


def shared(phone: Phone) -> Page:
    """A phone on which Anna and Ben both have a PIN; Ben has it in hand."""
    page = phone.open()
    sign_in(page, "anna", device="shared phone")
    set_pin(page, "anna")
    choose_password(page, "ben")
    set_pin(page, "ben")
    return page


def choose_password(page: Page, who: str) -> None:
    screen = lock(page)
    screen.get_by_role("button", name="Sign in with a password").click()
    screen.get_by_label("User name").fill(who)
    screen.get_by_label("Password").fill(PEOPLE[who][2])
    screen.get_by_role("button", name="Sign in", exact=True).click()
    expect(page.get_by_role("dialog", name="Locked")).to_be_hidden()


def lock_in_another_tab(page: Page) -> None:
    other = page.context.new_page()
    other.goto("/app/account")
    lock(other)
    other.close()


def open_step(scene: Scene) -> str:
    return f"/app/worksheets/{scene.worksheets['mains-conversion']}?step=dead_pins"
