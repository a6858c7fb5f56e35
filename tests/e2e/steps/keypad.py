"""Readings as a tech types them: on the keypad, key by key."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, expect

KEYS = {"u": "µ"}
KEY = re.compile("mΩ|.")  # for ohms one key says what m means


def press(form: Locator, typed: str) -> None:
    """Press the keys of a reading, one after the other."""
    pad = form.get_by_role("group", name="Keys")
    for key in KEY.findall(typed):
        pad.get_by_role("button", name=KEYS.get(key, key), exact=True).click()


def enter(form: Locator, typed: str, *, keypad: bool, verdict: str | None = None) -> None:
    """Type a reading, see it judged as expected, save it."""
    if keypad:
        press(form, typed)
    else:
        form.locator(".display input").fill(typed)
    if verdict is not None:
        expect(form.locator(".full .verdict")).to_have_text(verdict)
    form.get_by_role("button", name="Save reading").click()
