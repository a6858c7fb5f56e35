"""Whatever comes in, a bench calculator answers in finite numbers or names the field at fault."""

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
small = st.floats(0, 1) | number
positive = st.floats(0.5, 400)
text = st.text(max_size=8) | st.sampled_from(["92", "C5", "{year2}", "{year1}{week}", "160m"])
anything = st.one_of(number, text, st.none(), st.booleans(), st.lists(number, max_size=2))
FIELDS = {
    "discharge.wait": {
        "farad": small,
        "from_volt": number,
        "bleeder_ohm": st.none() | number,
        "safe_volt": number,
    },
    "discharge.resistor": {
        "farad": small,
        "from_volt": number,
        "seconds": number,
        "safe_volt": number,
        "most_peak_a": number,
    },
    "discharge.plug": {
        "farad": st.floats(1e-9, 1e-3) | number,
        "supply_volt": number,
        "bleeder_ohm": st.none() | number,
    },
    "discharge.dead": {"bench_volt": st.none() | number, "is_damp": st.booleans()},
    "discharge.stored_charge": {"farad": small, "peak_volt": number},
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


def test_every_bench_calculator_is_tried_and_has_schemas():
    ours = {"discharge"}

    names = {name for name in calculators() if name.partition(".")[0] in ours}

    assert names == set(FIELDS)
    for name in names:
        schemas = calculators()[name].schemas()
        assert schemas["input"]
        assert schemas["answer"]
