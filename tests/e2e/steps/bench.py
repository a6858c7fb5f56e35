"""What a tech does on the phone: scan a tag, take the unit, start a worksheet, watch the queue."""

from __future__ import annotations

import re
from typing import Any

import orjson
from playwright.sync_api import Page, expect

from shop.jobs.models import Worksheet
from tests.e2e.phone import seen_soon


def scan(page: Page) -> None:
    """Hold the tag before the camera until the app knows the unit."""
    page.goto("/app/scan")
    opens = page.get_by_role("button", name="Open the camera")
    # A browser that was allowed before opens its camera by itself.
    expect(opens.or_(page.locator("video:visible")).first).to_be_visible()
    if opens.is_visible():
        opens.click()
    page.wait_for_url("**/app/repairs/*", timeout=30_000)


def change_stage(page: Page, label: str, *, reason: str = "") -> None:
    page.get_by_role("button", name=f"Move to: {label}", exact=True).click()
    dialog = page.get_by_role("dialog")
    if reason:
        dialog.get_by_label("Reason or remark").fill(reason)
    dialog.get_by_role("button", name=label, exact=True).click()
    expect(dialog).to_be_hidden()


def start_worksheet(page: Page, title: str, **facts: str) -> Worksheet:
    """From the repair's page; ends on the worksheet."""
    page.get_by_role("button", name="Start a worksheet").click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("button", name=title).click()
    for label, value in facts.items():
        dialog.get_by_label(label).fill(value)
    dialog.get_by_role("button", name="Start", exact=True).click()
    page.wait_for_url("**/app/worksheets/*")
    expect(page.locator("article h2").first).to_be_visible()
    return Worksheet.objects.get(id=page.url.split("/worksheets/")[1].split("?")[0])


def pack_of(worksheet: Worksheet) -> dict[str, Any]:
    return dict(orjson.loads(bytes(worksheet.pack)))


def add_finding(page: Page, text: str) -> None:
    """To the bench log, from wherever the button is."""
    page.get_by_role("button", name="Bench log").or_(
        page.get_by_role("button", name="Add to the bench log")
    ).first.click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_label("In words").fill(text)
    dialog.get_by_role("button", name="Save finding").click()
    expect(dialog).to_be_hidden()


def unsent(page: Page) -> int:
    """The count at the top of every screen."""
    shown = page.get_by_test_id("unsent").filter(has_text=re.compile(r"\d|All sent"))
    said = shown.inner_text().strip()
    return 0 if said == "All sent" else int(said.split()[0])


def wait_until_sent(page: Page) -> None:
    seen_soon(lambda: unsent(page) == 0, seconds=40)


def wait_for_worker(page: Page) -> None:
    """The shell is kept on the phone: from now on it starts without network."""
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    seen_soon(lambda: page.evaluate("!!navigator.serviceWorker.controller"))
