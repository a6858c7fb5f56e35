"""The lock on the screen: in reach while a worksheet is worked, usable by everybody."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, Playwright, expect

from tests.e2e.house import House
from tests.e2e.phone import Phone
from tests.e2e.scene import Scene
from tests.e2e.steps.lock import PINS, lock, locked, open_step, shared, tap
from tests.e2e.steps.looks import faults_of, keep_picture

# Whether something is no wider than the key it stands on.
STANDS_WITHIN = """
(one) => {
  const [inner, key] = [one, one.closest("button")].map((node) => node.getBoundingClientRect());
  return inner.left >= key.left && inner.right <= key.right;
}
"""


@pytest.fixture
def phone(
    house: House, driver: Playwright, tmp_path: Path, keep_look: Callable[[list[Page]], None]
) -> Iterator[Phone]:
    opened = Phone(driver, house.url, tmp_path / "profile")
    yield opened
    keep_look(opened.open_pages())
    opened.close()


@pytest.mark.parametrize(("width", "height", "text"), [(390, 844, 106), (320, 700, 212)])
def test_the_lock_is_under_the_thumb_while_a_worksheet_is_worked(
    phone: Phone, scene: Scene, width: int, height: int, text: int
) -> None:
    """There the keys of the steps stand where the lock is otherwise."""
    page = shared(phone)
    page.set_viewport_size({"width": width, "height": height})
    page.goto(open_step(scene))
    expect(page.locator(".display input")).to_be_visible()
    page.evaluate("(percent) => { document.documentElement.style.fontSize = `${percent}%` }", text)
    keep_picture(page, f"{width}-{text}/worksheet-shared")

    key = page.get_by_role("button", name="Lock this phone").locator("visible=true")
    expect(key).to_have_count(1)
    expect(key).to_be_in_viewport(ratio=1)
    assert faults_of(page) == []
    assert page.locator(".ways .number").evaluate(STANDS_WITHIN)
    key.click()

    locked(page)
    tap(page, PINS["ben"])
    expect(page.locator(".display input")).to_be_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("width", "height", "text"),
    [(390, 844, 106), (320, 700, 106), (320, 700, 212), (1280, 900, 106)],
)
def test_the_lock_screen_serves_everybody(
    phone: Phone, width: int, height: int, text: int, scheme: str
) -> None:
    page = shared(phone)
    page.set_viewport_size({"width": width, "height": height})
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    page.evaluate("(percent) => { document.documentElement.style.fontSize = `${percent}%` }", text)
    look = f"{width}-{text}-{scheme}"
    found = {}
    keep_picture(page, f"{look}/account")
    found["account"] = faults_of(page)
    lock(page)
    keep_picture(page, f"{look}/lock")
    found["lock"] = faults_of(page)
    locked(page).get_by_role("button", name="Somebody else").click()
    keep_picture(page, f"{look}/lock-who")
    found["who"] = faults_of(page)
    locked(page).get_by_role("button", name="Sign in with a password").click()
    keep_picture(page, f"{look}/lock-password")
    found["password"] = faults_of(page)

    assert {screen: faults for screen, faults in found.items() if faults} == {}
