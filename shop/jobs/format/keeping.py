"""What can be kept of a template at all, before it is asked whether it is a good one.

A draft may be as faulty as it likes; these bounds only hold what would break the books.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import orjson
from django.utils.translation import gettext as _

from shop.core.errors import BadField
from shop.jobs.format.problems import Path, Problem

MOST_BYTES = 500_000
DEEPEST = 40
LARGEST_WHOLE = 2**53 - 1  # RFC 8785, 3.2.2.3: beyond it whole numbers are not told apart


def require_keepable(body: Any, field: str = "body") -> None:
    """Raises BadField for what is no object, too large, nested too deeply, or no text."""
    if not isinstance(body, dict):
        raise BadField(field, _("A job template is an object."), "not_an_object")
    if require_plain(body, field) > MOST_BYTES:
        raise BadField(field, _("A job template has at most 500 kB."), "too_large")


def require_plain(body: Any, field: str = "body") -> int:
    """How many bytes it has as JSON. Raises BadField for what is nested too deeply or no text."""
    for path, value in _walk(body):
        if len(path) > DEEPEST:
            raise BadField(field, _("This is nested too deeply."), "too_deep")
        if isinstance(value, str) and "\0" in value:
            raise BadField(field, _("A NUL character is no text."), "nul_character")
        if isinstance(value, float) and not math.isfinite(value):
            raise BadField(field, _("An infinite number is no limit."), "not_finite")
    try:
        return len(orjson.dumps(body))
    except (TypeError, ValueError) as error:  # half a surrogate pair, a number of 400 digits
        raise BadField(field, _("This cannot be kept: %s.") % error, "not_json") from error


def uncounted_numbers(body: Any) -> list[Problem]:
    """Whole numbers so large that their last digits would be lost."""
    reason = _("This number is too large to be kept to its last digit.")
    return [
        Problem(path, reason)
        for path, value in _walk(body)
        if isinstance(value, int) and abs(value) > LARGEST_WHOLE
    ]


def _walk(body: Any) -> Iterator[tuple[Path, Any]]:
    """Every name and value with its path, by a list of our own: depth is what is looked for."""
    waiting: list[tuple[Path, Any]] = [((), body)]
    while waiting:
        path, value = waiting.pop()
        yield path, value
        if len(path) > DEEPEST:
            continue
        if isinstance(value, dict):
            waiting += [((*path, name), inner) for name, inner in value.items()]
            waiting += [((*path, name), name) for name in value]
        elif isinstance(value, list):
            waiting += [((*path, index), inner) for index, inner in enumerate(value)]
