"""Works a worksheet on the screen: reads the step that is shown and answers it by its kind."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page, expect

from shop.calc.readings import parse_reading
from tests.e2e.phone import seen_soon
from tests.e2e.seed import PEOPLE
from tests.e2e.steps.answers import Typed, choice_that_passes, middle, value_inside
from tests.e2e.steps.keypad import enter

Step = dict[str, Any]
# After these the screen stays, so that one sees what was saved.
STAYS = {"photo", "note", "reading", "ramp"}
GRIDS = {"ramp", "table"}


@dataclass
class Worker:
    """One tech with a worksheet open on the screen.

    `pack` is what the server made; the screen must show its steps. `done` counts what was saved,
    `skips` are steps that are left out, with the reason.
    """

    page: Page
    pack: dict[str, Any]
    photo: Path
    answers: Mapping[str, Typed] = field(default_factory=dict)
    skips: Mapping[str, str] = field(default_factory=dict)
    signs_as: str = "anna"
    has_clock: bool = False
    done: int = 0
    read: dict[str, float] = field(default_factory=dict)

    def work(self, *, until: str | None = None) -> None:
        """Answer step after step, up to the one named (which stays open) or to the end."""
        for _round in range(2 * len(self.pack["steps"])):
            step = self.here()
            if step["id"] == until:
                return
            if not self._settled_already():
                self.answer(step)
            if not self._moves_on(step):
                assert until is None, f"{until} never came"
                return
        raise AssertionError("the worksheet does not end")

    def here(self) -> Step:
        """The step on the screen, told by its title."""
        title = self.card.locator("h2").first.inner_text()
        found = [step for step in self.pack["steps"] if step["title"] == title]
        assert len(found) == 1, (title, [step["id"] for step in found])
        return found[0]

    @property
    def card(self) -> Locator:
        return self.page.locator("article")

    def answer(self, step: Step) -> None:
        by_kind: dict[str, Callable[[Step], None]] = {
            "look": self._look,
            "reading": self._reading,
            "photo": self._photo,
            "take_part": self._take_part,
            "timer": self._timer,
            "note": self._note,
            "sign_off": self._sign,
            "ramp": self._ramp,
            "table": self._table,
        }
        answer = by_kind.get(step["kind"], self._acknowledge)
        (self._skip if step["id"] in self.skips else answer)(step)
        self.done += 0 if step["kind"] in GRIDS else 1

    def saved_lines(self) -> Locator:
        return self.page.locator("article > .lines > *")

    def correct(self, typed: Typed, reason: str) -> None:
        """Put a reading right that stands on this step, saying why."""
        self.card.get_by_role("button", name="Correct").click()
        self.card.get_by_label("Reason").fill(reason)
        self.card.get_by_role("button", name="clear").click()  # it begins with what was typed
        enter(self.card, typed.text, keypad=True, verdict=typed.verdict)
        self.done += 1
        expect(self.card.get_by_label("Reason")).to_be_hidden()

    def next(self) -> None:
        before = self.card.locator("h2").first.inner_text()
        self.page.locator(".ways").get_by_role("button", name="Next").click()
        expect(self.card.locator("h2").first).not_to_have_text(before)

    def _settled_already(self) -> bool:
        return self.saved_lines().count() > 0

    def _moves_on(self, step: Step) -> bool:
        """Whether another step is shown now. Some kinds go on by themselves, unless all is done."""
        if step["kind"] not in STAYS or step["id"] in self.skips:
            title = self.card.locator("h2").first
            seen_soon(lambda: title.inner_text() != step["title"] or self._all_done())
            if title.inner_text() != step["title"]:
                return True
        onward = self.page.locator(".ways").get_by_role("button", name="Next")
        if onward.is_disabled():
            return False
        self.next()
        return True

    def _all_done(self) -> bool:
        return self.page.get_by_text("All done", exact=True).is_visible()

    def _acknowledge(self, step: Step) -> None:
        words = {"caution": "Understood and done", "computed": "Read and accepted"}
        self.card.get_by_role("button", name=words.get(step["kind"], "Done"), exact=True).click()

    def _look(self, step: Step) -> None:
        label = choice_that_passes(step)
        self.card.locator("li button").filter(has=self.page.get_by_text(label, exact=True)).click()

    def _reading(self, step: Step) -> None:
        given = self.answers.get(step["id"])
        typed = given or Typed(value_inside(step["band"], self.read))
        self.read[step["id"]] = float(parse_reading(typed.text, step["quantity"]).text or 0)
        enter(self.card, typed.text, keypad=given is not None, verdict=typed.verdict)
        expect(self.saved_lines()).not_to_have_count(0)

    def _photo(self, step: Step) -> None:
        self.card.locator("input[type=file]").set_input_files(self.photo)
        self.card.get_by_label("What it shows").fill(step["title"][:60])
        self.card.get_by_role("button", name="Save photo").click()
        expect(self.saved_lines()).to_have_count(1)

    def _take_part(self, step: Step) -> None:
        self.card.get_by_role("button", name=f"Take {step['quantity']} from stock").click()

    def _timer(self, step: Step) -> None:
        """The clock of the page is set forward; the app itself must honour the time."""
        if not self.has_clock:
            self.page.clock.install()
            self.has_clock = True
        self.card.get_by_role("button", name="Start the timer").click()
        expect(self.card.get_by_role("button", name="Save and go on")).to_be_hidden()
        self.page.clock.fast_forward(int((step["seconds"] + 1) * 1000))
        self.card.get_by_role("button", name="Save and go on").click()

    def _note(self, step: Step) -> None:
        self.card.get_by_label("Note", exact=True).fill("Setting A12 stored.")
        self.card.get_by_role("button", name="Save note").click()
        expect(self.saved_lines()).to_have_count(1)

    def _skip(self, step: Step) -> None:
        self.card.get_by_role("button", name="Skip").click()
        dialog = self.page.get_by_role("dialog")
        dialog.get_by_label("Reason").fill(self.skips[step["id"]])
        dialog.get_by_role("button", name="Save without doing it").click()
        expect(dialog).to_be_hidden()

    def _sign(self, step: Step) -> None:
        self.card.get_by_role("button", name="Sign", exact=True).click()
        dialog = self.page.get_by_role("dialog")
        if step["other_person"]:
            dialog.get_by_label("User name").fill(self.signs_as)
        dialog.get_by_label("Password").fill(PEOPLE[self.signs_as][2])
        dialog.get_by_role("button", name="Sign", exact=True).click()
        expect(dialog).to_be_hidden()

    def _ramp(self, step: Step) -> None:
        columns = [column for column in step["columns"] if column.get("required", True)]
        for number, row in enumerate(step["rows"]):
            line = self.card.locator("tbody tr").nth(number)
            line.get_by_role("button").first.click()
            for column in columns:
                self._cell(column, row, number)
            expect(self.page.get_by_role("dialog")).to_be_hidden()

    def _table(self, step: Step) -> None:
        """One cell after the other comes up by itself."""
        self.card.get_by_role("button", name="Read ").click()
        heading = self.page.get_by_role("dialog").get_by_role("heading").first
        for number, row in enumerate(step["rows"]):
            for column in step["columns"]:
                if column.get("required", True):
                    expect(heading).to_contain_text(row["title"])
                    self._cell(column, row, number)
        expect(self.page.get_by_role("dialog")).to_be_hidden()

    def _cell(self, column: dict[str, Any], row: dict[str, Any], number: int) -> None:
        dialog = self.page.get_by_role("dialog")
        expect(dialog.get_by_role("heading").first).to_contain_text(column["title"])
        typed = self._cell_value(column, row, number)
        enter(dialog, typed, keypad=False, verdict="pass" if column["band"] else None)
        self.done += 1

    def _cell_value(self, column: dict[str, Any], row: dict[str, Any], number: int) -> str:
        if column["key"] == "set":
            return f"{row['set_volt']:g}"
        return middle(*column["band"]["rows"][number]) if column["band"] else "0.01"
