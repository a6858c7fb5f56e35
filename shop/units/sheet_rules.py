"""What a model sheet must keep to beyond its shape, and what of it is doubtful."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, get_type_hints

import msgspec
from django.utils.translation import gettext as _

from shop.calc.cells.table import cell_named
from shop.calc.date_codes.rules import read_rule
from shop.calc.fuses.marking import read_mark
from shop.calc.inputs import read_input
from shop.calc.voltage_parts.parts import Part
from shop.calc.windings.arrangements import require_known_terminals
from shop.calc.windings.choosing import SHEET_TOLERANCE
from shop.calc.windings.sections import connect, require_sound_sections
from shop.calc.working import BadInput
from shop.units.rows import Cell, Primary, Supply
from shop.units.shapes import FIELDS, Sheet

NAMED = ("supplies", "secondaries", "rails", "reservoirs", "electrolytics", "valves", "channels",
         "controls")  # fmt: skip
# Where two limits of a row must not be crossed: list, lower, upper.
LIMITS = (("rails", "low", "high"), ("valves", "cathode_low_volt", "cathode_high_volt"))
GROUPS = ("primary", "cell")
_TYPES = get_type_hints(Sheet, include_extras=True)


def read_sheet(given: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of a sheet as the books keep them. What was not said is at its default.

    Raises BadInput with the path of the field: `primary.sections[1].rated_volt`.
    """
    said = {name: value for name, value in given.items() if name not in GROUPS or value != {}}
    sheet: Sheet = read_input(Sheet, said)
    _require_order(sheet)
    _require_own_names(sheet)
    _require_sound_primary(sheet)
    _require_known_cell(sheet.cell)
    if sheet.serial_rule:
        _at("serial_rule", read_rule, sheet.serial_rule)
    return {name: _kept(name, getattr(sheet, name)) for name in FIELDS}


def as_kept(name: str, value: Any) -> Any:
    """A field written some other way, as it would be kept now; what no longer fits stays."""
    try:
        return _kept(name, msgspec.convert(None if value == {} else value, _TYPES[name]))
    except msgspec.ValidationError:
        return value


def _kept(name: str, read: Any) -> Any:
    """Plain values. What is not known is left out, and what a part has like any other part."""
    plain = _plain(msgspec.to_builtins(read))
    if name == "mains_parts":
        usual = msgspec.to_builtins(Part("fuse"))
        return [{key: one for key, one in row.items() if key == "kind" or one != usual[key]}
                for row in plain]  # fmt: skip
    return {} if name in GROUPS and plain is None else plain


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items() if inner is not None}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    if isinstance(value, float) and value.is_integer():
        return int(value)  # 230, as people write it into texts
    return value.strip() if isinstance(value, str) else value


def _at(field: str, check: Any, *given: Any) -> Any:
    """What a check of the calculators answers; its refusal is said at our field."""
    try:
        return check(*given)
    except BadInput as refused:
        raise BadInput(field, refused.reason, refused.code) from refused


def _require_order(sheet: Sheet) -> None:
    if sheet.year_from and sheet.year_to and sheet.year_to < sheet.year_from:
        raise BadInput("year_to", _("This is before the first year."), "limits_crossed")
    for name, low, high in LIMITS:
        for place, row in enumerate(getattr(sheet, name)):
            _require_limits(row, low, high, f"{name}[{place}].")
    if sheet.cell:
        _require_limits(sheet.cell, "low_ua", "high_ua", "cell.")


def _require_limits(row: Any, low: str, high: str, path: str) -> None:
    least, most = getattr(row, low), getattr(row, high)
    if least is not None and most is not None and most < least:
        raise BadInput(f"{path}{high}", _("This is below the lower limit."), "limits_crossed")


def _require_own_names(sheet: Sheet) -> None:
    """A step that is repeated for each row is told from the next by its name only."""
    for name in NAMED:
        seen: set[str] = set()
        for place, row in enumerate(getattr(sheet, name)):
            if row.name in seen:
                reason = _("Another row has this name already.")
                raise BadInput(f"{name}[{place}].name", reason, "name_taken")
            seen.add(row.name)


def _require_sound_primary(sheet: Sheet) -> None:
    volts = [supply.volt for supply in sheet.supplies]
    for place, volt in enumerate(volts):
        if volt in volts[:place]:
            reason = _("Another row is for this supply already.")
            raise BadInput(f"supplies[{place}].volt", reason, "name_taken")
    primary = sheet.primary
    if primary is None:
        return
    require_sound_sections(primary.sections, "primary.sections")
    for place, row in enumerate(primary.resistances):
        path = f"primary.resistances[{place}]"
        require_known_terminals(
            primary.sections, [], [row.from_, row.to], path, f"{path}.{_end(primary, row.from_)}"
        )
    if primary.links_now:
        field = "primary.links_now"
        require_known_terminals(primary.sections, primary.links_now, [], field, field)
    for place, supply in enumerate(sheet.supplies):
        _require_sound_setting(primary, supply, f"supplies[{place}]")


def _end(primary: Primary, first: str) -> str:
    """Which end of a resistance to point at: the first, unless a section has that terminal."""
    known = {terminal for one in primary.sections for terminal, _volt in one.points()}
    return "to" if first in known else "from"


def _require_sound_setting(primary: Primary, supply: Supply, path: str) -> None:
    """Links that would be a short circuit, or the wrong volts, are a slip of the pen."""
    links, mains = f"{path}.links", f"{path}.line_terminals"
    require_known_terminals(primary.sections, supply.links, supply.line_terminals, links, mains)
    if len(supply.line_terminals) == 1:
        raise BadInput(mains, _("The mains goes to two terminals."), "too_short")
    if not supply.line_terminals:
        return
    joined = connect(primary.sections, supply.links, supply.line_terminals)
    if joined.fault:
        raise BadInput(links, _("Must not be powered: %s.") % joined.fault, "must_not_be_powered")
    if abs(joined.rated_volt / supply.volt - 1) > SHEET_TOLERANCE:
        reason = _("These links make %(made)g V of the primary, not %(wanted)g V.")
        named = {"made": joined.rated_volt, "wanted": supply.volt}
        raise BadInput(links, reason % named, "wrong_volts")


def _require_known_cell(cell: Cell | None) -> None:
    if cell is None:
        return
    for name in ("fitted", "replacement"):
        cell_named(getattr(cell, name), f"cell.{name}")


def doubts_about(sheet: Any) -> list[dict[str, str]]:
    """What is on a kept sheet and cannot be used, or is not there for a supply that is."""
    return [{"field": field, "text": text} for field, text in _doubts(sheet)]


def _doubts(sheet: Any) -> Iterator[tuple[str, str]]:
    for place, supply in enumerate(sheet.supplies):
        path, name = f"supplies[{place}]", supply.get("name", "")
        if not supply.get("fuse"):
            yield f"{path}.fuse", _("No fuse for %s.") % name
        elif not _is_read(supply["fuse"]):
            text = _("%(name)s: “%(mark)s” is not read as a fuse marking. It is kept as marked.")
            yield f"{path}.fuse", text % {"name": name, "mark": supply["fuse"]}
        if supply.get("fuse") and not supply.get("fuse_source"):
            yield f"{path}.fuse_source", _("Nobody says where the fuse for %s was seen.") % name
        if sheet.primary.get("sections") and not supply.get("line_terminals"):
            yield f"{path}.line_terminals", _("No links for %s.") % name
    if sheet.idle_watt and not sheet.idle_watt_source:
        yield "idle_watt_source", _("Nobody says where the idle power is known from.")


def _is_read(mark: str) -> bool:
    """Whether a marking is one of IEC 60127 or of UL 248-14."""
    return _can_read(mark, "iec") or _can_read(mark, "ul")


def _can_read(mark: str, standard: Any) -> bool:
    try:
        read_mark(mark, standard=standard)
    except BadInput:
        return False
    return True
