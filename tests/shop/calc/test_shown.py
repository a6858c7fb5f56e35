"""Capacitor figures as they stand on parts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.quantities import Quantity
from shop.calc.readings import parse_reading
from shop.calc.shown import amperes, farads, ohms, volts, watts


# Common practice, no source: electrolytics are marked in µF at any size, ESR is written in ohms.
@pytest.mark.parametrize(
    ("farad", "text"),
    [(10_000e-6, "10000 µF"), (4.7e-6, "4.7 µF"), (220e-9, "220 nF"), (47e-12, "47 pF"),
     (1e-6, "1 µF"), (0.1e-6, "100 nF"), (1.5, "1.5 F")],
)  # fmt: skip
def test_capacitance_is_written_as_on_the_part(farad, text):
    assert farads(farad) == text


@pytest.mark.parametrize(
    ("shown", "text"),
    [
        (ohms(0.32), "0.32 Ω"),
        (ohms(4700), "4.7 kΩ"),
        (ohms(0.0005), "0.5 mΩ"),
        (amperes(0.0011), "1.1 mA"),
        (amperes(93e-6), "93 µA"),
        (watts(202.5), "202 W"),
        (volts(450), "450 V"),
    ],
)
def test_other_figures_have_three_digits(shown, text):
    assert shown == text


@given(st.floats(1e-12, 1))
def test_what_is_shown_can_be_typed_back(farad):
    back = parse_reading(farads(farad), Quantity.CAPACITANCE).si

    assert back == pytest.approx(farad, rel=1e-3)
