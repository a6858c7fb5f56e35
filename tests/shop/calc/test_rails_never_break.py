"""Whatever comes in, rails, valves and levels answer in finite numbers or name the field."""

from math import inf, isfinite, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.calc.registry import answer_as_json, calculators, work_out
from shop.calc.working import BadInput

number = st.one_of(
    st.floats(0.001, 400),
    st.sampled_from([0.0, -1.0, nan, inf, -inf, 1e308, 5e-324, 1e-12, 1e9, 0.5, 1.0, 115.0, 230.0]),
    st.integers(-3, 500),
)
maybe = st.none() | number
positive = st.floats(0.5, 400)
small = st.floats(1e-6, 1.0) | number
anything = st.one_of(
    number, st.text(max_size=8), st.none(), st.booleans(), st.lists(number, max_size=2)
)
rectifier = st.sampled_from(["full_wave", "half_wave", "other"])
lamp = st.none() | st.fixed_dictionaries({"watt": positive | number, "volt": positive | number})
level = st.fixed_dictionaries(
    {
        "number": st.floats(-400, 1e6) | number,
        "scale": st.sampled_from(
            ["volt_rms", "volt_peak", "volt_peak_to_peak", "dbu", "dbv", "dbm", "watt", "phon"]
        ),
    },
    optional={"load_ohm": maybe, "crest_factor": st.floats(1, 100) | number},
)
LEVEL = {
    "number": st.floats(-400, 1e6) | number,
    "scale": st.sampled_from(["volt_rms", "dbu", "dbm", "watt"]),
    "load_ohm": maybe,
    "crest_factor": st.floats(1, 100) | number,
}
FIELDS = {
    "rails.ripple": {
        "load_ampere": small,
        "reservoir_farad": st.floats(1e-8, 1) | number,
        "rectifier": rectifier,
        "supply_hertz": st.floats(16, 400) | number,
        "rail_volt": maybe,
        "measured_volt": st.none() | small,
    },
    "rails.regulator": {
        "reservoir_volt": positive | number,
        "line_volt": positive | number,
        "output_volt": positive | number,
        "load_ampere": small,
        "low_line_volt": maybe,
        "high_line_volt": maybe,
        "reservoir_farad": st.none() | st.floats(1e-8, 1),
        "rectifier": rectifier,
        "drop_volt": small,
        "dropout_volt": small,
        "thermal_kelvin_per_watt": maybe,
        "air_celsius": st.floats(-40, 125) | number,
        "most_junction_celsius": st.floats(50, 250) | number,
    },
    "rails.expected": {
        "rail_volt": st.floats(-400, 400) | number,
        "rated_volt": positive | number,
        "stage": st.sampled_from(["raw", "regulated", "other"]),
        "raw_volt": maybe,
        "drop_volt": small,
        "dropout_volt": small,
        "spread_percent": st.floats(0, 50) | number,
        "settings_volt": st.none() | st.lists(positive, max_size=4).map(sorted)
        | st.lists(number, max_size=3),
        "kind": st.sampled_from(["linear", "valve_rectifier", "switch_mode", "unknown", "x"]),
        "lamp": lamp,
        "idle_watt": maybe,
    },
    "rails.winding_rise": {
        "cold_ohm": positive | number,
        "cold_celsius": st.floats(-40, 125) | number,
        "hot_ohm": positive | number,
        "room_celsius": st.floats(-40, 125) | number,
        "insulation_class": st.sampled_from(["A", "E", "B", "F", "H", "Z", None]),
        "metal": st.sampled_from(["copper", "aluminium", "gold"]),
        "warmest_room_celsius": st.floats(-40, 125) | number,
    },
    "valves.bias": {
        "cathode_volt": maybe,
        "cathode_ohm": maybe,
        "cathode_ampere": st.none() | small,
        "sharing": st.integers(1, 12) | number,
    },
    "valves.dissipation": {
        "plate_volt": st.floats(1, 5000) | number,
        "most_plate_watt": positive | number,
        "plate_ampere": st.none() | small,
        "cathode_ampere": st.none() | small,
        "cathode_volt": number,
        "screen_ampere": st.none() | small,
        "screen_volt": maybe,
        "most_screen_watt": maybe,
        "operation": st.sampled_from(["fixed_bias", "cathode_bias", "other"]),
    },
    "valves.heater": {
        "rated_volt": positive | number,
        "measured_volt": positive | number,
        "rated_ampere": maybe,
        "cathode": st.sampled_from(["oxide", "thoriated", "other"]),
    },
    "levels.convert": LEVEL,
    "levels.gain": {"before": level, "after": level},
    "levels.power": {
        "load_ohm": positive | number,
        "volt": maybe,
        "watt": maybe,
        "rated_watt": maybe,
    },
    "levels.noise": {
        "source_ohm": positive | number,
        "bandwidth_hertz": st.floats(1, 1e7) | number,
        "source_celsius": st.floats(-40, 125) | number,
        "output_volt": st.none() | small,
        "gain_db": maybe,
    },
}  # fmt: skip


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
@settings(max_examples=200, deadline=None)
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


def test_every_calculator_of_rails_valves_and_levels_is_tried():
    ours = {"rails", "valves", "levels"}

    names = {name for name in calculators() if name.partition(".")[0] in ours}

    assert names == set(FIELDS)
