"""The manager: orders to approve, the first page."""

from __future__ import annotations

from playwright.sync_api import Page, expect


def approve_order(page: Page, supplier: str) -> None:
    page.goto("/app/orders")
    page.get_by_role("link", name=supplier).click()
    page.get_by_role("button", name="Approve and send").click()
    expect(page.get_by_role("button", name="Approve and send")).to_be_hidden()


def board_says(page: Page, *words: str) -> None:
    page.goto("/app/board")
    expect(page.get_by_role("heading", name="Parts used")).to_be_visible()
    for said in words:
        expect(page.locator("main")).to_contain_text(said)
