"""Whatever comes in, a mains calculator answers in finite numbers or names the field at fault."""

from math import inf, isfinite, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.calc.registry import answer_as_json, calculators, work_out
from shop.calc.working import BadInput

number = st.one_of(
    st.floats(0.001, 400),
    st.sampled_from([0.0, -1.0, nan, inf, -inf, 1e308, 5e-324, 100.0, 115.0, 230.0]),
    st.integers(-3, 500),
)
text = st.one_of(
    st.text(max_size=8),
    st.sampled_from(["A", "B", "A0", "T1A", "T315L250V", "3A", "DE", "JP", "I", "II", "en_50678"]),
)
anything = st.one_of(number, text, st.none(), st.booleans(), st.lists(number, max_size=2))
terminal = st.sampled_from(["A0", "A1", "B0", "B1", "C0", "t"])
link = st.lists(terminal, min_size=1, max_size=3)
section = st.fixed_dictionaries(
    {
        "name": st.sampled_from(["A", "B", "C"]),
        "start": terminal,
        "finish": terminal,
        "rated_volt": number,
    },
    optional={
        "rated_ampere": number,
        "taps": st.lists(st.fixed_dictionaries({"terminal": terminal, "volt": number}), max_size=2),
    },
)
FIELDS = {
    "fuses.parse": {"mark": text, "standard": st.sampled_from(["iec", "ul"])},
    "fuses.scale": {
        "old_mark": text,
        "old_volt": number,
        "new_volt": number,
        "supply_high_volt": number,
        "maker_marking": text,
    },
    "fuses.for_load": {
        "load_ampere": number,
        "load_va": number,
        "mains_volt": number,
        "ambient_celsius": number,
        "inrush_times": number,
    },
    "fuses.ul_iec": {"rated_ampere": number},
    "fuses.bands": {"bands": st.lists(text, max_size=4)},
    "supplies.country": {"country": text, "nominal_volt": number, "hz": number},
    "windings.arrangements": {
        "sections": st.lists(section, max_size=3),
        "check_links": st.lists(link, max_size=3),
        "check_mains": link,
    },
    "windings.for_supply": {
        "sections": st.lists(section, max_size=3),
        "target_volt": number,
        "target_hz": number,
        "plate_hz": st.lists(number, max_size=2),
        "measured_volt": number,
        "links_now": st.lists(link, max_size=2),
    },
    "windings.flux": {
        "plate_volt": number,
        "plate_hz": st.lists(number, max_size=2),
        "target_volt": number,
        "target_hz": number,
    },
    "windings.secondaries": {"tap_volt": number, "mains_volt": number, "secondaries": st.just([])},
    "windings.resistance_band": {"sheet_ohm": number},
    "windings.secondary_band": {"loaded_volt": number, "unloaded_volt": number},
    "windings.phasing_band": {"low": number, "high": number},
    "windings.autotransformer": {
        "mains_volt": number,
        "winding_volt": number,
        "load_ampere": number,
    },
    "voltage_parts.check": {"nominal_volt": number, "hz": number, "high_volt": number},
    "cords.required": {"rated_ampere": number, "length_m": number, "plug_fuse_ampere": number},
    "safety.limits": {
        "scheme": text,
        "protection_class": text,
        "cord_length_m": number,
        "cord_mm2": number,
        "heating_kw": number,
        "plug": text,
    },
}


def numbers_in(plain):
    if isinstance(plain, float):
        yield plain
    elif isinstance(plain, dict):
        for value in plain.values():
            yield from numbers_in(value)
    elif isinstance(plain, list):
        for value in plain:
            yield from numbers_in(value)


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
def test_every_mains_calculator_has_schemas_and_a_docstring_with_its_source(name):
    found = calculators()[name]

    schemas = found.schemas()
    assert schemas["input"]
    assert schemas["answer"]
    assert "Source:" in found.work_out.__doc__
    assert "Units:" in found.work_out.__doc__
