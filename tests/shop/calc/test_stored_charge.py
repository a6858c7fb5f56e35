"""What a hand may touch of a stored charge, by four published rules."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.discharge.stored_charge import (
    ES1_ROWS,
    StoredChargeIn,
    es1_volt,
    household_volt,
    machine_volt,
    stored_charge,
)
from shop.calc.working import BadInput, Outcome


# Inputs in emc-pstc message 65744, second-hand: 4.4 uF at 80 V five seconds after disconnection,
# against the 45 uC line of IEC 61010-1. 10.2 V and 352 uC are derived.
def test_a_charge_can_be_too_much_at_a_low_voltage():
    answer = stored_charge(StoredChargeIn(4.4e-6, 80))

    assert answer.value.coulomb == pytest.approx(352e-6)
    assert answer.outcome is Outcome.WARN
    assert not answer.value.is_touchable
    assert [rule.is_met for rule in answer.value.rules if "61010" in rule.name] == [False]
    assert "10.2 V" in [line.result for line in answer.working.lines]


# IEC 60335-1, 8.1.4, verified in an excerpt: 0.22 uF at 340 V peak may not be accessible.
def test_more_than_a_tenth_of_a_microfarad_is_no_accessible_part():
    answer = stored_charge(StoredChargeIn(0.22e-6, 340))

    household = answer.value.rules[0]
    assert not household.is_met
    assert household.down_to_volt == 42.4


# The same clause: 0.1 uF to 450 V, 45 uC to 15 kV, 350 mJ above.
@pytest.mark.parametrize(
    ("farad", "volt"),
    [
        (1.0, 42.4),
        (0.1e-6, 450),
        (10e-9, 4500),
        (3e-9, 15_275),  # sqrt(2 x 0.35 J / C), derived
        (1e-9, 26_458),
        (3.05e-9, 14_754),  # 45 uC is reached before 15 kV
    ],
)
def test_the_household_rule_has_four_parts(farad, volt):
    assert household_volt(farad) == pytest.approx(volt, rel=1e-4)


# IEC 62368-1, table 5, from memory.
@pytest.mark.parametrize(
    ("nanofarad", "volt"),
    [(1000, 60), (300, 60), (299, 60), (170, 75), (100, 75), (91, 100), (61, 125), (41, 150),
     (28, 200), (18, 250), (12, 350), (8, 500), (4, 1000), (1, 1000)],
)  # fmt: skip
def test_the_es1_table_gives_the_stricter_neighbour(nanofarad, volt):
    assert es1_volt(nanofarad * 1e-9) == volt


# IEC 60204-1, 6.2.4, verified in a translation: 60 V, exempt up to 60 uC.
def test_machinery_may_keep_60_microcoulomb():
    assert machine_volt(100e-6) == 60
    assert machine_volt(0.1e-6) == pytest.approx(600)


def test_what_all_four_allow_may_be_touched():
    answer = stored_charge(StoredChargeIn(10e-9, 350))

    assert answer.outcome is Outcome.OK
    assert all(rule.is_met for rule in answer.value.rules)


# Encyclopaedia on aluminium electrolytics, second-hand: 10 to 15 % come back; 450 V: 45 to 67 V.
def test_what_may_come_back_is_said():
    answer = stored_charge(StoredChargeIn(100e-6, 450))

    assert answer.value.may_return_volt == pytest.approx((45, 67.5))
    assert any("volts come back" in text for text in answer.working.cautions)


@pytest.mark.parametrize(("farad", "volt"), [(0.0, 10.0), (1e-6, -1.0), (1e-6, 60_000.0)])
def test_what_cannot_be_is_refused(farad, volt):
    with pytest.raises(BadInput):
        stored_charge(StoredChargeIn(farad, volt))


@given(st.floats(1e-12, 10))
def test_the_volts_asked_for_are_touchable_and_one_percent_more_are_not(farad):
    down_to = stored_charge(StoredChargeIn(farad, 0)).value.down_to_volt

    assert stored_charge(StoredChargeIn(farad, down_to)).value.is_touchable
    if down_to < 49_000:
        assert not stored_charge(StoredChargeIn(farad, 1.01 * down_to)).value.is_touchable


@given(st.floats(1e-12, 10), st.floats(1e-12, 10))
def test_more_capacitance_never_allows_more_volts(one, other):
    small, large = sorted((one, other))

    allowed = [stored_charge(StoredChargeIn(size, 0)).value.down_to_volt for size in (small, large)]
    assert allowed[0] >= allowed[1]


def test_the_es1_rows_fall_and_rise():
    sizes, volts = zip(*ES1_ROWS, strict=True)

    assert list(sizes) == sorted(sizes, reverse=True)
    assert list(volts) == sorted(volts)
