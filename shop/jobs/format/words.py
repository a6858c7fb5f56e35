"""What the facts that templates name are called, and in which unit their numbers are.

The tree itself is `shop.jobs.format.facts`; titles are by path, with rows of lists below the list.
"""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as n

from shop.calc.quantities import RULES, Quantity
from shop.jobs.format.facts import FACTS
from shop.jobs.format.shapes import ANY, Leaf, Shape

TITLES: dict[str, str] = {
    "unit": n("This unit"),
    "unit.code": n("Code on the tag"),
    "unit.make": n("Make"),
    "unit.model": n("Model"),
    "unit.serial": n("Serial number"),
    "unit.set_for_volt": n("Voltage it is set for now"),
    "sheet": n("Model sheet"),
    "sheet.id": n("Id of the model sheet"),
    "sheet.make": n("Make on the model sheet"),
    "sheet.model": n("Model on the model sheet"),
    "sheet.kind": n("Kind of equipment"),
    "sheet.year_from": n("Made from year"),
    "sheet.year_to": n("Made until year"),
    "sheet.supply_kind": n("Kind of supply"),
    "sheet.protection_class": n("Protection class"),
    "sheet.two_wire": n("Two-wire mains cord"),
    "sheet.rated_watt": n("Rated power"),
    "sheet.idle_watt": n("Idle power"),
    "sheet.idle_watt_source": n("Where idle power is known from"),
    "sheet.cord_length_m": n("Length of the mains cord"),
    "sheet.cord_mm2": n("Cross-section of the mains cord"),
    "sheet.reset_procedure": n("Reset procedure"),
    "sheet.serial_rule": n("Rule of serial numbers"),
    "sheet.note": n("Note on the model"),
    "sheet.lamp_kind": n("How it loads a series lamp"),
    "sheet.highest_reservoir_volt": n("Highest voltage on a reservoir"),
    "sheet.features": n("Features"),
    "sheet.hazards": n("Hazards"),
    "sheet.primary": n("Primary windings"),
    "sheet.primary.sections": n("Sections of the primary"),
    "sheet.primary.plate_volt": n("Voltage on the rating plate"),
    "sheet.primary.plate_hz": n("Frequencies on the rating plate"),
    "sheet.primary.links_now": n("Links fitted now"),
    "sheet.primary.resistances": n("Resistances of the windings"),
    "sheet.supplies": n("Maker's supply settings"),
    "sheet.at_set_for": n("Maker's setting for the voltage as found"),
    "sheet.at_use_at": n("Maker's setting for the voltage where it is used"),
    "sheet.secondaries": n("Secondary windings"),
    "sheet.secondaries.is_heater": n("Is a heater winding"),
    "sheet.secondaries.regulation_percent": n("Regulation"),
    "sheet.rails": n("Supply rails"),
    "sheet.rails.ripple_millivolt": n("Highest ripple"),
    "sheet.reservoirs": n("Reservoir capacitors"),
    "sheet.reservoirs.bleeder_ohm": n("Bleeder resistor"),
    "sheet.cell": n("Backup cell"),
    "sheet.cell.fitted": n("Cell fitted by the maker"),
    "sheet.cell.replacement": n("Cell to fit instead"),
    "sheet.cell.supply_pin": n("Supply pin of the memory"),
    "sheet.cell.low_ua": n("Least current of the memory"),
    "sheet.cell.high_ua": n("Most current of the memory"),
    "sheet.cell.memory_volt": n("Voltage at the memory"),
    "sheet.cell.hold_volt": n("Voltage the memory needs to hold"),
    "sheet.cell.diode_volt": n("Voltage across the diode"),
    "sheet.cell.resistor_ohm": n("Series resistor of the cell"),
    "sheet.cell.rechargeable": n("Cell is rechargeable"),
    "sheet.cell.charged_by_board": n("The board charges the cell"),
    "sheet.mains_parts": n("Parts on the mains side"),
    "sheet.known_faults": n("Known faults"),
    "sheet.channels": n("Channels"),
    "sheet.channels.input_dbu": n("Input level"),
    "sheet.channels.output_dbu": n("Output level"),
    "sheet.channels.noise_dbu": n("Highest noise"),
    "sheet.channels.hum_dbu": n("Highest hum"),
    "sheet.channels.crosstalk_db": n("Highest crosstalk"),
    "sheet.electrolytics": n("Electrolytic capacitors"),
    "sheet.valves": n("Valves"),
    "sheet.valves.heater_volt": n("Heater voltage"),
    "sheet.valves.heater_ampere": n("Heater current"),
    "sheet.valves.heater_supply": n("Supply of the heater"),
    "sheet.valves.plate_volt": n("Plate voltage"),
    "sheet.valves.plate_max_watt": n("Highest plate dissipation"),
    "sheet.valves.cathode_ohm": n("Cathode resistor"),
    "sheet.valves.cathode_low_volt": n("Lowest cathode voltage"),
    "sheet.valves.cathode_high_volt": n("Highest cathode voltage"),
    "sheet.controls": n("Controls"),
    "sheet.controls.detents": n("Detents per turn"),
    "sheet.pictures": n("Pictures of the model"),
    "repair": n("This repair"),
    "repair.number": n("Number of the repair"),
    "repair.complaint": n("Complaint"),
    "repair.last_worked": n("When it last worked"),
    "repair.last_supply": n("Supply it was last used on"),
    "repair.damage": n("Damage on arrival"),
    "repair.visible_changes": n("Visible changes"),
    "repair.visible_changes_words": n("Visible changes, in words"),
    "repair.sounds": n("Stored sounds"),
    "repair.sounds_words": n("Stored sounds, in words"),
    "repair.spending_limit_minor": n("Spending limit in cents"),
    "supply": n("Supplies"),
    "supply.set_for": n("Supply it is set for, as found"),
    "supply.set_for.volt": n("Voltage it is set for, as found"),
    "supply.set_for.hz": n("Frequency it is set for, as found"),
    "supply.use_at": n("Supply where it will be used"),
    "supply.use_at.volt": n("Voltage where it will be used"),
    "supply.use_at.hz": n("Frequency where it will be used"),
    "supply.use_at.country": n("Country where it will be used"),
    "supply.bench": n("Supply of the bench"),
    "supply.bench.volt": n("Voltage of the bench"),
    "supply.bench.hz": n("Frequency of the bench"),
    "bench": n("Bench"),
    "bench.name": n("Name of the bench"),
    "bench.lamps": n("Series lamps of the bench"),
    "shop": n("Shop"),
    "shop.country": n("Country of the shop"),
    "shop.safety_scheme": n("Safety scheme of the shop"),
    "today": n("Today's date"),
}
# Fields of rows that mean the same in every list.
_FIELDS: dict[str, str] = {
    "name": n("Name"),
    "type": n("Type"),
    "kind": n("Kind"),
    "place": n("Place"),
    "from": n("From terminal"),
    "to": n("To terminal"),
    "fault": n("Fault"),
    "template": n("Job template"),
    "sha256": n("Picture"),
    "caption": n("Caption"),
    "fuse": n("Fuse"),
    "fuse_source": n("Where the fuse is known from"),
    "links": n("Links"),
    "line_terminals": n("Mains terminals"),
    "volt": n("Voltage"),
    "rated_volt": n("Rated voltage"),
    "low": n("Lower limit"),
    "high": n("Upper limit"),
    "farad": n("Capacitance"),
    "ohm": n("Resistance"),
    "watt": n("Power"),
}
_CHOICES: dict[str, str] = {
    "linear": n("linear, with a mains transformer"),
    "switch_mode": n("switch-mode"),
    "external": n("external supply"),
    "live_chassis": n("live chassis"),
    "high_voltage": n("high voltage inside"),
    "selenium": n("selenium rectifier"),
    "asbestos": n("asbestos"),
    "pcb_oil": n("PCB oil in capacitors"),
    "leaking_cell": n("leaking cell"),
    "tube_high_voltage": n("lamp or tube high voltage"),
    "yes": n("allowed"),
    "no": n("not allowed"),
    "ask": n("ask first"),
    "none": n("no stored sounds"),
    "may_be_lost": n("may be lost"),
    "save_first": n("must be saved first"),
    "valve_rectifier": n("valve rectifier"),
    "motor": n("motor"),
    "relay": n("relay"),
    "unknown": n("not known"),
    "aluminium": n("aluminium"),
    "bipolar": n("bipolar"),
    "tantalum": n("tantalum"),
    "ac": n("AC"),
    "dc": n("DC"),
    "encoder": n("encoder"),
    "potentiometer": n("potentiometer"),
    "fader": n("fader"),
    "switch": n("switch"),
}
# The last word of a field's name is its unit; the quantity is what a reading to compare would be.
_UNITS: dict[str, tuple[str, str | None]] = {
    "volt": ("V", "voltage_dc"),
    "low": ("V", "voltage_dc"),
    "high": ("V", "voltage_dc"),
    "watt": ("W", "power"),
    "ohm": ("Ω", "resistance"),
    "hz": ("Hz", "frequency"),
    "farad": ("F", "capacitance"),
    "ampere": ("A", "current_dc"),
    "percent": ("%", "percent"),
    "dbu": ("dBu", "level"),
    "db": ("dB", "ratio"),
    "detents": ("", "count"),
    "millivolt": ("mV", None),
    "ua": ("µA", None),
    "m": ("m", "length"),
    "mm2": ("mm²", None),
}
_ON_MAINS = (
    "unit.", "supply.", "bench.", "sheet.primary", "sheet.supplies", "sheet.at_", "sheet.second",
)  # fmt: skip


def title_in_words(path: str) -> str:
    """What a fact is called; one without words of its own by its last names."""
    known = TITLES.get(path) or _FIELDS.get(path.rpartition(".")[2])
    return _(known) if known else path.rpartition(".")[2].replace("_", " ")


def choice_in_words(value: Any) -> str:
    known = _CHOICES.get(str(value))
    return _(known) if known else str(value)


def unit_of(path: str) -> tuple[str, str | None]:
    """(unit, quantity) of a number, from the last word of its name."""
    unit, quantity = _UNITS.get(path.replace(".", "_").rpartition("_")[2], ("", None))
    if quantity == "voltage_dc" and path.startswith(_ON_MAINS):
        quantity = "voltage_ac"
    return unit, quantity if quantity in tuple(Quantity) else None


def facts_in_words() -> list[dict[str, Any]]:
    """Every fact a template can name, in the order of the tree, lists with what their rows have."""
    return list(_rows("", FACTS))


def _rows(path: str, tree: dict[str, Shape]) -> Any:
    for name, shape in tree.items():
        full = f"{path}.{name}".lstrip(".")
        yield {"path": full, "title": title_in_words(full), **_kind(full, shape)}
        if isinstance(shape, dict):
            yield from _rows(full, shape)


def _kind(path: str, shape: Shape) -> dict[str, Any]:
    if isinstance(shape, list):
        row = shape[0]
        inner = list(_rows(path, row)) if isinstance(row, dict) else []
        values = _choices(row) if isinstance(row, Leaf) else None
        return {"type": "list", "choices": values, "rows": inner}
    if isinstance(shape, dict) or shape == ANY:
        return {"type": "object"}
    if shape.type in ("number", "count"):
        unit, quantity = unit_of(path)
        return {"type": "number", "unit": unit, "quantity": quantity}
    return {"type": shape.type, "choices": _choices(shape)}


def _choices(leaf: Leaf) -> list[dict[str, Any]] | None:
    if leaf.type != "choice":
        return None
    return [{"key": value, "title": choice_in_words(value)} for value in leaf.choices]


def quantities_in_words() -> list[dict[str, str]]:
    """Every quantity a reading can have, with its unit."""
    return [
        {"key": key, "title": _(_QUANTITIES[key]), "unit": rule.unit, "symbol": rule.symbol}
        for key, rule in RULES.items()
    ]


_QUANTITIES: dict[str, str] = {
    "voltage_dc": n("DC voltage"),
    "voltage_ac": n("AC voltage"),
    "current_dc": n("DC current"),
    "current_ac": n("AC current"),
    "resistance": n("Resistance"),
    "capacitance": n("Capacitance"),
    "frequency": n("Frequency"),
    "power": n("Power"),
    "temperature": n("Temperature"),
    "time": n("Time"),
    "percent": n("Percent"),
    "count": n("Number"),
    "inductance": n("Inductance"),
    "level": n("Level"),
    "ratio": n("Ratio"),
    "sound_level": n("Sound level"),
    "air_speed": n("Air speed"),
    "airflow": n("Airflow"),
    "rotation": n("Rotational speed"),
    "length": n("Length"),
}

KINDS: dict[str, str] = {
    "caution": n("Caution"),
    "instruction": n("Instruction"),
    "note": n("Note"),
    "photo": n("Photo"),
    "look": n("Look and choose"),
    "reading": n("Reading"),
    "table": n("Table of readings"),
    "ramp": n("Ramp"),
    "take_part": n("Take a part"),
    "computed": n("Worked out"),
    "timer": n("Timer"),
    "sign_off": n("Sign-off"),
    "procedure": n("Procedure"),
}


def kinds_in_words() -> list[dict[str, str]]:
    """Every kind of step."""
    return [{"key": key, "title": _(title)} for key, title in KINDS.items()]
