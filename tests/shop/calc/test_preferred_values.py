"""Preferred values, against the tables of an independent package and cases worked by hand."""

from math import log

import eseries
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.capacitors.preferred import PreferredIn, preferred
from shop.calc.preferred_values import MEMBERS, around, at_most, between, nearest
from shop.calc.working import BadInput

SERIES = list(MEMBERS)
series = st.sampled_from(SERIES)
values = st.floats(1e-12, 1e12)


# PyPI package eseries 1.2.1: seen there, the standard itself (IEC 60063) was not.
@pytest.mark.parametrize("name", SERIES)
def test_every_series_is_the_one_of_the_independent_package(name):
    assert MEMBERS[name] == tuple(eseries.series(eseries.ESeries[name]))


# Derived from 10^(i/24): the members that the formula misses. The package has the printed ones.
def test_e24_is_not_what_the_formula_gives():
    by_formula = [round(10 * 10 ** (step / 24)) for step in range(24)]

    missed = [member for member in MEMBERS["E24"] if member not in by_formula]
    assert missed == [27, 30, 33, 36, 39, 43, 47, 82]


def test_920_is_the_one_exception_of_e192():
    by_formula = [round(100 * 10 ** (step / 192)) for step in range(192)]

    differ = [pair for pair in zip(MEMBERS["E192"], by_formula, strict=True) if pair[0] != pair[1]]
    assert differ == [(920, 919)]


# Derived: the geometric mean of two neighbours parts them (47 and 68 at 56.53).
@pytest.mark.parametrize(
    ("value", "name", "found"),
    [
        (57, "E6", 68),
        (56.5, "E6", 47),
        (319, "E6", 330),
        (319, "E24", 330),
        (319, "E96", 316),
        (925, "E12", 1000),
        (925, "E24", 910),
        (925, "E96", 931),
        (27_300, "E6", 33_000),
        (27_300, "E24", 27_000),
        (27_300, "E96", 27_400),
    ],
)
def test_the_snap_is_by_ratio(value, name, found):
    assert nearest(value, name) == found


@pytest.mark.parametrize(
    ("ohm", "chosen"),
    [(4700, 4700), (4699, 3900), (1, 1), (0.99, 0.82), (1e6, 1e6), (9.9e5, 8.2e5)],
)
def test_e12_can_be_snapped_downwards(ohm, chosen):
    assert at_most(ohm, "E12") == chosen


@given(values, series)
def test_the_snap_is_idempotent_and_nearest_by_ratio(value, name):
    found = nearest(value, name)

    assert nearest(found, name) == found
    below, above = around(value, name)
    assert below <= value * (1 + 1e-9)
    assert above >= value * (1 - 1e-9)
    off = abs(log(found / value))
    assert off <= abs(log(below / value)) + 1e-12
    assert off <= abs(log(above / value)) + 1e-12


@given(values, series)
def test_no_member_lies_between_the_neighbours(value, name):
    below, above = around(value, name)

    assert between(below * 1.0001, above * 0.9999, name) == []
    assert between(below, above, name) == sorted({below, above})


@given(st.floats(1e-9, 1e9), series)
def test_a_value_a_decade_up_snaps_a_decade_up(value, name):
    assert nearest(10 * value, name) == pytest.approx(10 * nearest(value, name), rel=1e-9)


def test_the_answer_says_when_the_difference_would_choose_otherwise():
    answer = preferred(PreferredIn(57, "E6"))

    assert answer.value.nearest == 68
    assert (answer.value.below, answer.value.above) == (47, 68)
    assert any("47" in text for text in answer.working.disagreements)


def test_a_member_is_its_own_neighbour():
    value = preferred(PreferredIn(4.7e-5, "E12")).value

    assert value.is_member
    assert value.nearest == 4.7e-5
    assert value.off_percent == 0


# The package says 40 % for E3, a handbook "above 20": shown, no figure chosen.
def test_e3_has_no_tolerance_of_its_own():
    answer = preferred(PreferredIn(30, "E3"))

    assert answer.value.tolerance_percent is None
    assert any("40 %" in text for text in answer.working.disagreements)


def test_nothing_has_no_nearest_value():
    with pytest.raises(BadInput, match="value"):
        preferred(PreferredIn(0.0, "E12"))
