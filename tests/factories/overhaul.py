"""A whole overhaul as one worksheet: the shipped job templates worked one after the other.

As long as a worksheet gets in a shop, with the words, workings and limits of real jobs.
"""

from __future__ import annotations

from typing import Any

from tests.factories.jobs import template

PARTS = (
    "look-over", "dented-chassis", "electrolytic-survey", "controls-service", "supply-rails",
    "valve-check", "backup-cell-swap",
)  # fmt: skip


def overhaul() -> dict[str, Any]:
    """The body of the template. The shipped ones are to be published before it."""
    steps = [{"id": slug, "kind": "procedure", "procedure": {"template": slug}} for slug in PARTS]
    return template(*steps, slug="overhaul", title="Overhaul", minutes=600)
