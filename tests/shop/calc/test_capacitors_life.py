"""Life of electrolytic capacitors, against published and derived cases."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.capacitors.life import (
    LifeIn,
    MixedLifeIn,
    Period,
    hours_at,
    life,
    mixed_life,
)
from shop.calc.working import BadInput, Outcome

# Rated hours, rated °C, °C, hours.
PUBLISHED = [
    (2000, 105, 45, 128_000),  # encyclopaedia on aluminium electrolytics: "roughly 15 years"
    (1000, 85, 45, 16_000),  # a radio amateurs' list: about 2 years
    (1000, 105, 45, 64_000),  # application page of a power-supply maker, this and the next two
    (1000, 105, 55, 32_000),
    (1000, 105, 65, 16_000),
    (2000, 85, 50, 22_627),  # derived: 2000 x 2^3.5
]
hours = st.floats(100, 100_000)
rated = st.floats(40, 200)
celsius = st.floats(-40, 200)


@pytest.mark.parametrize("row", PUBLISHED, ids=str)
def test_the_published_lives_come_out(row):
    rated_hours, rated_celsius, at, wanted = row

    assert hours_at(rated_hours, rated_celsius, at) == pytest.approx(wanted, rel=1e-4)
    assert life(LifeIn(rated_hours, rated_celsius, at)).value.hours == pytest.approx(wanted, 1e-4)


# 128 000 h are 14.6 years of 8760 h and 16 000 h are 1.83 (derived); both texts round.
def test_years_are_years_of_8760_hours():
    assert life(LifeIn(2000, 105, 45)).value.years == pytest.approx(14.6, abs=0.02)
    assert life(LifeIn(1000, 85, 45)).value.years == pytest.approx(1.83, abs=0.01)


def test_the_answer_ends_at_15_years_and_says_why():
    answer = life(LifeIn(2000, 105, 30))

    assert answer.value.is_capped
    assert answer.value.expected_years == 15
    assert answer.value.years == pytest.approx(41.3, abs=0.1)
    assert "seal" in answer.text


def test_a_part_powered_for_two_hours_a_day_is_capped_all_the_same():
    value = life(LifeIn(2000, 105, 45, daily_hours=2)).value

    assert value.years == pytest.approx(12 * 14.61, rel=1e-3)
    assert value.expected_years == 15


# Derived: 22 627 h by temperature, x (35/25)^2.5 = 52 475 h, x (35/25)^5 = 121 696 h. The exponents
# are of a calculator page (cal6.calculator.city); a maker's sheet calls the effect negligible.
def test_the_voltage_exponents_stand_beside_the_answer_and_not_in_it():
    answer = life(LifeIn(2000, 85, 50, rated_volt=35, working_volt=25))

    assert answer.value.hours == pytest.approx(22_627, abs=1)
    shown = [one.hours for one in answer.value.others]
    assert shown == pytest.approx([52_475, 121_696], abs=1)
    assert any("2.5 to 5" in text for text in answer.working.disagreements)


# Derived: 2^(-10/5) and 2^(-10/10). The first is of a maker's sheet, the second follows from the
# rule itself.
def test_the_two_ripple_factors_stand_side_by_side():
    value = life(LifeIn(1000, 105, 45, core_rise_kelvin=10)).value

    assert [one.hours for one in value.others] == pytest.approx([16_000, 32_000])
    assert value.hours == pytest.approx(64_000)


def test_an_old_part_has_nothing_left():
    answer = life(LifeIn(2000, 85, 45, age_years=35))

    assert answer.value.left_years == 0
    assert answer.outcome is Outcome.WARN
    assert life(LifeIn(2000, 105, 45, age_years=4)).value.left_years == pytest.approx(10.6, abs=0.1)


def test_above_its_rated_temperature_it_warns():
    answer = life(LifeIn(1000, 85, 95))

    assert answer.outcome is Outcome.WARN
    assert answer.value.hours == pytest.approx(500)


@pytest.mark.parametrize(
    ("field", "sent"),
    [
        ("working_volt", {"rated_volt": 25, "working_volt": 35}),
        ("rated_volt", {"working_volt": 35}),
        ("daily_hours", {"daily_hours": 25}),
        ("age_years", {"age_years": -1}),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(field, sent):
    with pytest.raises(BadInput) as refused:
        life(LifeIn(1000, 85, 45, **sent))

    assert refused.value.field == field


@given(hours, rated, celsius, celsius)
def test_hotter_never_lives_longer(rated_hours, rated_celsius, one, other):
    cool, warm = sorted((one, other))

    first = life(LifeIn(rated_hours, rated_celsius, cool)).value
    second = life(LifeIn(rated_hours, rated_celsius, warm)).value
    assert first.hours >= second.hours
    assert first.expected_years >= second.expected_years
    assert first.expected_years <= 15


@given(hours, rated, st.floats(-40, 190))
def test_ten_kelvin_are_half_the_life(rated_hours, rated_celsius, at):
    warm = hours_at(rated_hours, rated_celsius, at + 10)

    assert hours_at(rated_hours, rated_celsius, at) == pytest.approx(2 * warm)


# Derived from 1/L = sum(share/L): 16 000 h and 4000 h, three quarters and one.
def test_a_mixed_life_uses_up_each_share():
    value = mixed_life(MixedLifeIn(1000, 85, [Period(75, 45), Period(25, 65)])).value

    assert value.hours == pytest.approx(1 / (0.75 / 16_000 + 0.25 / 4000))


@given(hours, rated, celsius, celsius, st.floats(1, 99))
def test_a_mixed_life_lies_between_the_lives_of_its_parts(rated_hours, top, one, other, share):
    both = [Period(share, one), Period(100 - share, other)]

    value = mixed_life(MixedLifeIn(rated_hours, top, both)).value
    ends = sorted(hours_at(rated_hours, top, at) for at in (one, other))
    assert ends[0] * (1 - 1e-9) <= value.hours <= ends[1] * (1 + 1e-9)


def test_one_temperature_all_the_time_is_the_plain_life():
    mixed = mixed_life(MixedLifeIn(1000, 105, [Period(100, 45)]))

    assert mixed.value.hours == pytest.approx(64_000)


def test_shares_that_do_not_make_a_whole_are_refused():
    with pytest.raises(BadInput, match="periods"):
        mixed_life(MixedLifeIn(1000, 105, [Period(50, 45), Period(30, 55)]))
