"""Sentences of a template: one per language, with {path|format} filled in."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from shop.calc.decimals import canonical
from shop.calc.quantities import Quantity
from shop.calc.readings import format_reading
from shop.calc.working import STANDING, standing

PLACE = re.compile(r"\{([a-z_]+(?:\.[a-z0-9_]+)*)(?:\|([a-z_]+))?\}")
_DOUBLED = re.compile(r"\{\{|\}\}")
FORMATS = frozenset({*Quantity, "list", "plain", "standing"})


def placeholders(text: str) -> list[tuple[str, str | None]]:
    """(path, format) of every placeholder."""
    return [(m[1], m[2]) for m in PLACE.finditer(_DOUBLED.sub("", text))]


def has_stray_braces(text: str) -> bool:
    return any(sign in "{}" for sign in PLACE.sub("", _DOUBLED.sub("", text)))


def in_language(text: Any, language: str) -> str:
    """The sentence in a language, else in English. A plain string is in every language."""
    if isinstance(text, dict):
        return str(text.get(language) or text["en"])
    return str(text or "")


def fill(text: str, look_up: Callable[[str, str | None], str]) -> str:
    """The sentence with its placeholders filled by `look_up(path, format)`."""
    parts = re.split(r"(\{\{|\}\}|\{[^{}]+\})", text)
    return "".join(_part(part, look_up) for part in parts)


def _part(part: str, look_up: Callable[[str, str | None], str]) -> str:
    if part in ("{{", "}}"):
        return part[0]
    found = PLACE.fullmatch(part)
    return look_up(found[1], found[2]) if found else part


def written(value: Any, style: str | None) -> str:
    """A value as people read it. Numbers of a quantity get prefix and unit, three digits."""
    if style == "list":
        return _as_list(value)
    if style == "standing" and value in STANDING:
        return standing(value)
    if isinstance(value, bool) or not isinstance(value, int | float):
        return str(value)
    text = canonical(repr(value))
    if style in (None, "plain"):
        return text
    return format_reading(text, Quantity(style), _digits(text))


def _digits(text: str) -> int:
    """Three significant digits, or all digits of a whole number: 1230 V stays 1.23 kV."""
    return max(3, len(text.lstrip("-").partition(".")[0]) if "." not in text else 3)


def _as_list(value: Any) -> str:
    rows = value if isinstance(value, list) else [value]
    return ", ".join("–".join(map(str, row)) if isinstance(row, list) else str(row) for row in rows)
