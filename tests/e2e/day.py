"""What everybody in the test of the main job has at hand."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, Playwright

from shop.jobs.models import Worksheet
from shop.repairs.models import Repair
from tests.e2e.camera import photo
from tests.e2e.house import House
from tests.e2e.phone import WAIT_MS, Phone
from tests.e2e.steps import bench
from tests.e2e.steps.answers import Typed
from tests.e2e.steps.staff import sign_in
from tests.e2e.steps.worksheet import Worker


@dataclass
class Day:
    """What everybody in this test has at hand."""

    house: House
    chrome: Browser
    driver: Playwright
    folder: Path
    phone: Phone
    desks: dict[str, Page] = field(default_factory=dict)
    repair: str = ""
    faults: list[str] = field(default_factory=list)

    def listen(self, page: Page) -> Page:
        """Note what goes wrong inside a page and is not shown to anybody."""
        page.on("pageerror", lambda error: self.faults.append(f"{page.url}: {error}"))
        return page

    def desk_of(self, username: str) -> Page:
        if username not in self.desks:
            context = self.chrome.new_context(
                base_url=self.house.url, viewport={"width": 1280, "height": 900}
            )
            context.set_default_timeout(WAIT_MS)
            page = self.listen(context.new_page())
            page.goto("/app/")
            sign_in(page, username, device=f"desk of {username}")
            self.desks[username] = page
        return self.desks[username]

    @property
    def row(self) -> Repair:
        return Repair.objects.select_related("unit", "customer", "assigned_to").get(id=self.repair)

    def worker(self, worksheet: Worksheet, table: dict[str, Typed], **more: Any) -> Worker:
        inside = photo(self.folder, "inside")
        return Worker(self.phone.page, bench.pack_of(worksheet), inside, table, **more)
