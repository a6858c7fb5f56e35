"""The turns of a loop: over a list, or so many times as a whole number says."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from shop.jobs.errors import Gate
from shop.jobs.packing.values import NotKnown, Values


def rows_of(loop: dict[str, Any], values: Values) -> list[Any]:
    """The rows of a loop; an unknown list has none, and a number n has the rows 1 to n.

    Raises Gate if there are more than the template allows for.
    """
    found = _found(loop["over"], values)
    is_number = isinstance(found, int)
    count = found if is_number else len(found)
    if count > loop["max"]:
        reason = _("%(path)s has %(count)d rows; this job template allows for %(max)d.")
        raise Gate(reason % {"path": loop["over"], "count": count, "max": loop["max"]})
    return [{"number": number} for number in range(1, count + 1)] if is_number else found


def _found(path: str, values: Values) -> Any:
    """A list or a whole number; what is unknown or neither is an empty list."""
    try:
        found = values.get(path)
    except NotKnown:
        return []
    if isinstance(found, float) and found.is_integer():  # an answer about a count comes as a float
        return int(found)
    is_count = isinstance(found, int) and not isinstance(found, bool)
    return found if is_count or isinstance(found, list) else []


def turns_of(loop: dict[str, Any], values: Values) -> list[Values]:
    """What can be named in each turn of a loop. Raises Gate like `rows_of`."""
    rows = rows_of(loop, values)
    return [values.inside(loop, row, number) for number, row in enumerate(rows, 1)]
