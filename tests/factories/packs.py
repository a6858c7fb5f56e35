"""What packs of small templates are made from, and how a test reads them."""

from __future__ import annotations

from typing import Any

import orjson

from shop.jobs.models import Worksheet

FUSE = {
    "name": "fuse",
    "title": "Fuse",
    "calculator": "fuses.scale",
    "given": {
        "old_mark": {"fact": "sheet.at_set_for.fuse"},
        "old_volt": {"fact": "supply.set_for.volt"},
        "new_volt": {"fact": "supply.use_at.volt"},
    },
}
ROWS = [
    {"name": "C1", "volt": 20, "uf": 2200},
    {"name": "C2", "volt": 300, "uf": 47},
]


def pack_of(worksheet: Worksheet) -> Any:
    return orjson.loads(bytes(worksheet.pack))


def steps_of(worksheet: Worksheet) -> dict[str, Any]:
    return {step["id"]: step for step in pack_of(worksheet)["steps"]}
