"""Writes of model sheets: a new one, a change to one, a figure noted at the bench."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField, Conflict, Stale
from shop.core.models import Person
from shop.units.errors import SheetExists
from shop.units.models import ModelSheet, ModelSheetChange, Unit
from shop.units.sheet_rules import as_kept, read_sheet


def add_model_sheet(
    *, id: UUID, given: Mapping[str, Any], by: Person, unit: Unit | None = None
) -> tuple[ModelSheet, bool]:
    """A new sheet, and whether it is new: a repeat with the same id returns the first result.

    `unit` and every other unit of this make and model that has no sheet get it. Raises BadInput
    with the field, SheetExists, Conflict if the id has other content.
    """
    facts = read_sheet(given)
    if known := ModelSheet.objects.filter(id=id).first():
        return _first_result(known, facts), False
    _require_free(facts, id)
    try:
        with transaction.atomic():
            sheet = ModelSheet.objects.create(id=id, **facts)
            _write_changes(sheet, {name: (None, value) for name, value in facts.items()}, by, "")
            _give_to_units(sheet, unit)
    except IntegrityError:  # somebody else was as quick
        if known := ModelSheet.objects.filter(id=id).first():
            return _first_result(known, facts), False
        _require_free(facts, id)
        raise
    return sheet, True


def _first_result(known: ModelSheet, facts: dict[str, Any]) -> ModelSheet:
    """The sheet of a repeat, told by what its history says it began with. Raises Conflict."""
    first = dict(known.changes.filter(version=1).values_list("field", "after"))
    if {name: value for name, value in facts.items() if not _is_nothing(value)} != first:
        raise Conflict(id=str(known.id))
    return known


def save_model_sheet(
    *,
    sheet: ModelSheet,
    given: Mapping[str, Any],
    expected_version: int,
    by: Person | None,
    why: str = "",
) -> ModelSheet:
    """Write all of a sheet anew, and what changed with who, when and why into its history.

    What is the same as before is no change and makes no version. Raises Stale when somebody else
    changed the sheet since that version, BadInput with the field, SheetExists.
    """
    facts = read_sheet(given)
    _require_free(facts, sheet.id)
    with transaction.atomic():
        # Read again: the caller's row may be older than the version it names.
        sheet = ModelSheet.objects.select_for_update().get(id=sheet.id)
        if sheet.version != expected_version:
            raise Stale(version=sheet.version)
        return _write(sheet, facts, by, why.strip())


def note_idle_power(
    *, sheet: ModelSheet, watt: float, source: str, by: Person | None = None
) -> None:
    """Write down the idle power of a model and where the figure comes from. A repeat is none."""
    with transaction.atomic():
        sheet = ModelSheet.objects.select_for_update().get(id=sheet.id)
        known = {"idle_watt": watt, "idle_watt_source": source[:120]}
        _write(sheet, known, by, _("read at the bench"))


def _write(sheet: ModelSheet, facts: Mapping[str, Any], by: Person | None, why: str) -> ModelSheet:
    changed = {
        name: (getattr(sheet, name), value)
        for name, value in facts.items()
        if as_kept(name, getattr(sheet, name)) != value
    }
    if not changed:
        return sheet
    now = {name: after for name, (_before, after) in changed.items()}
    # SQLite has no row locks; the version in the condition holds there.
    rows = ModelSheet.objects.filter(id=sheet.id, version=sheet.version)
    if not rows.update(**now, version=F("version") + 1):
        raise Stale()
    sheet.refresh_from_db()
    _write_changes(sheet, changed, by, why)
    return sheet


def _write_changes(
    sheet: ModelSheet, changed: Mapping[str, tuple[Any, Any]], by: Person | None, why: str
) -> None:
    at = timezone.now()
    ModelSheetChange.objects.bulk_create(
        ModelSheetChange(
            sheet=sheet, version=sheet.version, field=name, before=before, after=after,
            by=by, at=at, why=why,
        )
        for name, (before, after) in changed.items()
        if not (_is_nothing(before) and _is_nothing(after))
    )  # fmt: skip


def _is_nothing(value: Any) -> bool:
    return value in (None, "", False) or value == [] or value == {}


def _require_free(facts: Mapping[str, Any], id: UUID) -> None:
    alike = ModelSheet.objects.filter(make__iexact=facts["make"], model__iexact=facts["model"])
    if taken := alike.exclude(id=id).first():
        raise SheetExists(sheet=str(taken.id))


def _give_to_units(sheet: ModelSheet, unit: Unit | None) -> None:
    without = Unit.objects.filter(model_sheet=None)
    without.filter(make__iexact=sheet.make, model__iexact=sheet.model).update(model_sheet=sheet)
    if unit:
        without.filter(id=unit.id).update(model_sheet=sheet)


def give_sheet(*, unit: Unit, sheet: ModelSheet) -> Unit:
    """A unit that has no model sheet gets this one. Raises BadField if it has another."""
    without = Unit.objects.filter(id=unit.id, model_sheet=None)
    unit.refresh_from_db(fields=["model_sheet"])
    if unit.model_sheet_id not in (None, sheet.id):
        raise BadField("unit", _("This unit has a model sheet already."), "has_sheet")
    without.update(model_sheet=sheet)
    unit.model_sheet = sheet
    return unit
