"""Telephone numbers as they are compared: what was typed stays as typed beside it."""

from __future__ import annotations

import re

MIN_DIGITS = 4  # fewer match too many customers
SHARED_DIGITS = 8  # the end of a number is the same with and without its country's prefix


def phone_digits(typed: str) -> str:
    """The digits of a number, without the zeros of a trunk or international prefix."""
    return re.sub(r"\D", "", typed).lstrip("0")[-20:]


def phone_scrap(typed: str) -> str:
    """What to look for inside `phone_digits`, or "" when this is no telephone number."""
    if not re.fullmatch(r"[\d\s()+/.-]+", typed.strip()):
        return ""
    digits = phone_digits(typed)
    return digits[-SHARED_DIGITS:] if len(digits) >= MIN_DIGITS else ""
