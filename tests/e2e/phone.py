"""Browsers: a phone with a profile of its own that can be killed, and a desktop."""

from __future__ import annotations

import os
import shutil
import signal
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Error, Page, Playwright

from tests.services import tree_of, wait_until

FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
NAMES = ("chromium", "chromium-browser", "google-chrome")
MODEL = "Pixel 7"
WAIT_MS = 15_000


def chromium() -> str | None:
    return os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)


def camera_flags(film: Path) -> tuple[str, ...]:
    return (
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film}",
    )


def as_phone(driver: Playwright) -> dict[str, Any]:
    """Size, touch and agent of a phone, as a browser context takes them."""
    facts = dict(driver.devices[MODEL])
    del facts["default_browser_type"]
    return facts


@dataclass
class Phone:
    """Chromium at phone size. Its profile outlives it, as a phone's storage outlives a crash."""

    driver: Playwright
    url: str
    profile: Path
    film: Path | None = None
    context: BrowserContext | None = None
    page: Page = field(init=False, repr=False)

    def open(self, path: str = "/app/", *, offline: bool = False) -> Page:
        extra = camera_flags(self.film) if self.film else ()
        self.context = self.driver.chromium.launch_persistent_context(
            self.profile, executable_path=chromium(), args=[*FLAGS, *extra], base_url=self.url,
            **as_phone(self.driver),
        )  # fmt: skip
        self.context.set_default_timeout(WAIT_MS)
        self.context.set_offline(offline)
        self.page = self.context.pages[0]
        self.page.goto(path)
        return self.page

    def cut_off(self, offline: bool) -> None:
        assert self.context is not None
        self.context.set_offline(offline)

    def forget_session(self) -> None:
        assert self.context is not None
        self.context.clear_cookies()

    def kill(self) -> None:
        """End every process of this browser at once; its profile stays and is unlocked."""
        pids = [inner for pid in self._browsers() for inner in tree_of(pid)]
        assert pids, "no browser to kill"
        for pid in pids:
            try_kill(pid)
        wait_until(lambda: not any(_alive(pid) for pid in pids))
        for lock in self.profile.glob("Singleton*"):
            lock.unlink()
        self.context = None

    def open_pages(self) -> list[Page]:
        return self.context.pages if self.context else []

    def close(self) -> None:
        if self.context is not None:
            self.context.close()
            self.context = None

    def _browsers(self) -> list[int]:
        """The browser's own process, told by its profile; its helpers have a `--type`."""
        mine = f"--user-data-dir={self.profile}"
        return [
            int(folder.name)
            for folder in Path("/proc").iterdir()
            if folder.name.isdigit() and _is_browser(_words_of(folder), mine)
        ]


def _is_browser(words: list[str], mine: str) -> bool:
    return mine in words and not any(word.startswith("--type=") for word in words)


def _words_of(folder: Path) -> list[str]:
    try:
        return (folder / "cmdline").read_bytes().decode(errors="replace").split("\0")
    except OSError:  # it has just ended
        return []


def _alive(pid: int) -> bool:
    """A killed process that nobody has waited for yet is dead all the same."""
    try:
        return ") Z" not in Path(f"/proc/{pid}/stat").read_text()
    except OSError:
        return False


def try_kill(pid: int) -> None:
    try:
        os.kill(pid, signal.SIGKILL)
    except ProcessLookupError:
        return


def seen_soon(look: Callable[[], Any], *, seconds: float = 15.0) -> Any:
    """What the screen shows once it shows something. A page that just changes is asked again."""
    found: list[Any] = []

    def looked() -> bool:
        try:
            found[:] = [look()]
        except Error:
            return False
        return bool(found[0])

    wait_until(looked, seconds=seconds)
    return found[0]
