"""Small figures that hid behind larger answers: each where a wrong one would mislead."""

import pytest

from shop.calc.cords.couplers import COUPLERS
from shop.calc.fuses.gates import GATES
from shop.calc.marks.letters import SMALL_FARAD
from shop.calc.registry import calculators, work_out
from shop.calc.working import Outcome


def answered(name, **more):
    """The calculator's example with some inputs changed; None takes an input out."""
    given = {**calculators()[name].example, **more}
    return work_out(name, {key: value for key, value in given.items() if value is not None})


# Derived, I = V / R and P = V² / R: 450 V on 100 kohm into a shorted part.
def test_a_short_while_forming_is_limited_by_the_resistor():
    value = answered("capacitors.reform").value

    assert value.short_ampere == pytest.approx(4.5e-3)
    assert value.short_watt == pytest.approx(2.025)


# A table of marks for parts lists, second-hand: below 10 pF the letters are picofarad.
def test_the_letters_of_small_capacitors_are_picofarad():
    assert SMALL_FARAD == {"B": 0.1e-12, "C": 0.25e-12, "D": 0.5e-12, "F": 1e-12}


# IEC 60127-2, sheets 3 and 6 from memory: two minutes at 2.1 times for every time-lag rating.
def test_time_lag_fuses_of_sheets_3_and_6_open_within_two_minutes_at_2_1_times():
    found = {gate.at_2_1_max for gate in GATES if gate.sheet in (3, 6)}

    assert found == {120}


# IEC 61140, second-hand: an earth to all touchable metal is class I, double insulation class II.
# Nothing in doubt is nothing to warn of (proposed).
@pytest.mark.parametrize(
    ("given", "found"),
    [
        ({"has_earth_core": True, "earth_reaches_metal": True}, "I"),
        ({"has_double_square": True}, "II"),
    ],
)
def test_a_class_that_all_marks_agree_on_is_answered_without_a_warning(given, found):
    answer = answered("safety.protection_class", **given)

    assert answer.value.protection_class == found
    assert answer.outcome is Outcome.OK


# IEC 60320-1 as AS/NZS 60320.1:2004 (accesscomms.com.au/reference/IEC320.htm, second-hand): pins of
# C2 to C14 and C18, C20, C24 to 70 °C, C16 to 120 °C, C16A and C22 to 155 °C.
@pytest.mark.parametrize(
    ("inlet", "celsius"),
    [("C6", 70), ("C8", 70), ("C10", 70), ("C14", 70), ("C16", 120), ("C16A", 155), ("C18", 70),
     ("C20", 70), ("C22", 155), ("C24", 70)],
)  # fmt: skip
def test_an_inlet_keeps_its_pin_temperature(inlet, celsius):
    (found,) = [one for one in COUPLERS if one.inlet == inlet]
    assert found.pin_celsius == celsius
