"""Whatever comes in, the newer fuse and winding calculators answer in finite numbers or refuse."""

from math import inf, isfinite, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.calc.registry import answer_as_json, calculators, work_out
from shop.calc.working import BadInput
from tests.shop.calc.test_mains_never_break import anything, number, numbers_in, section, text

odd_number = st.one_of(number, st.sampled_from([nan, inf, -inf, 1e-300, 0.03, 20.0]))
mark = st.one_of(text, st.sampled_from(["T1.6AL250V", "F2A", "TT10AH", "2A"]))
tapped = st.builds(
    lambda one, volts: {
        **one, "taps": [{"terminal": f"t{n}", "volt": v} for n, v in enumerate(volts)]
    },
    section,
    st.lists(st.one_of(st.floats(-400, 400), odd_number), max_size=3),
)  # fmt: skip
FIELDS = {
    "fuses.gates": {
        "sheet": st.sampled_from(["1", "2", "3", "5", "6", "ul", "ul_time_delay", "4"]),
        "rated_ampere": odd_number,
        "current_ampere": odd_number,
    },
    "fuses.inrush": {
        "load_ampere": odd_number,
        "load_va": odd_number,
        "mains_volt": odd_number,
        "inrush_times": odd_number,
        "pulse_seconds": odd_number,
        "mark": mark,
        "melting_ampere2_seconds": odd_number,
    },
    "fuses.ceiling": {"primary_ampere": odd_number, "secondary_ampere": odd_number},
    "fuses.write": {
        "rated_ampere": st.one_of(odd_number, st.sampled_from([0.315, 1.6, 10.0])),
        "characteristic": st.sampled_from(["FF", "F", "M", "T", "TT", "X"]),
        "breaking_letter": st.sampled_from(["L", "E", "H", "Q"]),
        "rated_volt": st.integers(-5, 2000),
    },
    "windings.window": {
        "plate_volt": odd_number,
        "plate_hz": st.lists(odd_number, max_size=2),
        "target_hz": odd_number,
        "supply_volt": odd_number,
    },
    "windings.arrangements": {
        "sections": st.lists(tapped, max_size=3),
        "supply_volt": odd_number,
        "supply_hz": odd_number,
        "plate_hz": st.lists(odd_number, max_size=2),
    },
}


@pytest.mark.parametrize("name", FIELDS)
@given(st.data())
@settings(max_examples=150)
def test_any_input_is_answered_finitely_or_refused_at_a_field(name, data):
    good = st.fixed_dictionaries({}, optional=FIELDS[name])
    odd = st.dictionaries(st.sampled_from([*FIELDS[name], "odd"]), anything, max_size=2)
    sent = {**data.draw(good), **data.draw(st.one_of(st.just({}), odd))}

    try:
        answer = work_out(name, sent)
    except BadInput as refused:
        field, reason = refused.field, refused.reason
    else:
        field, reason = "none", answer.text
        assert all(isfinite(value) for value in numbers_in(answer_as_json(answer)))

    assert field
    assert reason


@pytest.mark.parametrize("name", FIELDS)
def test_every_one_has_schemas_and_a_docstring_with_its_source(name):
    found = calculators()[name]

    assert found.schemas()["input"]
    assert "Source:" in found.work_out.__doc__
    assert "Units:" in found.work_out.__doc__
