"""A bench phone that several people share: each in by PIN, each with their own queue."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from django.contrib.sessions.models import Session
from django.utils import timezone
from playwright.sync_api import Browser, Page, Playwright, expect

from shop.core.models import Device, Pin
from shop.jobs.models import Entry
from tests.e2e.house import House
from tests.e2e.phone import WAIT_MS, Phone, seen_soon
from tests.e2e.scene import Scene
from tests.e2e.steps.bench import add_finding
from tests.e2e.steps.lock import (
    PINS,
    choose,
    come_in,
    lock,
    lock_in_another_tab,
    locked,
    name,
    open_step,
    shared,
    tap,
)
from tests.e2e.steps.queue import kept_entries
from tests.e2e.steps.staff import sign_in

WRONG = "8305"


@pytest.fixture
def phone(
    house: House, driver: Playwright, tmp_path: Path, keep_look: Callable[[list[Page]], None]
) -> Iterator[Phone]:
    opened = Phone(driver, house.url, tmp_path / "profile")
    yield opened
    keep_look(opened.open_pages())
    opened.close()


@pytest.fixture
def manager(house: House, chrome: Browser) -> Iterator[Page]:
    context = chrome.new_context(base_url=house.url, viewport={"width": 1280, "height": 900})
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.goto("/app/")
    sign_in(page, "max", device="manager's desk")
    yield page
    context.close()


def open_repair(page: Page, scene: Scene) -> None:
    page.goto(f"/app/repairs/{scene.in_work}")
    expect(page.get_by_role("button", name="Add to the bench log")).to_be_visible()


def test_a_phone_goes_from_hand_to_hand_and_each_finds_their_own_step(
    phone: Phone, scene: Scene, books: None
) -> None:
    page = shared(phone)
    lock(page)
    come_in(page, "anna")
    page.goto(open_step(scene))
    page.locator(".display input").fill("11")

    lock(page)
    expect(page.locator(".display input")).to_be_hidden()
    come_in(page, "ben")
    expect(page).to_have_url(re.compile("/app/account$"))
    lock(page)
    come_in(page, "anna")

    expect(page).to_have_url(re.compile(re.escape(open_step(scene))))
    expect(page.locator(".display input")).to_have_value("11")


def test_what_is_half_typed_lies_under_the_lock_as_it_was(phone: Phone, scene: Scene) -> None:
    page = shared(phone)
    page.goto(f"/app/repairs/{scene.in_work}")
    page.get_by_role("button", name="Add to the bench log").click()
    sheet = page.get_by_role("dialog")
    sheet.get_by_role("textbox").first.fill("Smells of")

    lock_in_another_tab(page)
    expect(sheet.get_by_role("textbox")).to_have_count(0)
    tap(page, PINS["ben"])

    expect(page.get_by_role("dialog").get_by_role("textbox").first).to_have_value("Smells of")


def test_each_has_their_own_queue_and_what_waits_goes_out_under_its_makers_name(
    phone: Phone, scene: Scene, books: None
) -> None:
    page = shared(phone)
    open_repair(page, scene)
    phone.cut_off(True)
    add_finding(page, "Hum at 100 Hz, heard by Ben.")
    (kept,) = kept_entries(page)
    Session.objects.all().delete()  # meanwhile it has ended
    phone.cut_off(False)

    lock(page)
    come_in(page, "anna")
    expect(page.get_by_text(f"1 entry of {name('ben')} waits on this phone")).to_be_visible()
    expect(page.get_by_test_id("unsent")).to_contain_text("All sent")
    assert not Entry.objects.filter(id=kept["id"]).exists()
    lock(page)
    come_in(page, "ben")

    seen_soon(lambda: Entry.objects.filter(id=kept["id"]).exists())
    assert Entry.objects.get(id=kept["id"]).made_by.username == "ben"


def test_what_waits_goes_out_while_the_phone_is_locked_and_only_then_is_its_maker_signed_out(
    phone: Phone, scene: Scene, books: None
) -> None:
    page = shared(phone)
    open_repair(page, scene)
    phone.cut_off(True)
    add_finding(page, "Locked with this unsent.")
    (kept,) = kept_entries(page)
    lock(page)

    phone.cut_off(False)

    seen_soon(lambda: Entry.objects.filter(id=kept["id"]).exists(), seconds=40)
    assert Entry.objects.get(id=kept["id"]).made_by.username == "ben"
    seen_soon(lambda: page.evaluate("localStorage['lampledger-session-over'] === undefined"))
    assert page.request.get("/api/v1/session/").status == 401


def test_without_network_its_owner_goes_on_and_what_they_record_waits_for_their_pin(
    phone: Phone, scene: Scene, books: None
) -> None:
    page = shared(phone)
    open_repair(page, scene)
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    screen = lock(page)
    phone.cut_off(True)
    tap(page, PINS["ben"])
    expect(screen.get_by_text("the shop's server checks PINs")).to_be_visible()

    screen.get_by_role("button", name=f"Go on as {name('ben')}").click()
    expect(page.get_by_text("Your session has ended.")).to_be_visible()
    add_finding(page, "Recorded in the cellar.")
    (kept,) = kept_entries(page)
    phone.cut_off(False)
    page.reload()
    expect(page.get_by_text("Your session has ended.")).to_be_visible()
    assert not Entry.objects.filter(id=kept["id"]).exists()

    page.get_by_role("link", name="Sign in").click()
    page.get_by_role("button", name="Use my PIN").click()
    tap(page, PINS["ben"])

    expect(page.get_by_test_id("unsent")).to_contain_text("All sent")
    assert Entry.objects.get(id=kept["id"]).made_by.username == "ben"


def test_five_wrong_pins_lock_it_and_the_manager_takes_it_away(
    phone: Phone, manager: Page, books: None
) -> None:
    page = shared(phone)
    screen = lock(page)
    choose(page, "anna")
    for left in ("4 more tries", "3 more tries", "2 more tries", "1 more try"):
        tap(page, WRONG)
        expect(screen.get_by_text(left)).to_be_visible()
    tap(page, WRONG)
    expect(screen.get_by_text("Too many wrong PINs")).to_be_visible()
    tap(page, PINS["anna"])
    expect(screen.get_by_text("Wait a quarter of an hour")).to_be_visible()

    Pin.objects.filter(person__username="anna").update(locked_until=timezone.now() - timedelta(1))
    come_in(page, "anna")
    expect(page.get_by_text("5 wrong PINs were typed in your name")).to_be_visible()

    manager.goto("/app/phones")
    withdraw = manager.get_by_role("button", name=f"Withdraw the PIN {name('anna')}, shared phone")
    withdraw.first.click()
    expect(manager.get_by_text(f"{name('anna')} needs the password again")).to_be_visible()
    screen = lock(page)
    expect(screen.get_by_role("button", name=name("anna"))).to_have_count(0)
    expect(screen.get_by_role("button", name=name("ben"))).to_be_visible()


def test_a_withdrawn_phone_lets_nobody_in_and_gives_what_waits_as_a_file(
    phone: Phone, scene: Scene, books: None
) -> None:
    page = shared(phone)
    open_repair(page, scene)
    phone.cut_off(True)
    add_finding(page, "Written on a phone that was withdrawn.")
    device = Device.objects.filter(name="shared phone").latest("last_seen_at")
    Device.objects.filter(id=device.id).update(revoked_at=timezone.now())
    phone.cut_off(False)
    page.reload()
    expect(page.get_by_text("This phone was withdrawn").first).to_be_visible()

    page.goto("/app/account")
    page.get_by_role("button", name="Sign out").click()
    sheet = page.get_by_role("dialog")
    expect(sheet.get_by_text("1 entry has not been sent.")).to_be_visible()
    with page.expect_download() as saved:
        sheet.get_by_role("button", name="Save what waits as a file").click()

    assert "Written on a phone that was withdrawn." in saved.value.path().read_text()


def test_it_locks_by_itself_but_not_on_who_waits_for_a_timer(phone: Phone, scene: Scene) -> None:
    page = shared(phone)
    page.get_by_text("After 5 minutes").click()
    page.clock.install()
    page.goto(f"/app/worksheets/{scene.worksheets['mains-conversion']}?step=dead_pins")
    expect(page.locator(".display input")).to_be_visible()
    page.mouse.click(5, 300)

    page.clock.run_for(280_000)
    expect(page.get_by_text("locks in half a minute")).to_be_visible()
    page.clock.run_for(25_000)

    locked(page)
