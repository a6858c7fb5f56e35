"""What can be known when a worksheet starts: the tree of facts that templates name.

`shop.jobs.packing.facts` fills it. A choice here is closed: nothing else can come up.
"""

from __future__ import annotations

from typing import get_args

from shop.calc.safety.schemes import SchemeKey
from shop.jobs.format.shapes import ANY, COUNT, NUMBER, TEXT, YES_NO, Leaf, Shape, one_of
from shop.repairs.models import Sounds, VisibleChanges
from shop.units.models import Hazard, SupplyKind


def _fields(*, text: str = "", number: str = "", **more: Shape) -> dict[str, Shape]:
    """Fields of a row: names of texts, names of numbers, and those of another shape."""
    return dict.fromkeys(text.split(), TEXT) | dict.fromkeys(number.split(), NUMBER) | more


_SUPPLY_ROW = _fields(
    text="name fuse fuse_source", number="volt", links=[[TEXT]], line_terminals=[TEXT]
)
_CELL = _fields(
    text="fitted replacement supply_pin",
    number="low_ua high_ua memory_volt hold_volt diode_volt resistor_ohm",
    rechargeable=YES_NO,
    charged_by_board=YES_NO,
)
_CHANNEL = _fields(text="name", number="input_dbu output_dbu noise_dbu hum_dbu crosstalk_db")
_ELECTROLYTIC = _fields(
    text="name place", number="farad volt", kind=one_of("aluminium", "bipolar", "tantalum")
)
_VALVE = _fields(
    text="name type",
    number="heater_volt heater_ampere plate_volt plate_max_watt cathode_ohm cathode_low_volt"
    " cathode_high_volt",
    heater_supply=one_of("ac", "dc"),
)
_CONTROL = _fields(
    text="name",
    number="ohm",
    detents=COUNT,
    kind=one_of("encoder", "potentiometer", "fader", "switch"),
)
_SHEET = _fields(
    text="id make model kind idle_watt_source reset_procedure serial_rule note",
    number="year_from year_to rated_watt idle_watt cord_length_m cord_mm2 highest_reservoir_volt",
    supply_kind=one_of(*SupplyKind.values),
    protection_class=one_of("0", "I", "II", "III"),
    lamp_kind=one_of("linear", "valve_rectifier", "motor", "relay", "switch_mode", "unknown"),
    two_wire=YES_NO,
    features=[TEXT],
    hazards=[one_of(*Hazard.values)],
    primary={
        "sections": [ANY], "plate_volt": NUMBER, "plate_hz": [NUMBER], "links_now": [[TEXT]],
        "resistances": [_fields(text="name from to", number="ohm")],
    },
    supplies=[_SUPPLY_ROW],
    at_set_for=_SUPPLY_ROW,
    at_use_at=_SUPPLY_ROW,
    secondaries=[
        _fields(text="name", number="rated_volt regulation_percent", is_heater=YES_NO)
    ],
    rails=[_fields(text="name", number="volt low high ripple_millivolt")],
    reservoirs=[_fields(text="name", number="volt farad bleeder_ohm")],
    cell=_CELL,
    mains_parts=[ANY],
    known_faults=[_fields(text="fault template")],
    channels=[_CHANNEL],
    electrolytics=[_ELECTROLYTIC],
    valves=[_VALVE],
    controls=[_CONTROL],
    pictures=[_fields(text="sha256 caption")],
)  # fmt: skip

FACTS: dict[str, Shape] = {
    "unit": _fields(text="code make model serial", number="set_for_volt"),
    "sheet": _SHEET,
    "repair": _fields(
        text="number complaint last_worked last_supply damage visible_changes_words sounds_words",
        number="spending_limit_minor",
        visible_changes=one_of(*VisibleChanges.values),
        sounds=one_of(*Sounds.values),
    ),
    "supply": {
        "set_for": _fields(number="volt hz"),
        "use_at": _fields(text="country", number="volt hz"),
        "bench": _fields(number="volt hz"),
    },
    "bench": {"name": TEXT, "lamps": [_fields(number="watt volt")]},
    "shop": {"country": TEXT, "safety_scheme": one_of(*get_args(SchemeKey))},
    "today": TEXT,
}


def asked_shape(fact: dict[str, object]) -> Shape:
    """The shape of what a template asks: a number, one of its choices, or rows with names."""
    if "names" in fact:
        return [{"name": TEXT}]
    choices = fact.get("choices")
    if isinstance(choices, list):
        return Leaf("choice", tuple(choice.get("value", choice["key"]) for choice in choices))
    return COUNT if fact["quantity"] == "count" else NUMBER
