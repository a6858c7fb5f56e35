"""Reads of templates, worksheets and entries."""

from shop.jobs.selectors.entries import (
    effective_entries,
    entries_newer_than,
    entries_of,
    entry_row,
    first_break_of,
    heads_of,
    is_single,
)
from shop.jobs.selectors.templates import (
    published_revision,
    published_revisions,
)
from shop.jobs.selectors.worksheets import (
    changed_since,
    pack_of,
    passed_safety_check,
    safety_checks,
    stages_of,
    worksheet_row,
    worksheets_to_hold,
    worksheets_visible_to,
)

__all__ = [
    "changed_since",
    "effective_entries",
    "entries_newer_than",
    "entries_of",
    "entry_row",
    "first_break_of",
    "heads_of",
    "is_single",
    "pack_of",
    "passed_safety_check",
    "published_revision",
    "published_revisions",
    "safety_checks",
    "stages_of",
    "worksheet_row",
    "worksheets_to_hold",
    "worksheets_visible_to",
]
