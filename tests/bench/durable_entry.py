"""`python -m tests.bench.durable_entry`: how soon after "save" an entry can no longer be lost.

Findings are saved on the repair screen of a real Chromium at phone size, without network. Noted for
each: from the touch to the end of the strict transaction that holds the entry. In turns with it, a
bare strict put of as many bytes into a store of its own: what the disk and the browser ask for
anyhow. Both at a quarter of this machine's speed and at all of it. Prints figures and asserts
nothing. Takes the app as it was built last; books: a SQLite file that is gone afterwards.
"""

from __future__ import annotations

import os
import statistics
import tempfile
from pathlib import Path

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

import django

django.setup()

from playwright.sync_api import Page, Playwright, sync_playwright  # noqa: E402 - settings first

from deploy.proving.servers import free_port  # noqa: E402
from tests.e2e.house import House, Mailbox, wait_for  # noqa: E402
from tests.e2e.phone import Phone  # noqa: E402
from tests.e2e.steps.bench import add_finding, wait_for_worker  # noqa: E402
from tests.e2e.steps.staff import ThroughApi, sign_in  # noqa: E402
from tests.e2e.steps.visits import on_the_bench  # noqa: E402

ROUNDS = 30
SPEEDS = {1: "at full speed", 4: "at a quarter of the speed"}
WITHIN_MS = 50
BYTES = 900  # as an entry and its place in the queue, written out
WATCH = """
window.durable = [];
addEventListener("click", () => { window.touched = performance.now(); }, true);
const begin = IDBDatabase.prototype.transaction;
IDBDatabase.prototype.transaction = function (stores, mode, options) {
  const tx = begin.call(this, stores, mode, options);
  const holdsEntry = options?.durability === "strict" && [stores].flat().includes("entries");
  if (holdsEntry) tx.addEventListener("complete",
    () => durable.push(performance.now() - window.touched));
  return tx;
};
"""
BARE_PUT = """(bytes) => new Promise((resolve, reject) => {
  const opening = indexedDB.open("floor", 1);
  opening.onerror = reject;
  opening.onupgradeneeded = () => opening.result.createObjectStore("rows", { autoIncrement: true });
  opening.onsuccess = () => {
    const begun = performance.now();
    const tx = opening.result.transaction("rows", "readwrite", { durability: "strict" });
    tx.objectStore("rows").put("x".repeat(bytes));
    tx.oncomplete = () => { opening.result.close(); resolve(performance.now() - begun); };
  };
})"""


def main() -> None:
    with tempfile.TemporaryDirectory(prefix="lampledger-bench-") as name:
        folder = Path(name)
        books = f"sqlite:///{folder / 'books.sqlite3'}"
        house = House(folder, books, "", free_port(), Mailbox(), free_port())
        for place in ("static", "queue/messages", "queue/control"):
            (folder / place).mkdir(parents=True)
        house.command("tests.e2e.seed")
        house.start_web()
        try:
            with sync_playwright() as driver:
                measure(driver, house)
        finally:
            house.stop_web()


def measure(driver: Playwright, house: House) -> None:
    page = open_repair(driver, house)
    speed = page.context.new_cdp_session(page)
    print(f"load average {os.getloadavg()[0]:.1f}")
    for slower, said in SPEEDS.items():
        speed.send("Emulation.setCPUThrottlingRate", {"rate": slower})
        pairs = [(save(page, number), page.evaluate(BARE_PUT, BYTES)) for number in range(ROUNDS)]
        entries, floors = zip(*pairs, strict=True)
        ratio = statistics.median(entries) / statistics.median(floors)
        within = sum(one <= WITHIN_MS for one in entries)
        print(f"{said}: entry {summary(entries)}, bare strict put {summary(floors)}, {ratio:.1f} ×;"
              f" {within} of {ROUNDS} within {WITHIN_MS} ms")  # fmt: skip
    page.context.close()


def open_repair(driver: Playwright, house: House) -> Page:
    """A repair on the screen of a phone that has lost the network."""
    dora, anna = (ThroughApi(driver, house.url, name) for name in ("dora", "anna"))
    repair = on_the_bench(dora, anna, serial="9240001")["id"]
    phone = Phone(driver, house.url, house.folder / "profile")
    page = phone.open()
    sign_in(page, "anna", device="bench phone")
    wait_for_worker(page)
    page.add_init_script(WATCH)
    page.goto(f"/app/repairs/{repair}")
    page.get_by_role("button", name="Add to the bench log").wait_for()
    phone.cut_off(True)
    return page


def save(page: Page, number: int) -> float:
    """Milliseconds from the touch on "save" until the entry is durable."""
    page.evaluate("durable.length = 0")
    add_finding(page, f"Finding {number}: the fourth capacitor from the left is warm to the touch.")
    wait_for(lambda: page.evaluate("durable.length"))
    return float(page.evaluate("durable[0]"))


def summary(milliseconds: tuple[float, ...]) -> str:
    """Median and slowest of ten."""
    worst = statistics.quantiles(milliseconds, n=10)[-1]
    return f"{statistics.median(milliseconds):.1f} / {worst:.1f} ms"


if __name__ == "__main__":
    main()
