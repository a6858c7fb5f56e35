"""How techs write values. The table is shared with the phone and was reasoned by hand."""

import json
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.quantities import RULES, Quantity
from shop.calc.readings import (
    CANONICAL_DECIMAL,
    ParseIn,
    State,
    format_reading,
    parse,
    parse_reading,
)
from shop.calc.working import BadInput

ROWS = json.loads((Path(__file__).parents[2] / "vectors/readings.json").read_text())


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['quantity']} {row['typed']!r}")
def test_every_row_of_the_shared_table_is_read_as_written(row):
    quantity = Quantity(row["quantity"])

    if row["error_code"]:
        with pytest.raises(BadInput) as refused:
            parse_reading(row["typed"], quantity)
        assert (refused.value.code, refused.value.field) == (row["error_code"], "typed")
        return

    reading = parse_reading(row["typed"], quantity)
    assert (reading.state, reading.text) == (row["state"], row["text"])


def test_the_shared_table_is_long_and_has_no_row_twice():
    typed = {(row["quantity"], row["typed"]) for row in ROWS}

    assert len(typed) == len(ROWS) >= 80


# IEC 60062 as quoted at en.wikipedia.org/wiki/IEC/EN_60062 (R47 to 4M7), 4L7 and 470L as in the
# examples of ngspice (gitcode.com/deepin-community/ngspice, examples/various/RKM-R-1.cir).
@pytest.mark.parametrize(
    ("typed", "ohm"),
    [
        ("R47", 0.47),
        ("4R7", 4.7),
        ("470R", 470),
        ("4K7", 4.7e3),
        ("47K3", 47.3e3),
        ("4M7", 4.7e6),
        ("4L7", 4.7e-3),
        ("470L", 0.47),
        # An encyclopaedia copy on resistors, second-hand.
        ("8K2", 8.2e3),
        ("15M0", 15e6),
        ("1R2", 1.2),
        ("18R", 18),
        ("47K", 47e3),
    ],
)
def test_resistor_marks_of_iec_60062_are_read(typed, ohm):
    assert parse_reading(typed, Quantity.RESISTANCE).si == ohm


# An encyclopaedia article on capacitors (second-hand): u47, 4u7, 47u with either micro sign.
@pytest.mark.parametrize("micro", ["u", "\u00b5", "\u03bc"])
def test_capacitor_marks_of_iec_60062_are_read(micro):
    read = [parse_reading(f"{a}{micro}{b}", Quantity.CAPACITANCE).text
            for a, b in (("", "47"), ("4", "7"), ("47", ""))]  # fmt: skip

    assert read == ["0.00000047", "0.0000047", "0.000047"]


def test_mega_is_never_milli_and_the_other_habit_is_told():
    answer = parse(ParseIn(quantity=Quantity.RESISTANCE, typed="4M7"))

    assert answer.value.si == 4.7e6
    assert any("milli" in text for text in answer.working.disagreements)


@st.composite
def exact_values(draw):
    quantity = draw(st.sampled_from(Quantity))
    rule = RULES[quantity]
    places = 0 if quantity is Quantity.COUNT else draw(st.integers(0, 12))
    step = 10**places
    lowest, highest = max(rule.lowest, -(10**7)), min(rule.highest, 10**7)
    whole = draw(st.integers(int(lowest * step), int(highest * step)))
    text = f"{'-' if whole < 0 else ''}{abs(whole) // step}.{abs(whole) % step:0{places}d}"
    return quantity, text if places else text.partition(".")[0]


@given(exact_values())
def test_what_is_shown_reads_back_as_the_same_value(case):
    quantity, text = case
    digits = len(text.replace(".", "").replace("-", "").strip("0"))
    if digits > 15:
        return
    reading = parse_reading(text, quantity)

    again = parse_reading(reading.shown, quantity)

    assert again == reading
    assert re.fullmatch(CANONICAL_DECIMAL, reading.text or "")
    assert reading.si == float(text)


def read_or_refuse(typed, quantity):
    try:
        return parse_reading(typed, quantity), None
    except BadInput as refused:
        return None, refused.code


typing = st.text(st.characters() | st.sampled_from("0123456789.,kKmMuRVAeE- "), max_size=45)


@given(typing, st.sampled_from(Quantity))
def test_anything_typed_gives_a_reading_or_a_refusal_with_a_reason(typed, quantity):
    reading, code = read_or_refuse(typed, quantity)

    assert (reading is None) == (code is not None)
    assert code != "bad_input"
    if reading:
        assert (reading.text is None) == (reading.state is not State.VALUE)


def test_digits_are_rounded_half_away_from_zero():
    assert format_reading("0.1625", Quantity.CURRENT_DC, 3) == "163 mA"
    assert format_reading("-0.1625", Quantity.CURRENT_DC, 3) == "-163 mA"
    assert format_reading("999.6", Quantity.RESISTANCE, 3) == "1 kΩ"


def test_over_range_not_measured_and_zero_are_three_things():
    states = [parse_reading(typed, Quantity.RESISTANCE).state for typed in ("OL", "n/m", "0")]

    assert states == [State.OVER_RANGE, State.NOT_MEASURED, State.VALUE]


def test_the_calculator_answers_with_the_reading_and_its_sources():
    answer = parse(ParseIn(quantity=Quantity.CURRENT_DC, typed="160m"))

    assert answer.value is not None
    assert (answer.value.text, answer.text) == ("0.16", "160 mA")
    assert answer.working.sources
