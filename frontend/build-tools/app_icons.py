"""Draws `public/icons/` from `app-icon.svg`: `python frontend/build-tools/app_icons.py`."""

from __future__ import annotations

import io
import os
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, sync_playwright

HERE = Path(__file__).parent
ICONS = HERE.parent / "public" / "icons"
SPRITE = HERE.parent / "src" / "lib" / "icons" / "sprite.svg"
GROUND, LIT = "#211c18", "#f2a73b"
COLOURS = 256  # a palette takes half the bytes; dithered, so that the glow shows no rings
# A launcher may cut a maskable icon to a circle of 80 % of its width.
WHOLE = (("icon-192", 192, 1.0), ("icon-512", 512, 1.0), ("icon-maskable-512", 512, 0.8),
         ("apple-touch-icon", 180, 1.0))  # fmt: skip
SHORTCUTS = {"shortcut-scan": "scan-line", "shortcut-bench": "lightbulb"}
SHORTCUT_SIZE = 96


def app_icon(share: float) -> str:
    """The lamp, as wide as the given share of the icon."""
    lamp = (HERE / "app-icon.svg").read_text()
    return f"<style>svg {{ width: {share:.0%}; height: {share:.0%} }}</style>{lamp}"


def shortcut_icon(name: str) -> str:
    """A mark of the app itself, lit, on the dark ground."""
    symbol = SPRITE.read_text().split(f'<symbol id="{name}"')[1].split("</symbol>")[0]
    return f"<style>svg {{ width: 60%; height: 60%; color: {LIT} }}</style><svg {symbol}</svg>"


def draw(page: Page, name: str, size: int, inner: str) -> None:
    page.set_viewport_size({"width": size, "height": size})
    page.set_content(
        f"<style>body {{ margin: 0; height: 100vh; display: grid; place-items: center;"
        f" background: {GROUND} }}</style>{inner}"
    )
    picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    few = picture.quantize(palette=picture.quantize(COLOURS), dither=Image.Dither.FLOYDSTEINBERG)
    few.save(ICONS / f"{name}.png", optimize=True)


def main() -> None:
    chromium = os.environ.get("CHROMIUM", "chromium")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_page()
        for name, size, share in WHOLE:
            draw(page, name, size, app_icon(share))
        for name, mark in SHORTCUTS.items():
            draw(page, name, SHORTCUT_SIZE, shortcut_icon(mark))
        browser.close()


if __name__ == "__main__":
    main()
