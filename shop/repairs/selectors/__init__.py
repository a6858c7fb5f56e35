"""Reads of repairs."""

from shop.repairs.selectors.detail import (
    earlier_visits,
    event_rows,
    open_repair_of,
    photo_rows,
    stage_marks,
)
from shop.repairs.selectors.find import find
from shop.repairs.selectors.hands import is_waiting_for, last_hands
from shop.repairs.selectors.links import link_url, live_link, repair_by_token, status_url
from shop.repairs.selectors.rows import (
    repair_rows,
    repairs_matching,
    repairs_visible_to,
    row_values,
)

__all__ = [
    "earlier_visits",
    "event_rows",
    "find",
    "is_waiting_for",
    "last_hands",
    "link_url",
    "live_link",
    "open_repair_of",
    "photo_rows",
    "repair_by_token",
    "repair_rows",
    "repairs_matching",
    "repairs_visible_to",
    "row_values",
    "stage_marks",
    "status_url",
]
