"""Whatever comes in, marks, codes, dates and readings answer finitely or name the field."""

from math import inf, isfinite, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.calc.marks.colours import COLOURS
from shop.calc.quantities import Quantity
from shop.calc.registry import answer_as_json, calculators, work_out
from shop.calc.working import BadInput

number = st.one_of(
    st.floats(-400, 400),
    st.sampled_from([0.0, -1.0, nan, inf, -inf, 1e308, 5e-324, 1e-15, 1e12, 1e15, 230.0]),
    st.integers(-3, 500),
)
year = st.integers(1890, 2210) | number
date_marks = st.text("0123456789OCDX", max_size=9)
rules = st.lists(
    st.sampled_from(
        ["{year1}", "{year2}", "{year4}", "{week}", "{month2}", "{month_letter}", "{day2}",
         "{weekday}", "{day3}", "{year_letter}", "{year_letters:1981:ABC1}", "{any}",
         "{month_letters:ABCDEFGHJKLM}", "{digits}", "{digits:2}", "{any:1}",
         "{letter}", "{", "(", "{x}", "{digits:}"]
    ), max_size=4,
).map("".join)  # fmt: skip
part_marks = st.text("0123456789.,RKMmpnuPNUFJZL VAH%µΩ/-", min_size=1, max_size=12)
codes = st.text("0123456789ABCNPQRSTUZ-!", max_size=10) | st.text(max_size=10)
text = st.text(max_size=8) | part_marks | date_marks
anything = st.one_of(number, text, st.none(), st.booleans(), st.lists(number | text, max_size=2))
quantity = st.sampled_from([*Quantity, "colour"])
meter = st.fixed_dictionaries({"pct": number, "counts": number, "resolution": number})
day = st.sampled_from(["2026-11-25", "1920-01-01", "9999-12-31", "0001-01-01", "25.11.2026", None])
evidence = {
    "repaired_on": day,
    "part_made_from": st.none() | year,
    "unit_made": st.none() | year,
    "other_parts": st.lists(year, max_size=3),
    "service_stamps": st.lists(year, max_size=2),
}
bounds = {"not_after": year, "introduced": st.none() | year}
FIELDS = {
    "readings.parse": {"typed": text, "quantity": quantity},
    "readings.format": {
        "value": number,
        "quantity": quantity,
        "digits": st.none() | st.integers(0, 16),
        "resolution": st.none() | number | st.sampled_from([0.001, 1e-15, 1e6, 0.25]),
    },
    "readings.accuracy": {
        "value": number,
        "quantity": quantity,
        "accuracy": meter,
        "permitted_error": st.none() | number,
    },
    "readings.category": {
        "place": st.sampled_from(["behind_transformer", "socket_or_appliance", "origin", "roof"]),
        "to_earth_volt": number,
        "meter_category": st.sampled_from(["none", "cat_ii", "cat_iii", "cat_iv", "cat_v"]),
        "meter_volt": number,
    },
    "readings.calibration_interval": {
        "checks_percent": st.lists(number, max_size=4),
        "present_months": number,
    },
    "judging.judge": {
        "value": number,
        "low": st.none() | number,
        "high": st.none() | number,
        "rule": st.sampled_from(["simple", "guarded", "non_binary"]),
        "accuracy": st.none() | meter,
        "expanded_uncertainty": st.none() | number,
    },
    "judging.guard_bands": {
        "expanded_uncertainty": number,
        "low": st.none() | number,
        "high": st.none() | number,
    },
    "date_codes.years": {"text": date_marks | text, "rule": rules | text, **bounds, **evidence},
    "date_codes.part": {"mark": date_marks | text, **bounds, **evidence},
    "date_codes.week": {
        "year": year,
        "week": st.integers(-1, 100) | number,
        "weekday": st.none() | st.integers(0, 8),
    },
    "date_codes.week_of_day": {"day": day | st.dates().map(str)},
    "marks.resistor_colours": {
        "bands": st.lists(st.sampled_from([*COLOURS, "pink"]), max_size=7),
    },
    "marks.resistor": {"mark": part_marks | text},
    "marks.capacitor": {
        "mark": part_marks | text,
        "kind": st.sampled_from(["unknown", "electrolytic", "film_or_ceramic", "mica"]),
    },
    "codes.check": {"code": codes},
    "codes.make": {"kind": st.sampled_from("NPBAMSX"), "body": codes},
    "codes.qr_label": {
        "text": text,
        "level": st.sampled_from("LMQHX"),
        "dots_per_inch": st.integers(50, 3000),
        "dots_per_module": st.integers(0, 101),
        "distance_millimetre": number,
    },
    "turnaround.summary": {
        "stays": st.lists(
            st.fixed_dictionaries({"days": number, "is_open": st.booleans()}), max_size=5
        )
    },
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
@settings(max_examples=200, deadline=None)
@given(st.data())
def test_any_input_gets_finite_numbers_or_a_refusal_at_a_field(name, data):
    fields = FIELDS[name]
    given_ = data.draw(
        st.fixed_dictionaries(fields)
        | st.fixed_dictionaries({}, optional=fields)
        | st.fixed_dictionaries(dict.fromkeys(fields, anything))
    )

    answer, refused = run(name, given_)

    if refused:
        assert refused.field
        assert refused.reason
    else:
        assert answer["text"]
        assert all(isfinite(n) for n in numbers_in(answer["value"]))


@pytest.mark.parametrize("name", FIELDS)
def test_a_field_too_many_is_refused_by_name(name):
    answer, refused = run(name, {**calculators()[name].example, "colour_of_the_box": 1})

    assert answer is None
    assert "colour_of_the_box" in refused.reason


def test_every_calculator_of_these_areas_is_tried():
    ours = {"readings", "judging", "date_codes", "marks", "codes", "turnaround"}

    assert {name for name in calculators() if name.partition(".")[0] in ours} == set(FIELDS)
