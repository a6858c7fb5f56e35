"""What a manager does in the editor of job templates, by the words on its screens."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

from tests.e2e.seed import PEOPLE


class Editor:
    """One draft open on a desktop: its list of steps at the left, the form of one in the middle."""

    def __init__(self, page: Page) -> None:
        self.page = page

    @property
    def form(self) -> Locator:
        return self.page.locator(".columns > .form")

    @property
    def list(self) -> Locator:
        return self.page.get_by_role("navigation", name="All of this job template")

    def begin(self, title: str) -> None:
        """From the shelf, with nothing."""
        self.page.goto("/app/templates")
        self.page.get_by_role("button", name="New job template").click()
        dialog = self.page.get_by_role("dialog")
        dialog.get_by_label("What is the job called?").fill(title)
        dialog.get_by_role("button", name="Begin", exact=True).click()
        self.page.wait_for_url("**/app/templates/drafts/*")
        expect(self.page.get_by_role("heading", name=title, level=1)).to_be_visible()

    def open_part(self, name: str) -> None:
        """A part of the head, by its name in the list."""
        self.list.get_by_role("button", name=name).click()
        expect(self.form.get_by_role("heading", name=name)).to_be_visible()

    def open_step(self, title: str) -> None:
        self.list.locator("ol").get_by_role("button", name=title).first.click()

    def add_step(self, kind: str, title: str) -> None:
        """Below the step that is open; the new one is open then."""
        self.list.get_by_role("button", name="Add a step").click()
        dialog = self.page.get_by_role("dialog")
        dialog.get_by_label("What is the step called?").fill(title)
        dialog.get_by_role("button", name=re.compile(f"^{kind}\\s")).click()
        expect(self.form.get_by_role("heading", name=kind, exact=True)).to_be_visible()
        expect(self.form.get_by_label("Title", exact=True)).to_have_value(title)

    def fill(self, label: str, text: str, *, nth: int = 0) -> None:
        self.form.get_by_label(label, exact=True).nth(nth).fill(text)

    def choose(self, label: str, option: str, *, nth: int = 0) -> None:
        """From a list, or from a few side by side."""
        among = self.form.get_by_role("combobox", name=label, exact=True)
        few = self.form.get_by_role("group", name=label, exact=True)
        radio = few.get_by_label(option, exact=True)
        found = among.or_(radio).nth(nth)
        expect(found).to_be_visible()
        if found.evaluate("one => one.localName") == "select":
            found.select_option(label=option)
        else:
            found.check()

    def tick(self, label: str, *, on: bool = True) -> None:
        self.form.get_by_label(label, exact=True).set_checked(on)

    def choose_meters(self, *kinds: str) -> None:
        """Only these may be used; with none of them, every meter that knows the quantity."""
        group = self.form.get_by_role("group", name="Meters that may be used", exact=True)
        for box in group.get_by_role("checkbox", checked=True).all():
            box.uncheck()
        for kind in kinds:
            group.get_by_label(kind, exact=True).check()

    def press(self, name: str, *, within: str = "") -> None:
        """A button of the form, or of one of its groups."""
        place = self.form.get_by_role("group", name=within, exact=True) if within else self.form
        place.get_by_role("button", name=name, exact=True).click()

    def unfold(self, title: str) -> None:
        self.form.locator("summary", has_text=title).click()

    def pick_known(self, title: str) -> None:
        """Something that is known by then, from the list that just opened."""
        dialog = self.page.get_by_role("dialog")
        dialog.get_by_role("button", name=title).first.click()
        expect(dialog).to_be_hidden()

    def move_up(self, title: str) -> None:
        tools = self.list.get_by_role("group", name=f"Move or remove: {title}")
        tools.get_by_role("button", name="Move up").click()

    def steps(self) -> list[str]:
        """The titles of the steps, in order."""
        lines = self.list.locator("ol .title").all()
        return [line.evaluate("one => one.firstChild.textContent.trim()") for line in lines]

    def wait_until_saved(self) -> None:
        expect(self.page.get_by_text("Saved", exact=True)).to_be_visible()

    def has_no_faults(self) -> None:
        self.wait_until_saved()
        expect(self.page.get_by_text(re.compile(r"things? to mend"))).to_have_count(0)

    def ask_for_review(self, note: str) -> None:
        self._act("Ask for a second look", "Ask", "What should they look at?", note)
        expect(self.page.get_by_text("Waits for a second look.")).to_be_visible()

    def publish(self, note: str) -> None:
        self._act("Publish", "Publish now", "What changed?", note)
        self.page.wait_for_url(re.compile("/app/templates/[a-z0-9-]+$"))

    def _act(self, name: str, do: str, label: str, note: str) -> None:
        self.page.get_by_role("button", name=name, exact=True).click()
        dialog = self.page.get_by_role("dialog")
        dialog.get_by_label(label).fill(note)
        dialog.get_by_role("button", name=do, exact=True).click()


def review(page: Page, username: str, title: str, *, agree: bool = True, note: str = "") -> None:
    """A second person finds the draft, reads it and signs with their own password."""
    page.goto("/app/bench")
    page.get_by_role("link", name=re.compile("job templates? waits? for a second look")).click()
    page.get_by_role("link", name=title).first.click()
    expect(page.get_by_role("heading", name="All of it in words")).to_be_visible()
    page.get_by_role("button", name="Agree" if agree else "Send back", exact=True).click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_label("Note (may be left empty)" if agree else "What should be changed?").fill(
        note
    )
    dialog.get_by_label("Password").fill(PEOPLE[username][2])
    dialog.get_by_role("button", name=re.compile("^Sign and")).click()
    page.wait_for_url("**/app/templates")
