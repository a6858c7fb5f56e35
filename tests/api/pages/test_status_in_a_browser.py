"""The customer's page in a real browser: no script, small phones, big fingers."""

import os
import shutil

import pytest
from django.db import connections

from shop.billing.services import make_estimate, send_estimate
from shop.core.ids import new_id
from shop.repairs.services import issue_status_link
from tests.factories.core import ShopFactory
from tests.factories.units import RepairFactory, UnitFactory

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine"),
    pytest.mark.django_db(transaction=True),
    # The live server hands out static files itself; nobody has collected them for a test.
    pytest.mark.filterwarnings("ignore:No directory at"),
]


@pytest.fixture
def chromium(monkeypatch):
    """A browser of its own; Playwright runs a loop in the thread of the test."""
    from playwright.sync_api import sync_playwright

    monkeypatch.setitem(os.environ, "DJANGO_ALLOW_ASYNC_UNSAFE", "true")
    arguments = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=arguments)
        yield browser
        # While a loop runs Django keeps a connection of its own for it; left open, it would hinder
        # the removal of the test database.
        connections.close_all()
        browser.close()


@pytest.fixture
def address(live_server):
    ShopFactory(name="Lamp Lane Repairs", address="Yard 7", tax_percent="19.00")
    unit = UnitFactory(make="Testmake with a long name", model="Polaris 88 Mk II rack version")
    repair = RepairFactory(unit=unit, stage="on_the_bench")
    lines = [{"text": "A rather long line of work to be done", "quantity": 2, "price_minor": 9_500}]
    by = repair.booked_in_by
    send_estimate(estimate=make_estimate(id=new_id(), repair=repair, lines=lines, by=by), by=by)
    return issue_status_link(repair=repair).replace("https://shop.example", live_server.url)


def test_a_customer_agrees_without_any_script(chromium, address):
    page = chromium.new_context(java_script_enabled=False).new_page()
    page.goto(address)

    page.get_by_label("Your name").fill("Marie")
    page.get_by_role("button", name="I agree").click()

    assert page.get_by_role("heading", level=1).inner_text() == "It is being worked on."
    assert page.get_by_text("Agreed on").is_visible()
    assert page.url == address


def test_who_forgets_the_name_is_told_and_nothing_is_answered(chromium, address):
    page = chromium.new_context(java_script_enabled=False).new_page()
    page.goto(address)

    page.get_by_label("Your name").fill("   ")
    page.get_by_role("button", name="I agree").click()

    assert "type your name" in page.get_by_role("alert").inner_text()
    assert page.get_by_role("button", name="I agree").is_visible()


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_it_fits_the_screen_and_big_fingers(chromium, address, width):
    page = chromium.new_context(viewport={"width": width, "height": 700}).new_page()
    page.goto(address)

    assert page.evaluate("document.documentElement.scrollWidth") <= width
    for target in page.locator("button, input[name=name]").all():
        assert target.bounding_box()["height"] >= 48


def test_it_asks_nobody_else_for_anything(chromium, address, live_server):
    page = chromium.new_page()
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    problems = []
    page.on("console", lambda message: problems.append(message.text))

    page.goto(address)

    assert all(url.startswith(live_server.url) for url in asked)
    assert problems == []
