"""The app can be put on a home screen: a browser finds what it asks for; it starts offline."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Page, Playwright, expect

from tests.e2e.house import House
from tests.e2e.phone import Phone
from tests.e2e.steps.bench import wait_for_worker
from tests.e2e.steps.staff import sign_in


@pytest.fixture
def phone(house: House, driver: Playwright, tmp_path: Path) -> Any:
    opened = Phone(driver, house.url, tmp_path / "profile")
    opened.open()
    yield opened
    opened.close()


def manifest_of(page: Page) -> dict[str, Any]:
    address = page.locator("link[rel=manifest]").get_attribute("href")
    assert address
    answer = page.request.get(address)
    assert answer.headers["content-type"].startswith("application/manifest+json")
    return dict(answer.json())


def test_the_browser_finds_nothing_that_forbids_to_install(phone: Phone) -> None:
    sign_in(phone.page, "anna", device="installs")
    wait_for_worker(phone.page)
    session = phone.page.context.new_cdp_session(phone.page)

    manifest = session.send("Page.getAppManifest")
    errors = session.send("Page.getInstallabilityErrors")["installabilityErrors"]

    # A profile without a person behind it may not install anything, whatever the app is like.
    assert manifest["errors"] == []
    assert [one["errorId"] for one in errors if one["errorId"] != "in-incognito"] == []


def test_every_icon_is_a_picture_of_the_size_that_is_said(phone: Phone) -> None:
    manifest = manifest_of(phone.page)
    told = [*manifest["icons"], *(one for s in manifest["shortcuts"] for one in s["icons"])]

    sizes = {one["src"]: size_of(phone.page, one["src"]) for one in told}

    assert sizes == {one["src"]: one["sizes"] for one in told}
    assert {"192x192", "512x512"} <= {one["sizes"] for one in manifest["icons"]}
    assert "maskable" in {one.get("purpose") for one in manifest["icons"]}
    touch = phone.page.locator("link[rel=apple-touch-icon]").get_attribute("href")
    assert size_of(phone.page, str(touch)) == "180x180"


def size_of(page: Page, address: str) -> str:
    answer = page.request.get(address)
    assert answer.ok, address
    with Image.open(io.BytesIO(answer.body())) as picture:
        picture.load()
        return f"{picture.width}x{picture.height}"


def test_start_and_shortcuts_open_without_network(phone: Phone) -> None:
    page = phone.page
    sign_in(page, "anna", device="installs")
    wait_for_worker(page)
    manifest = manifest_of(page)
    phone.cut_off(True)

    for address, heading in (
        (manifest["start_url"], "My bench"),
        *((one["url"], one["name"]) for one in manifest["shortcuts"]),
    ):
        page.goto(address)
        expect(page.get_by_role("heading", name=heading, level=1)).to_be_visible()


def test_an_address_that_leads_nowhere_says_so_and_leads_back(phone: Phone) -> None:
    sign_in(phone.page, "anna", device="installs")

    phone.page.goto("/app/no/such/page?from=tag")

    expect(phone.page.get_by_text("There is no such page")).to_be_visible()
    phone.page.get_by_role("link", name="To the first page").click()
    expect(phone.page.get_by_role("heading", name="My bench")).to_be_visible()


def test_the_chosen_ground_is_there_before_the_first_picture(phone: Phone) -> None:
    page = phone.page
    sign_in(page, "anna", device="installs")
    page.get_by_role("button", name="Change the screen to").click()
    chosen = page.evaluate("document.documentElement.dataset.theme")
    # Only what stands in the page itself: the app's own code never comes.
    page.route("**/assets/index-*.js", lambda route: route.abort())
    page.evaluate(
        "navigator.serviceWorker.getRegistrations().then(all => all.map(one => one.unregister()))"
    )

    page.reload()

    assert chosen in {"light", "dark", "contrast"}
    assert page.evaluate("document.documentElement.dataset.theme") == chosen
