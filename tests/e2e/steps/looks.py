"""Is a screen usable by everybody: axe, width, size of what is tapped; and its picture."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any, Final

from playwright.sync_api import Page

AXE = Path(__file__).resolve().parents[3] / "frontend" / "node_modules" / "axe-core" / "axe.min.js"
TARGET = 48  # px, as the design asks
RUN_AXE: Final = """
async (options) =>
  (await axe.run(document, { resultTypes: ["violations"], ...options })).violations.map(
  (one) => `${one.id}: ${one.help}: ${one.nodes.map((node) => node.target.join(" ")).join(", ")}`)
"""
# A radio, a checkbox or a hidden file input is tapped by its label. What nobody sees is no target.
LOW_TARGETS: Final = """
(least) => [...document.querySelectorAll("a[href], button, input, select, textarea, summary")]
  .filter((one) => one.checkVisibility({ visibilityProperty: true }))
  .map((one) => {
    const byLabel = one.matches("[type=radio], [type=checkbox], [type=file]");
    const label = one.closest("label") ?? one.labels?.[0];
    const tapped = byLabel && label ? label : one;
    const { height, width } = tapped.getBoundingClientRect();
    const said = tapped.innerText || tapped.getAttribute("aria-label") || tapped.name || "";
    return { height, width, said: `${tapped.localName} “${said.trim().slice(0, 40)}”` };
  })
  .filter((one) => one.width > 1 && one.height < least - 0.5)
  .map((one) => `${one.said} is ${one.height.toFixed(1)} px high`)
"""
TOO_WIDE: Final = """
() => {
  const { scrollWidth, clientWidth } = document.documentElement;
  if (scrollWidth <= clientWidth) return [];
  const widest = [...document.querySelectorAll("body *")]
    .filter((one) => one.getBoundingClientRect().right > clientWidth + 0.5)
    .slice(-3).map((one) => `${one.localName}.${one.getAttribute("class")}`);
  return [`${scrollWidth} px wide in a window of ${clientWidth}: ${widest.join(", ")}`];
}
"""


@cache
def _axe() -> str:
    return AXE.read_text()


def faults_of(page: Page) -> list[str]:
    """What keeps somebody from using the screen as it is shown now."""
    return [*_by_axe(page), *page.evaluate(LOW_TARGETS, TARGET), *page.evaluate(TOO_WIDE)]


def faults_of_colour(page: Page) -> list[str]:
    """What cannot be told from its ground. All else is the same on every ground."""
    return _by_axe(page, runOnly=["color-contrast"])


def faults_of_width(page: Page) -> list[str]:
    """What makes the screen scroll sideways."""
    return list(page.evaluate(TOO_WIDE))


@contextmanager
def large_text(page: Page) -> Iterator[None]:
    """Text twice as large, as people set it who see badly."""
    page.evaluate("document.documentElement.style.fontSize = '34px'")
    yield
    page.evaluate("document.documentElement.style.fontSize = ''")


def _by_axe(page: Page, **options: Any) -> list[str]:
    page.evaluate(_axe())  # not by a script tag, which the content policy would refuse
    return list(page.evaluate(RUN_AXE, options))


def keep_picture(page: Page, name: str) -> None:
    """A picture of the whole screen, if SCREENSHOTS names a folder."""
    folder = os.environ.get("SCREENSHOTS")
    size = page.viewport_size
    if not folder or not size:
        return
    picture = Path(folder) / f"{name}.png"
    picture.parent.mkdir(parents=True, exist_ok=True)
    # A window as high as the page, so that what sticks to its foot stays at the foot.
    whole = page.evaluate("document.documentElement.scrollHeight")
    page.set_viewport_size({**size, "height": max(size["height"], whole)})
    page.screenshot(path=picture)
    page.set_viewport_size(size)
