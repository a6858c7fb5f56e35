"""What follows when a worksheet has passed. Called by the outbox; each part stands a repeat."""

from __future__ import annotations

from typing import Any
from uuid import UUID

import orjson
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core import outbox
from shop.core.selectors import shop_zone
from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.state import Standing, Step, choices_of, standing_of, visible_steps
from shop.jobs.requirements import safety_check_passed, worksheets_passed
from shop.jobs.selectors import entries_of
from shop.repairs.models import Repair, Stage
from shop.repairs.services import move_to_ready
from shop.units.services import note_idle_power, note_set_for


@outbox.handles("jobs.worksheet_passed")
def worksheet_passed(*, worksheet_id: str) -> None:
    """Note what was learnt on the model sheet, then see whether the unit is ready."""
    rows = Worksheet.objects.select_related("repair__unit__model_sheet", "revision__template")
    worksheet = rows.get(id=UUID(worksheet_id))
    if worksheet.stage != Worksheet.Stage.PASSED:
        return  # a correction came in meanwhile
    pack = orjson.loads(bytes(worksheet.pack))
    standing = standing_of(entries_of(worksheet.id))
    steps = list(visible_steps(pack, choices_of(standing)))  # what choices hide was not worked
    _note_idle_power(worksheet, steps, standing)
    _note_set_for(worksheet, steps, pack["supplies"]["use_at"], standing)
    bring_to_ready(repair=worksheet.repair)


def _note_set_for(
    worksheet: Worksheet, steps: list[Step], now: dict[str, Any], standing: Standing
) -> None:
    """A passed conversion: the unit is set for the supply the pack was worked out for."""
    choices = choices_of(standing)
    if any(step.get("writes") == "unit.set_for" and choices.get(step["id"]) for step in steps):
        note_set_for(unit=worksheet.repair.unit, volt=now["volt"], hz=now["hz"])


def _note_idle_power(worksheet: Worksheet, steps: list[Step], standing: Standing) -> None:
    sheet = worksheet.repair.unit.model_sheet
    if sheet is None:
        return
    for step in steps:
        reading = _good_reading(step, standing)
        if step.get("writes") == "sheet.idle_watt" and reading is not None:
            watt, by = reading.value_si or 0.0, reading.made_by
            note_idle_power(sheet=sheet, watt=watt, source=_source(reading), by=by)


def _good_reading(step: dict[str, Any], standing: Standing) -> Entry | None:
    """The standing reading of a step, unless it failed or was not measured."""
    entries = standing.get(step["id"], [])
    last = entries[-1] if entries else None
    if last is None or last.kind != Entry.Kind.READING or last.value_si is None:
        return None
    return None if last.verdict == "fail" else last


def _source(reading: Entry) -> str:
    words = _("measured on %(unit)s, %(day)s, repair %(number)s")
    day = timezone.localdate(reading.made_at, shop_zone()).isoformat()
    repair = Repair.objects.select_related("unit").get(id=reading.repair_id)
    return words % {"unit": repair.unit.code, "day": day, "number": repair.number}


def bring_to_ready(*, repair: Repair) -> bool:
    """Make a repair ready if safety check and worksheets passed. Says whether it did."""
    if repair.stage not in (Stage.ON_THE_BENCH, Stage.ON_TEST):
        return False
    if safety_check_passed(repair) or worksheets_passed(repair):
        return False
    move_to_ready(repair=repair, by=None, reason=_("The safety check and all worksheets passed."))
    return True
