"""Reads of units, their places and what the shop knows about their models."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.contrib.auth.models import AnonymousUser
from django.db.models import QuerySet

from shop.calc.codes import Code, read_code
from shop.calc.working import BadInput
from shop.core.models import Person
from shop.core.words import text_matches
from shop.units.errors import BadCode
from shop.units.models import Hazard, ModelSheet, Shelf, SupplyKind, Unit

# A card tells the hazards of a model sheet; the rest of it is long, and every scan would read it.
_NOT_ON_THE_CARD = [
    f"model_sheet__{field.name}"
    for field in ModelSheet._meta.concrete_fields
    if field.name not in {"id", "hazards"}
]


def units_visible_to(person: Person | AnonymousUser) -> QuerySet[Unit]:
    """All units for whoever works here, with all that `unit_card` needs."""
    if not person.is_active:
        return Unit.objects.none()
    found = Unit.objects.select_related("model_sheet", "shelf").prefetch_related("pieces")
    return found.defer(*_NOT_ON_THE_CARD)


def model_sheets_visible_to(person: Person | AnonymousUser) -> QuerySet[ModelSheet]:
    return ModelSheet.objects.all() if person.is_active else ModelSheet.objects.none()


def model_sheet_matches(scrap: str, sheets: QuerySet[ModelSheet]) -> QuerySet[ModelSheet]:
    return sheets.filter(text_matches(scrap, "make", "model", "kind"))


def understood_code(typed: str) -> Code:
    """The code in what was typed or scanned. Raises BadCode with the slip named."""
    try:
        return read_code(typed)
    except BadInput as slip:
        row = {"field": "code", "code": slip.code, "detail": slip.reason}
        raise BadCode(slip.reason, errors=[row]) from slip


def hazard_rows(keys: Iterable[str]) -> list[dict[str, str]]:
    """Hazards with their words; one the shop has no word for keeps its key."""
    words = {hazard.value: str(hazard.label) for hazard in Hazard}
    return [{"key": key, "text": words.get(key, key)} for key in keys]


def unit_card(unit: Unit) -> dict[str, Any]:
    """A unit as every screen shows it. Pieces, sheet and shelf should be fetched with it."""
    sheet, shelf = unit.model_sheet, unit.shelf
    return {
        "id": unit.id,
        "code": unit.code,
        "make": unit.make,
        "model": unit.model,
        "serial": unit.serial,
        "model_sheet": unit.model_sheet_id,
        "hazards": hazard_rows(sheet.hazards if sheet else []),
        "set_for_volt": unit.set_for_volt,
        "place": shelf and {"code": shelf.code, "name": shelf.name},
        "do_not_power": unit.do_not_power,
        "pieces": [{"code": p.code, "name": p.name, "state": p.state} for p in unit.pieces.all()],
    }


def shelf_card(shelf: Shelf, units: Iterable[Unit]) -> dict[str, Any]:
    """A shelf and what stands on it."""
    return {"code": shelf.code, "name": shelf.name, "units": [unit_card(unit) for unit in units]}


def lamp_kind(sheet: ModelSheet) -> str:
    """What kind of supply the series lamp meets, in the words of `series_lamp.gate`.

    The feature that asks for the most care names it.
    """
    if sheet.supply_kind != SupplyKind.LINEAR:
        return "switch_mode" if sheet.supply_kind == SupplyKind.SWITCH_MODE else "unknown"
    careful = ("valve_rectifier", "motor", "relay")
    return next((kind for kind in careful if kind in sheet.features), "linear")
