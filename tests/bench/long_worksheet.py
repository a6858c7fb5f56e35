"""`python -m tests.bench.long_worksheet`: a worksheet of 300 steps in the hand.

A phone at a quarter of this machine's speed works an overhaul of which the look-over is done: saves
entries, opens the list of steps, goes to the next step. Printed for each: from the touch to the
next picture (Event Timing, in steps of 8 ms), to where it is seen to be done, and how long the
page's own thread worked until then, whatever else kept the machine. Prints figures and asserts
nothing. Takes the app as it was built last; books: a SQLite file that is gone afterwards.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
from collections import defaultdict
from pathlib import Path
from typing import Any

from playwright.sync_api import CDPSession, Locator, Page, sync_playwright

from deploy.proving.servers import free_port
from tests.e2e.house import House, Mailbox
from tests.e2e.phone import Phone
from tests.e2e.steps.staff import sign_in

SLOWER = 4
ROUNDS = 40
WATCH = """
window.took = [];
new PerformanceObserver((list) => {
  for (const one of list.getEntries()) {
    if (one.interactionId) took.push([one.startTime, one.duration]);
  }
}).observe({ type: "event", durationThreshold: 16 });
"""
# Resolves once the test holds and was drawn; asked before the touch, so that nothing is missed.
UNTIL = """([test, was]) => {
  const holds = new Function("was", `return ${test}`);
  const begun = performance.now();
  window.done = new Promise((resolve) => {
    const look = () => holds(was) || performance.now() - begun > 10000
      ? requestAnimationFrame(() => resolve(performance.now()))
      : requestAnimationFrame(look);
    look();
  });
  return begun;
}"""
HEADING = "document.querySelector('article h2')?.textContent"
MOVED = f"{HEADING} !== was"
LISTED = "document.querySelector('dialog[open] ol button') !== null"
SAVED = "document.querySelector('article form input')?.value !== '5'"


Took = tuple[float, float, float]  # to the next picture, until done, worked for it


def main() -> None:
    with tempfile.TemporaryDirectory(prefix="lampledger-bench-") as name:
        folder = Path(name)
        books = f"sqlite:///{folder / 'books.sqlite3'}"
        house = House(folder, books, "", free_port(), Mailbox(), free_port())
        for place in ("static", "queue/messages", "queue/control"):
            (folder / place).mkdir(parents=True)
        worksheet = house.command("tests.bench.long_worksheet", "--seed").stdout.split()[-1]
        house.start_web()
        try:
            with sync_playwright() as driver:
                report(Hand(Phone(driver, house.url, folder / "profile"), worksheet).work())
        finally:
            house.stop_web()


def seed() -> str:
    """The worksheet's id. The look-over is worked already, photos and all."""
    from tests.e2e import seed as small_shop

    small_shop.main()
    from shop.core.models import Person
    from shop.jobs.services import import_template_file, publish_revision
    from shop.jobs.shipped import shipped_templates
    from tests.factories.overhaul import PARTS, overhaul
    from tests.factories.working import work_to_end
    from tests.shop.jobs.test_shipped_templates import a_repair, start

    for file in shipped_templates():
        import_template_file(path=file)
    publish_revision(body=overhaul())
    anna = Person.objects.get(username="anna")
    sheet, pack = start("overhaul", a_repair(model="Echo 93"), anna)
    names = [step["id"] for step in pack["steps"]]
    work_to_end(sheet, anna, until=next(id for id in names if id.startswith(PARTS[1])))
    return str(sheet.id)


class Hand:
    """Works the worksheet and notes what each thing took, in milliseconds."""

    def __init__(self, phone: Phone, worksheet: str) -> None:
        self.phone, self.worksheet = phone, worksheet
        self.session: CDPSession
        self.figures: dict[str, list[Took]] = defaultdict(list)

    @property
    def page(self) -> Page:
        return self.phone.page

    def work(self) -> dict[str, list[Took]]:
        page = self.phone.open()
        sign_in(page, "anna", device="slow phone")
        page.add_init_script(WATCH)
        page.goto(f"/app/worksheets/{self.worksheet}")
        page.get_by_role("button", name="Next", exact=True).wait_for()
        session = page.context.new_cdp_session(page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        session.send("Performance.enable", {"timeDomain": "threadTicks"})
        self.session = session
        for turn in range(ROUNDS):
            back = page.get_by_role("button", name="Go to that step")
            if back.count():
                back.click()
            if not self.save_an_entry():
                self.touch("next step", page.get_by_role("button", name="Next", exact=True), MOVED)
            if turn % 4 == 0:
                self.open_the_list()
        self.phone.kill()
        return self.figures

    def save_an_entry(self) -> bool:
        """What the step on the screen asks for; False where that is not a touch or two."""
        card = self.page.locator("article")
        names = ("Understood and done", "Done", "Read and accepted")
        plain = [card.get_by_role("button", name=name, exact=True) for name in names]
        for button in (*plain, card.get_by_role("button", name="pass").first):
            if button.count() and button.is_enabled():
                self.touch("save, and on to the next step", button, MOVED)
                return True
        return self.save_a_reading(card)

    def save_a_reading(self, card: Locator) -> bool:
        save = card.get_by_role("button", name="Save reading")
        if not save.count():
            return False
        keys = self.page.get_by_role("group", name="Keys")
        typed = "document.querySelector('form input').value !== ''"
        self.touch("a key", keys.get_by_role("button", name="5", exact=True), typed)
        self.touch("save a reading", save, SAVED)
        self.touch("next step", self.page.get_by_role("button", name="Next", exact=True), MOVED)
        return True

    def open_the_list(self) -> None:
        page = self.page
        self.touch("open the list of steps", page.get_by_role("button", name="steps"), LISTED)
        page.get_by_role("button", name="Close", exact=True).click()

    def touch(self, what: str, button: Locator, done: str) -> None:
        page = self.page
        button.scroll_into_view_if_needed()
        was, busy = page.evaluate(HEADING), self.busy()
        page.evaluate(UNTIL, [done, was])
        begun = page.evaluate("performance.now()")
        button.click()
        end = page.evaluate("window.done")
        worked = self.busy() - busy
        page.wait_for_timeout(150)
        events = [one for one in page.evaluate("window.took") if one[0] >= begun]
        first = min((at for at, _duration in events), default=begun)
        picture = max((duration for _at, duration in events), default=0)
        self.figures[what].append((picture, end - first, worked))

    def busy(self) -> float:
        """How long the page's own thread has worked so far: not what others took of the machine."""
        metrics = self.session.send("Performance.getMetrics")["metrics"]
        return 1000 * next(one["value"] for one in metrics if one["name"] == "TaskDuration")


def report(figures: dict[str, list[Took]]) -> None:
    print(f"at a {SLOWER}th of the speed: median and slowest of ten, in ms")
    for what, took in figures.items():
        pictures, ends, busy = (summary(one) for one in zip(*took, strict=True))
        print(f"{what} ({len(took)}): next picture {pictures}, done {ends}, worked {busy}")


def summary(milliseconds: Any) -> str:
    if len(milliseconds) < 2:
        return f"{milliseconds[0]:.0f}"
    worst = statistics.quantiles(milliseconds, n=10)[-1]
    return f"{statistics.median(milliseconds):.0f} / {worst:.0f}"


if __name__ == "__main__":
    if sys.argv[1:] == ["--seed"]:
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
        print(seed())
    else:
        main()
