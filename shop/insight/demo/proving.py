"""The safety check of a sound unit, at a time in the past."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from shop.benches.models import Meter
from shop.core.models import Person
from shop.insight.demo.worked import work_through
from shop.repairs.models import Repair

CHECK = "safety-check"
CLASSES = {"0": "class_0", "I": "class_i", "II": "class_ii"}


def prove(*, repair: Repair, by: Person, at: datetime, meters: list[Meter]) -> None:
    """Leave a passed safety check that was begun at `at`."""
    work_through(
        repair=repair, template=CHECK, by=by, at=at, meters=meters, facts=_asked(repair)
    )  # fmt: skip


def _asked(repair: Repair) -> dict[str, Any]:
    """What the template asks at the start of a unit with two wires."""
    sheet = repair.unit.model_sheet
    return {"class_now": CLASSES[sheet.protection_class]} if sheet and sheet.two_wire else {}
