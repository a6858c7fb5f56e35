"""What is known about a repair when a worksheet starts, as the tree that templates name."""

from __future__ import annotations

from datetime import date
from typing import Any

from shop.benches.models import Bench
from shop.core.models import Shop
from shop.repairs.models import Repair
from shop.units.models import ModelSheet
from shop.units.selectors import lamp_kind

_REPAIR = (
    "number", "complaint", "last_worked", "last_supply", "damage", "visible_changes", "sounds",
    "spending_limit_minor",
)  # fmt: skip
_UNIT = ("code", "make", "model", "serial", "set_for_volt")


def facts_of(
    *, repair: Repair, shop: Shop, bench: Bench | None, asked: dict[str, Any], today: date
) -> dict[str, Any]:
    """The tree of facts. What nobody knows is None or left out."""
    unit = repair.unit
    supplies = supplies_of(repair, shop, bench)
    return {
        "unit": _named(unit, _UNIT),
        "sheet": _sheet(unit.model_sheet, supplies),
        "repair": _named(repair, _REPAIR) | _in_words(repair),
        "supply": supplies,
        "bench": {"name": bench.name, "lamps": bench.lamps} if bench else {},
        "shop": {"country": shop.country, "safety_scheme": shop.safety_scheme},
        "asked": asked,
        "today": today.isoformat(),
    }


def supplies_of(repair: Repair, shop: Shop, bench: Bench | None) -> dict[str, Any]:
    """The three supplies: set for as found, used at, and the bench's."""
    return {
        "set_for": {"volt": repair.set_for_volt, "hz": repair.set_for_hz},
        "use_at": {
            "volt": repair.use_at_volt,
            "hz": repair.use_at_hz,
            "country": repair.use_at_country,
        },
        "bench": {
            "volt": bench.volt if bench else shop.bench_volt,
            "hz": bench.hz if bench else shop.bench_hz,
        },
    }


def _sheet(sheet: ModelSheet | None, supplies: dict[str, Any]) -> dict[str, Any]:
    if sheet is None:
        return {}
    fields = [f.name for f in sheet._meta.concrete_fields if f.name != "version"]
    facts = {name: getattr(sheet, name) for name in fields}
    facts |= {"id": str(sheet.id), "lamp_kind": lamp_kind(sheet)}
    facts["highest_reservoir_volt"] = highest_volt(sheet.reservoirs)
    for name in ("set_for", "use_at"):
        facts[f"at_{name}"] = supply_row(sheet.supplies, supplies[name]["volt"])
    return facts


def supply_row(rows: list[dict[str, Any]], volt: int | None) -> dict[str, Any] | None:
    """The model sheet's row for a supply of this voltage."""
    return next((row for row in rows if volt and row.get("volt") == volt), None)


def highest_volt(reservoirs: list[dict[str, Any]]) -> float | None:
    """The most volts any reservoir holds; None as soon as one of them is not known."""
    volts = [row.get("volt") for row in reservoirs]
    known = [volt for volt in volts if volt is not None]
    return max(known) if known and len(known) == len(volts) else None


def _in_words(repair: Repair) -> dict[str, str]:
    """What the customer allows, as people say it."""
    return {
        "visible_changes_words": repair.get_visible_changes_display(),
        "sounds_words": repair.get_sounds_display(),
    }


def _named(row: Any, names: tuple[str, ...]) -> dict[str, Any]:
    return {name: getattr(row, name) for name in names}
