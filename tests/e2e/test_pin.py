"""A bench phone that several people share: each in by PIN, each with their own queue."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from django.contrib.sessions.models import Session
from django.utils import timezone
from playwright.sync_api import Browser, Locator, Page, Playwright, expect

from shop.core.models import Pin
from shop.jobs.models import Entry
from tests.e2e.house import House
from tests.e2e.phone import WAIT_MS, Phone, seen_soon
from tests.e2e.scene import Scene
from tests.e2e.seed import PEOPLE
from tests.e2e.steps.bench import add_finding
from tests.e2e.steps.looks import faults_of, keep_picture
from tests.e2e.steps.queue import kept_entries
from tests.e2e.steps.staff import sign_in

PINS = {"anna": "4071", "ben": "90217"}
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


def open_repair(page: Page, scene: Scene) -> None:
    page.goto(f"/app/repairs/{scene.in_work}")
    expect(page.get_by_role("button", name="Add to the bench log")).to_be_visible()


def open_step(scene: Scene) -> str:
    return f"/app/worksheets/{scene.worksheets['mains-conversion']}?step=dead_pins"


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


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("width", "height", "text"),
    [(390, 844, 106), (320, 700, 106), (1280, 900, 106)],
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
