"""The customer: mail in the box, a status page without JavaScript."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from email.message import EmailMessage
from urllib.parse import urljoin

from playwright.sync_api import Browser, Page, Playwright, expect

from tests.e2e.house import House, text_of, wait_for
from tests.e2e.phone import as_phone

ADDRESS = "clara@mail.example"


def mail(house: House, *words: str) -> EmailMessage:
    """The one message to the customer that says all the words."""
    found = wait_for(lambda: house.mailbox.to(ADDRESS, *words), seconds=40)
    assert len(found) == 1, [str(message["Subject"]) for message in found]
    return found[0]


def link_in(message: EmailMessage, house: House) -> str:
    found = re.search(rf"{re.escape(house.url)}/s/\S+", text_of(message))
    assert found, text_of(message)
    return found.group()


def attached_pdf(message: EmailMessage) -> bytes:
    (paper,) = list(message.iter_attachments())
    assert paper.get_content_type() == "application/pdf"
    return bytes(paper.get_content())


@contextmanager
def visiting(chrome: Browser, driver: Playwright, link: str) -> Iterator[Page]:
    """Any phone, no account, JavaScript off."""
    context = chrome.new_context(java_script_enabled=False, **as_phone(driver))
    page = context.new_page()
    page.goto(link)
    yield page
    context.close()


def agree(page: Page, *, total: str) -> None:
    expect(page.get_by_text("Estimate", exact=True)).to_be_visible()
    page.get_by_label("Your name").fill("Clara Kundin")
    page.get_by_role("button", name=f"I agree: repair it for {total}").click()
    expect(page.get_by_text("Agreed on")).to_be_visible()


def report(page: Page) -> bytes:
    """The test report behind its link."""
    address = page.get_by_role("link", name="Test report (PDF)").get_attribute("href")
    answer = page.context.request.get(urljoin(page.url, address))
    assert answer.headers["content-type"] == "application/pdf"
    return answer.body()
