"""What the desk does on its screen: booking in, papers, estimate, payment, hand-back."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Locator, Page, expect

PIECES = ("mains cord", "footswitch")


def book_in(page: Page, *, serial: str, photo: Path) -> str:
    """The whole booking-in screen for a new customer; answers with the repair's id."""
    page.get_by_role("link", name="Book in").first.click()
    expect(page.get_by_role("heading", name="Book in")).to_be_visible()
    _customer(page)
    _unit(page, serial)
    _fault_and_supply(page)
    _arrival(page, photo)
    _permissions(page)
    sign(page)
    page.get_by_role("button", name="Save and print").click()
    page.wait_for_url("**/app/booked/*")
    return page.url.rsplit("/", 1)[1]


def _customer(page: Page) -> None:
    section = page.get_by_role("region", name="Customer")
    section.get_by_role("combobox", name="Name").fill("Clara Kundin")
    section.get_by_label("Phone").fill("030 23125 71")
    section.get_by_label("Email").fill("clara@mail.example")


def _unit(page: Page, serial: str) -> None:
    section = page.get_by_role("region", name="Unit")
    section.get_by_role("combobox", name="Make").press_sequentially("Nebel", delay=20)
    section.get_by_role("option", name="Nebelhorn Echo 92").click()
    expect(section.get_by_label("Model", exact=True)).to_have_value("Echo 92")
    section.get_by_label("Serial number", exact=True).fill(serial)


def _fault_and_supply(page: Page) -> None:
    fault = page.get_by_role("region", name="What is wrong")
    fault.get_by_label("What is wrong, in the customer's words").fill("Forgets its sounds.")
    fault.get_by_label("When it last worked").fill("last summer")
    fault.get_by_label("On what supply").fill("straight on the mains here")
    supply = page.get_by_role("region", name="Supply")
    supply.get_by_role("button", name="230 V").click()
    supply.get_by_label("Where it will be used").select_option("US")
    expect(supply.get_by_label("Use at, in volts")).to_have_value("120")
    expect(supply.get_by_text("it needs a conversion")).to_be_visible()


def _arrival(page: Page, photo: Path) -> None:
    pieces = page.get_by_role("region", name="Came with it")
    for name in PIECES:
        pieces.get_by_role("button", name=name).click()
    arrival = page.get_by_role("region", name="How it arrives")
    arrival.get_by_label("Visible damage").fill("Scratch on the lid.")
    arrival.locator("input[type=file]").set_input_files(photo)
    arrival.get_by_label("What it shows").fill("Scratch on the lid")
    arrival.get_by_role("button", name="Save photo").click()
    expect(arrival.get_by_role("button", name="Remove photo")).to_be_visible()


def _permissions(page: Page) -> None:
    section = page.get_by_role("region", name="What may be done")
    section.get_by_label("Spend without asking, EUR incl. tax").fill("20")
    section.get_by_label("allowed", exact=True).check()
    section.get_by_label("save them first").check()


def sign(page: Page) -> None:
    """Draw something like a name."""
    pad = page.get_by_label("Field to sign in")
    pad.scroll_into_view_if_needed()
    box = pad.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 30, box["y"] + 90)
    page.mouse.down()
    for step in range(1, 12):
        page.mouse.move(box["x"] + 30 + 14 * step, box["y"] + 90 + (-1) ** step * 30)
    page.mouse.up()
    expect(page.get_by_text("Signed", exact=True)).to_be_visible()


def paper(page: Page, title: str) -> bytes:
    """The PDF behind a paper's link, once it is drawn."""
    link: Locator = page.get_by_role("link", name=title)
    expect(link).to_be_visible(timeout=30_000)
    answer = page.context.request.get(str(link.get_attribute("href")))
    assert answer.ok, answer.status
    return answer.body()


def give_to(page: Page, repair: str, name: str) -> None:
    """Who works on it."""
    page.goto(f"/app/desk/repairs/{repair}")
    page.get_by_role("button", name="Change day or person").click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_label("Who works on it").select_option(name)
    dialog.get_by_role("button", name="Save").click()
    expect(page.get_by_text(f"{name} works on it.")).to_be_visible()


def send_estimate(page: Page, repair: str, lines: list[tuple[str, str, str]]) -> None:
    """Make an estimate of lines (what, quantity, price each) and send it."""
    page.goto(f"/app/desk/repairs/{repair}")
    page.get_by_role("button", name="Make an estimate").click()
    dialog = page.get_by_role("dialog")
    for number, (text, quantity, price) in enumerate(lines):
        if number:
            dialog.get_by_role("button", name="Add a line").click()
        line = dialog.get_by_role("group", name=f"Line {number + 1}")
        line.get_by_label("What").fill(text)
        line.get_by_label("Quantity").fill(quantity)
        line.get_by_label("Price each").fill(price)
    dialog.get_by_role("button", name="Save estimate").click()
    page.get_by_role("button", name="Send the estimate").click()
    expect(page.get_by_text("Sent; the customer has not answered.")).to_be_visible()


def take_payment(page: Page, repair: str) -> None:
    """All that is due, by card."""
    page.goto(f"/app/desk/repairs/{repair}")
    page.get_by_role("button", name="Take a payment").click()
    page.get_by_role("dialog").get_by_role("button", name="Record payment").click()
    expect(page.get_by_text("Nothing is to be paid.")).to_be_visible()


def hand_back(page: Page, repair: str) -> None:
    """One piece is forgotten first: the screen asks for it."""
    page.goto(f"/app/desk/repairs/{repair}")
    page.get_by_role("link", name="Hand back").click()
    page.get_by_role("checkbox", name=PIECES[0]).check()
    page.get_by_role("button", name="Hand back now").click()
    expect(page.get_by_text("Tick every piece, or say why one is missing.")).to_be_visible()
    page.get_by_role("checkbox", name=PIECES[1]).check()
    page.get_by_role("button", name="Hand back now").click()
    page.wait_for_url(f"**/app/desk/repairs/{repair}")
