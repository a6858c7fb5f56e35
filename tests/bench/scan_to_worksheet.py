"""`python -m tests.bench.scan_to_worksheet`: from a tag before the camera to its worksheet.

A phone at a quarter of this machine's speed and without network, on which everything lies: the app,
the decoder, a worksheet of 300 steps. Printed: from the tag coming into view of a camera that looks
already, and from opening the scanning page with the tag before it, each until the step is drawn.
The throttling slows the page, not its workers: the decoder's own time is that of this machine.
Prints figures and asserts nothing. Takes the app as it was built last.
"""

from __future__ import annotations

import statistics
import tempfile
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from deploy.proving.servers import free_port
from tests.e2e.camera import fake_camera, frame_of
from tests.e2e.house import House, Mailbox
from tests.e2e.phone import Phone
from tests.e2e.steps.staff import sign_in

SLOWER, ROUNDS = 4, 10
# Milliseconds since the page was opened at which the step is drawn; `shown`: the picture comes now.
DRAWN = """
async (shown) => {
  if (shown) await camera.show(shown);
  const begun = performance.now();
  await new Promise((drawn) => {
    const look = () => requestAnimationFrame(document.querySelector("article h2") ? drawn : look);
    look();
  });
  return [performance.now(), performance.now() - begun];
}
"""


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
                measure(Phone(driver, house.url, folder / "profile"), worksheet)
        finally:
            house.stop_web()


def measure(phone: Phone, worksheet: str) -> None:
    page = phone.open()
    sign_in(page, "anna", device="slow phone")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.goto(f"/app/worksheets/{worksheet}")
    page.locator("article h2").first.wait_for()
    picture = frame_of(page.locator("header .code").first.inner_text().strip())
    assert phone.context is not None
    fake_camera(phone.context)
    look_at_nothing(page)  # once with network: then decoder and page are kept
    phone.cut_off(True)
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    told("tag comes into view", [looking(page, picture) for _ in range(ROUNDS)])
    fake_camera(phone.context, picture=picture)
    told("scanning page opened", [opened(page) for _ in range(ROUNDS)])
    phone.kill()


def look_at_nothing(page: Page) -> None:
    """A while of an empty bench, so that camera and decoder stand."""
    page.goto("/app/scan")
    page.locator("video:visible").wait_for()
    page.wait_for_timeout(2_000)


def looking(page: Page, picture: str) -> float:
    look_at_nothing(page)
    return float(page.evaluate(DRAWN, picture)[1])


def opened(page: Page) -> float:
    page.goto("/app/scan")
    return float(page.evaluate(DRAWN, None)[0])


def told(what: str, took: list[float]) -> None:
    print(f"{what}: median {statistics.median(took):.0f} ms, slowest {max(took):.0f} ms")


if __name__ == "__main__":
    main()
