"""Whatever comes in, a capacitor calculator answers in finite numbers or names the field."""

from functools import cache
from math import inf, isfinite, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.calc.registry import answer_as_json, calculators, work_out
from shop.calc.working import BadInput

number = st.one_of(
    st.floats(0.001, 2000),
    st.sampled_from([0.0, -1.0, nan, inf, -inf, 1e308, 5e-324, 1e-12, 1e9, 0.5, 1.0, 63.0, 450.0]),
    st.integers(-3, 500),
)
small = st.floats(1e-12, 1) | number
maybe = st.none() | number
farad = st.floats(1e-9, 1e-2) | small
anything = st.one_of(number, st.text(max_size=8), st.none(), st.booleans(), st.lists(number))
period = st.fixed_dictionaries({"share_percent": number, "celsius": number})
FIELDS = {
    "capacitors.preferred": {
        "value": st.floats(1e-15, 1e15) | number,
        "series": st.sampled_from(["E3", "E6", "E12", "E24", "E48", "E96", "E192", "E7"]),
    },
    "capacitors.life": {
        "rated_life_hours": number,
        "rated_celsius": number,
        "working_celsius": number,
        "daily_hours": st.floats(0, 25),
        "age_years": maybe,
        "rated_volt": maybe,
        "working_volt": maybe,
        "core_rise_kelvin": maybe,
    },
    "capacitors.mixed_life": {
        "rated_life_hours": number,
        "rated_celsius": number,
        "periods": st.lists(period, max_size=3)
        | st.just([{"share_percent": 40, "celsius": 200}, {"share_percent": 60, "celsius": -40}]),
    },
    "capacitors.leakage": {
        "farad": farad,
        "rated_volt": number,
        "measured_ampere": st.none() | small,
        "applied_volt": maybe,
        "after_seconds": number,
        "celsius": number,
    },
    "capacitors.esr": {"farad": farad, "rated_volt": number, "measured_ohm": st.none() | small},
    "capacitors.esr_from_loss": {
        "tan_delta": small,
        "farad": farad,
        "at_hertz": number,
        "measured_ohm": st.none() | small,
        "meter_hertz": number,
    },
    "capacitors.verdict": {
        "farad": farad,
        "rated_volt": number,
        "high_percent": number,
        "measured_farad": st.none() | farad,
        "measured_ohm": st.none() | small,
        "good_ohm": st.none() | small,
        "measured_ampere": st.none() | small,
        "is_new": st.booleans(),
    },
    "capacitors.replacement": {
        "farad": farad,
        "rated_volt": number,
        "rated_celsius": st.floats(40, 200) | number,
        "place": st.sampled_from(["reservoir", "timing", "coupling", "other"]),
        "has_valve_rectifier": st.booleans(),
        "working_volt": maybe,
        "new_farad": st.none() | farad,
        "new_volt": maybe,
        "new_celsius": maybe,
    },
    "capacitors.reform": {
        "farad": farad,
        "rated_volt": number,
        "idle_years": number,
        "resistor_ohm": maybe,
        "supply_volt": maybe,
        "resistor_volt": maybe,
    },
    "discharge.stored_charge": {"farad": farad, "peak_volt": number},
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


def run(name, sent):
    try:
        return answer_as_json(work_out(name, sent)), None
    except BadInput as refused:
        return None, refused


@pytest.mark.parametrize("name", FIELDS)
@settings(max_examples=200, deadline=None)
@given(st.data())
def test_any_input_gets_finite_numbers_or_a_refusal_at_a_field(name, data):
    fields = FIELDS[name]
    sent = data.draw(
        st.fixed_dictionaries(fields) | st.fixed_dictionaries({}, optional=fields)
        | st.fixed_dictionaries(dict.fromkeys(fields, anything))
    )  # fmt: skip

    answer, refused = run(name, sent)

    if refused:
        assert refused.field
        assert refused.reason
        return
    assert answer["text"]
    assert all(isfinite(one) for one in numbers_in(answer["value"]))
    shown = [line["result"] for line in answer["working"]["lines"]]
    assert not any("nan" in text or "inf" in text.split() for text in shown)


def within(kind, shapes):
    """Inputs inside of the ranges that the schema itself states, both ends now and then."""
    if "$ref" in kind:
        fields = shapes[kind["$ref"].rpartition("/")[2]]["properties"]
        return st.fixed_dictionaries({name: within(one, shapes) for name, one in fields.items()})
    if "anyOf" in kind:
        return st.one_of(*(within(one, shapes) for one in kind["anyOf"]))
    if "enum" in kind:
        return st.sampled_from(kind["enum"])
    if kind["type"] == "array":
        return st.lists(within(kind["items"], shapes), min_size=1, max_size=3)
    if kind["type"] == "number":
        low, high = float(kind["minimum"]), float(kind["maximum"])
        return st.floats(low, high) | st.sampled_from([low, high]) | st.floats(low, min(high, 500))
    return {"boolean": st.booleans(), "null": st.none()}[kind["type"]]


@cache
def inputs_of(name):
    schema = calculators()[name].schemas()["input"]
    return within(schema, schema["$defs"])


@pytest.mark.parametrize("name", FIELDS)
@settings(max_examples=200, deadline=None)
@given(st.data())
def test_whatever_lies_within_the_ranges_gets_finite_numbers(name, data):
    sent = data.draw(inputs_of(name))

    answer, refused = run(name, sent)

    if refused:  # two fields that do not go together, never one that is out of its range
        assert refused.code != "bad_input"
    else:
        assert all(isfinite(one) for one in numbers_in(answer["value"]))


def test_every_capacitor_calculator_is_tried_and_says_its_units_and_source():
    names = {name for name in calculators() if name.startswith("capacitors.")}

    assert names == {name for name in FIELDS if name.startswith("capacitors.")}
    for name in FIELDS:
        found = calculators()[name].work_out.__doc__
        assert "Units:" in found
        assert "Source:" in found
