"""What an instrument says over SCPI becomes one exact value, one of two states, or a refusal."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.quantities import RULES, Quantity
from shop.calc.readings import State, parse_reading, reading_said, said_plainly
from shop.calc.working import BadInput

FORMS = ("{:+.8E}", "{:.3f}", "{:.6E}", "{:+.0f}")


@pytest.mark.parametrize(
    ("said", "text"),
    [
        # IEEE 488.2-1992: 8.7.2 NR1, 8.7.3 NR2, 8.7.4 NR3.
        ("12", "12"),
        ("+12.500", "12.5"),
        ("-1.25000E+01", "-12.5"),
        ("+4.98700000E+00\n", "4.987"),
        (".5", "0.5"),
        ("-0.0", "0"),
        ("+1.23456789012345678E+00", "1.23456789012346"),  # as many digits as a reading keeps
    ],
)
def test_the_three_forms_of_a_number(said, text):
    assert reading_said(said, Quantity.VOLTAGE_DC).text == text


@pytest.mark.parametrize(
    ("said", "state"),
    [
        # SCPI-1999 volume 1, 7.2.1.4 (infinity) and 7.2.1.5 (not a number).
        ("9.9E37", State.OVER_RANGE),
        ("+9.90000000E+37", State.OVER_RANGE),
        ("-9.9E37", State.OVER_RANGE),
        ("9.91E37", State.NOT_MEASURED),
        ("+9.91000000E+37", State.NOT_MEASURED),
    ],
)
def test_infinity_and_no_number_are_states_and_no_values(said, state):
    reading = reading_said(said, Quantity.VOLTAGE_DC)

    assert (reading.state, reading.text, reading.si) == (state, None, None)


@pytest.mark.parametrize(
    "said",
    [
        "", "V", "4.9.8", "4,987", "4.987 V", "nan", "inf", "OL", "1e", "e5", "--1", "+", ".",
        "1_000", "٤", "0x10", "1,2", "4.98\x00", "1" * 41, "1e9999", "4.9874.987E",
    ],
)  # fmt: skip
def test_what_is_no_number_is_refused(said):
    with pytest.raises(BadInput):
        reading_said(said, Quantity.VOLTAGE_DC)


@pytest.mark.parametrize(
    ("said", "quantity"),
    [("-0.002", Quantity.RESISTANCE), ("2E5", Quantity.VOLTAGE_DC), ("1E-40", Quantity.CURRENT_DC)],
)
def test_what_cannot_be_is_refused(said, quantity):
    with pytest.raises(BadInput):
        reading_said(said, quantity)


@given(
    st.floats(1e-9, 9e4, allow_nan=False), st.sampled_from(FORMS), st.sampled_from(list(Quantity))
)
def test_a_reading_is_the_very_number_and_reads_the_same_when_typed(value, form, quantity):
    said = form.format(value)
    rule = RULES[quantity]
    if quantity is Quantity.COUNT or not rule.lowest <= float(said) <= rule.highest:
        return

    reading = reading_said(said, quantity)

    assert Decimal(reading.text) == Decimal(said)
    typed = parse_reading(said_plainly(reading), quantity)
    assert (typed.state, typed.text, typed.unit) == (reading.state, reading.text, reading.unit)


@given(st.text(max_size=50) | st.from_regex(r"[-+0-9.eE ]{0,45}"), st.sampled_from(list(Quantity)))
def test_anything_at_all_is_read_or_refused(said, quantity):
    try:
        reading = reading_said(said, quantity)
    except BadInput:
        return

    assert (reading.text is None) == (reading.state is not State.VALUE)
    assert parse_reading(said_plainly(reading), quantity).text == reading.text
