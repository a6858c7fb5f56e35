"""Whatever comes in, cells and series lamp answer in finite numbers or name the field at fault."""

from math import inf, isfinite, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.calc.cells.table import BY_NAME
from shop.calc.registry import answer_as_json, calculators, work_out
from shop.calc.working import BadInput

number = st.one_of(
    st.floats(0.001, 400),
    st.sampled_from([0.0, -1.0, nan, inf, -inf, 1e308, 5e-324, 1e-12, 1e9, 0.5, 1.0, 115.0, 230.0]),
    st.integers(-3, 500),
)
small = st.floats(0, 1) | number
positive = st.floats(0.5, 400)
anything = st.one_of(
    number, st.text(max_size=8), st.none(), st.booleans(), st.lists(number, max_size=2)
)
lamp = st.fixed_dictionaries(
    {"watt": positive | number, "volt": positive | number},
    optional={
        "count": st.integers(0, 4),
        "exponent": small,
        "conduction_share": st.none() | small,
    },
)
load = st.one_of(
    st.fixed_dictionaries({"kind": st.just("resistance"), "ohm": number}),
    st.fixed_dictionaries({"kind": st.just("constant_power"), "watt": number}),
    st.fixed_dictionaries(
        {
            "kind": st.just("mixed"),
            "watt": number,
            "volt": positive,
            "exponent": st.floats(-1, 4) | small,
        }
    ),
    st.fixed_dictionaries(
        {"kind": st.just("impedance"), "resistance_ohm": number, "reactance_ohm": number}
    ),
)
cell = st.sampled_from([*BY_NAME, "CR1"])
drain = st.fixed_dictionaries(
    {"low_ua": number, "high_ua": number},
    optional={
        "memory_volt": st.floats(0.5, 6),
        "diode_volt": small,
        "resistor_ohm": number,
        "powered_share": small,
        "stored_years": number,
    },
)
day = st.sampled_from(["2026-11-25", "9999-12-31", "25.11.2026", None])
kind = st.sampled_from(["linear", "valve_rectifier", "switch_mode", "unknown", "other"])
memory_kind = st.sampled_from(["cmos_8k_by_8", "fast", "core"])
sight = st.sampled_from(["dark", "flash_then_dark", "dim", "half", "full", "pulsing", "blue"])
spell = st.fixed_dictionaries(
    {"share_percent": st.just(50) | number, "celsius": number},
    optional={"shelf_years": st.none() | number},
)
FIELDS = {
    "series_lamp.operating_point": {"supply_volt": positive | number, "lamp": lamp, "load": load},
    "series_lamp.gate": {"kind": kind},
    "series_lamp.choose_lamp": {
        "supply_volt": positive,
        "unit_volt": positive | number,
        "lamp_volt": positive | number,
        "idle_watt": number,
        "lamp_watts": st.lists(positive | number, max_size=3),
        "exponent": st.floats(-1, 4) | number,
    },
    "series_lamp.ramp": {
        "idle_watt": positive | number,
        "unit_volt": positive | number,
        "lamp": lamp,
        "settings_volt": st.lists(positive, max_size=4).map(sorted) | st.lists(number, max_size=3),
        "kind": kind,
        "idle_spread": small,
        "rail_volt": st.none() | number,
        "lowest_exponent": small,
        "highest_exponent": number,
    },
    "series_lamp.read_back": {
        "lamp": lamp,
        "supply_volt": positive | number,
        "unit_volt": st.none() | number,
        "current_a": st.none() | number,
    },
    "cells.retention": {"cell": cell, "drain": drain, "on": day},
    "cells.compare": {
        "drain": drain,
        "board_charges": st.booleans(),
        "on": day,
        "cells": st.none() | st.lists(cell, max_size=3),
    },
    "cells.replacement": {
        "cell": cell,
        "is_old_rechargeable": st.booleans(),
        "charge_path": st.sampled_from(["none_there", "untouched", "opened", "two_diodes"])
        | st.just("diode_and_resistor"),
        "diode": st.sampled_from(["silicon", "schottky", None]),
        "resistor_ohm": st.none() | number,
        "rail_volt": number,
        "most_reverse_ma": st.none() | number,
        "measured_reverse_ua": st.none() | number,
    },
    "cells.hold_up": {
        "farad": number,
        "from_volt": number,
        "to_volt": number,
        "current_a": st.none() | number,
        "esr_ohm": number | small,
        "power_watt": st.none() | number,
        "daily_loss_percent": number,
        "wanted_seconds": st.none() | number,
    },
    "series_lamp.inrush": {
        "supply_volt": positive | number,
        "lamp": lamp,
        "source_ohm": number,
    },
    "series_lamp.seen": {"supply_volt": positive | number, "lamp": lamp, "sight": sight},
    "series_lamp.schedule": {
        "unit_volt": positive | number,
        "idle_years": number,
        "kind": kind,
        "has_high_volt_parts": st.booleans(),
    },
    "cells.designation": {
        "mark": st.text(alphabet="CRLSEF0123456789 -NX", max_size=9) | st.text(max_size=8),
        "printed_volt": st.none() | number,
    },
    "cells.drain": {
        "drop_volt": small,
        "shunt_ohm": number,
        "meter_ohm": st.floats(1e4, 1e9) | number,
        "measured_celsius": number,
        "hottest_celsius": number,
    },
    "cells.memory": {
        "kind": memory_kind,
        "chips": st.integers(0, 70),
        "hottest_celsius": number,
    },
    "cells.isolation": {
        "cell": cell,
        "diode": st.sampled_from(["silicon", "schottky", "selenium"]),
        "drain_ua": number,
        "rail_volt": number,
        "empty_cell_volt": number,
        "most_reverse_ma": st.none() | number,
        "resistor_ohm": st.none() | number,
        "powered_years": number,
        "inside_celsius": number,
    },
    "cells.storage": {"shelf_years": number, "spells": st.lists(spell, max_size=3)},
    "cells.proof": {"cell": cell, "memory_volt": st.none() | number},
}


def numbers_in(value):
    if isinstance(value, float):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from numbers_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from numbers_in(inner)


def run(name, given_):
    try:
        return answer_as_json(work_out(name, given_)), None
    except BadInput as refused:
        return None, refused


@pytest.mark.parametrize("name", FIELDS)
@settings(max_examples=150, deadline=None)
@given(st.data())
def test_any_input_gets_finite_numbers_or_a_refusal_at_a_field(name, data):
    fields = FIELDS[name]
    given_ = data.draw(
        st.fixed_dictionaries(fields) | st.fixed_dictionaries({}, optional=fields)
        | st.fixed_dictionaries(dict.fromkeys(fields, anything))
    )  # fmt: skip

    answer, refused = run(name, given_)

    if refused:
        assert refused.field
        assert refused.reason
    else:
        assert answer["text"]
        assert all(isfinite(n) for n in numbers_in(answer["value"]))


def test_every_calculator_of_cells_and_the_lamp_is_tried():
    names = {name for name in calculators() if name.partition(".")[0] in {"series_lamp", "cells"}}

    assert names == set(FIELDS)
