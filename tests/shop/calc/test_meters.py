"""What a meter may be trusted with: accuracy, category, interval; and how its digits are shown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from quantiphy import Quantity as Oracle

from shop.calc.judging import Accuracy
from shop.calc.quantities import RULES, Quantity
from shop.calc.readings import (
    AccuracyIn,
    CategoryIn,
    FormatIn,
    IntervalIn,
    accuracy,
    calibration_interval,
    category,
    format_,
    parse_reading,
)
from shop.calc.readings.category import TESTS
from shop.calc.working import BadInput, Outcome

VOLT = Quantity.VOLTAGE_DC


# Two published guides to meter specifications, second-hand: 2.000 V on 0.08 % + 2 counts of 1 mV;
# 100.0 V on 1 % + 2 counts of 0.1 V.
@pytest.mark.parametrize(
    ("value", "spec", "limit", "low", "high"),
    [
        (2.0, Accuracy(0.08, 2, 0.001), 0.0036, 1.9964, 2.0036),
        (100.0, Accuracy(1.0, 2, 0.1), 1.2, 98.8, 101.2),
    ],
)
def test_published_specifications_give_the_printed_band(value, spec, limit, low, high):
    band = accuracy(AccuracyIn(value, VOLT, spec)).value

    assert (band.limit, band.low, band.high) == pytest.approx((limit, low, high))
    # From memory: JCGM 100:2008 4.3.7, a limit is taken as rectangular.
    assert band.standard_uncertainty == pytest.approx(limit / 3**0.5)
    assert band.expanded_uncertainty == pytest.approx(2 * limit / 3**0.5)


# An instrument's service manual, second-hand: 7.0 V with a limit of 7.000750 V and an uncertainty
# of 11.5 µV is 65 : 1; at least 4 : 1 was demanded by MIL-STD-45662A.
def test_the_published_test_accuracy_ratio_comes_out():
    spec = Accuracy(0, 1, 11.5e-6)

    answer = accuracy(AccuracyIn(7.0, VOLT, spec, permitted_error=0.000750))

    assert answer.value.test_accuracy_ratio == pytest.approx(65, abs=0.3)
    assert answer.outcome is Outcome.OK


def test_a_ratio_below_four_and_a_reading_below_its_error_are_warned_of():
    few = accuracy(AccuracyIn(5.0, VOLT, Accuracy(1, 0, 0.01), permitted_error=0.15))
    lost = accuracy(AccuracyIn(0.001, VOLT, Accuracy(1, 5, 0.001)))

    assert few.outcome is lost.outcome is Outcome.WARN


def test_a_perfect_meter_has_no_ratio():
    band = accuracy(AccuracyIn(5.0, VOLT, Accuracy(5e-324, 0, 0), permitted_error=1.0)).value

    assert band.test_accuracy_ratio is None


# A published guide to meter specifications, second-hand: 0.2 to 0.5 ohm of leads are subtracted.
def test_low_ohms_are_told_to_subtract_the_leads():
    low = accuracy(AccuracyIn(4.7, Quantity.RESISTANCE, Accuracy(0.5, 2, 0.1)))
    high = accuracy(AccuracyIn(4700, Quantity.RESISTANCE, Accuracy(0.5, 2, 1)))

    assert any("0.2 to 0.5 ohm" in text for text in low.working.cautions)
    assert not high.working.cautions


# IEC 61010-2-030 as quoted in a meter's manual at manualshive.com (second-hand).
def test_the_table_of_impulses_and_five_second_tests_is_as_quoted():
    cells = {
        row: [test for pair in tests.values() for test in pair] for row, tests in TESTS.items()
    }

    assert cells == {
        150: [1550, 840, 2500, 1390, 4000, 2210],
        300: [2500, 1390, 4000, 2210, 6000, 3310],
        600: [4000, 2210, 6000, 3310, 8000, 4260],
        1000: [6000, 3310, 8000, 4260, 12000, 6600],
    }


# The same manual: a 600 V CAT II device passed 2210 V for 5 s and 4000 V impulse.
def test_the_device_of_the_manual_may_be_used_on_an_appliance_and_not_in_a_board():
    bench = category(CategoryIn("socket_or_appliance", 230, "cat_ii", 600))
    board = category(CategoryIn("building_wiring", 230, "cat_ii", 600))

    assert (bench.value.impulse_volt, bench.value.test_5_s_volt) == (4000, 2210)
    assert (bench.outcome, bench.value.needed_volt) == (Outcome.OK, 300)
    assert (board.outcome, board.value.may_connect) == (Outcome.REFUSE, False)


# Two meters' manuals (second-hand): no category means not on the mains.
@pytest.mark.parametrize(
    ("place", "volt", "has", "rated", "may"),
    [
        ("socket_or_appliance", 230, "none", 1000, False),
        ("behind_transformer", 48, "none", 60, True),
        ("behind_transformer", 450, "none", 300, False),
        ("socket_or_appliance", 325, "cat_iii", 300, False),
        ("building_wiring", 230, "cat_iii", 300, True),
        ("origin", 230, "cat_iii", 1000, False),
        ("origin", 230, "cat_iv", 300, True),
        ("socket_or_appliance", 300, "cat_ii", 300, True),
    ],
)
def test_a_meter_may_be_connected_where_category_and_voltage_reach(place, volt, has, rated, may):
    answer = category(CategoryIn(place, volt, has, rated))

    assert answer.value.may_connect is may
    assert (answer.outcome is Outcome.REFUSE) is not may


def test_a_category_without_its_voltage_is_refused_at_the_field():
    with pytest.raises(BadInput) as refused:
        category(CategoryIn("socket_or_appliance", 120, "cat_ii", 100))

    assert refused.value.field == "meter_volt"


# Proposed here, after the staircase method of ILAC-G24:2022 / OIML D 10:2022, 6.2 (from memory).
@pytest.mark.parametrize(
    ("checks", "present", "months", "recheck"),
    [
        ([], 12, 12, False),
        ([50], 12, 12, False),
        ([79, 80], 12, 18, False),
        ([79, 81], 12, 12, False),
        ([10, 10], 30, 36, False),
        ([10, 101], 12, 6, True),
        ([101], 1.5, 1, True),
        ([150, 50, 60], 12, 18, False),
    ],
)
def test_the_interval_grows_with_two_good_checks_and_halves_with_a_failed_one(
    checks, present, months, recheck
):
    value = calibration_interval(IntervalIn(checks, present)).value

    assert (value.next_months, value.recheck_jobs) == (months, recheck)


def shown(value, quantity=VOLT, **how):
    return format_(FormatIn(value, quantity, **how)).value.shown


# By hand: a 5 V range of 1 mV a count shows 2.000 V, and so on.
@pytest.mark.parametrize(
    ("value", "resolution", "text"),
    [
        (2.0, 0.001, "2.000 V"), (0.0036, 1e-5, "3.60 mV"), (230.04, 0.1, "230.0 V"),
        (0.9996, 0.001, "1.000 V"), (12345.0, 100, "12.3 kV"), (0.0, 0.1, "0.0 V"),
        (7.3, 0.5, "7.5 V"), (49.0, 100, "0.0 kV"), (-0.05, 0.1, "-0.1 V"),
    ],
)  # fmt: skip
def test_every_digit_of_the_meter_is_shown(value, resolution, text):
    assert shown(value, resolution=resolution) == text


# PyPI package quantiphy 2.23 as oracle: same digits, same prefix. From 1 mohm on: below it the
# library goes on to micro, which no ohmmeter shows.
@given(st.floats(1e-3, 9.9e8), st.integers(2, 8))
def test_prefix_and_digits_agree_with_a_library(value, digits):
    ours = shown(value, Quantity.RESISTANCE, digits=digits)

    theirs = Oracle(value, "Ω").render(prec=digits - 1, form="si")

    assert float(Oracle(ours)) == pytest.approx(float(Oracle(theirs)), rel=10.0 ** (1 - digits))
    assert ours.partition(" ")[2] == theirs.partition(" ")[2]


quantities = st.sampled_from([q for q in Quantity if q is not Quantity.COUNT])


@given(st.data(), quantities, st.integers(-9, 3))
def test_what_is_shown_in_counts_reads_back_as_those_counts(data, quantity, power):
    rule = RULES[quantity]
    count = data.draw(st.integers(0, 60_000))
    resolution = float(f"1e{power}")
    value = float(f"{count}e{power}")
    if not rule.lowest <= value <= rule.highest:
        return

    answer = format_(FormatIn(value, quantity, resolution=resolution))

    again = parse_reading(answer.value.shown, quantity)
    assert again.text == answer.value.text
    assert again.si == value


@given(st.floats(1e-12, 9e4), st.integers(1, 15))
def test_what_is_shown_in_digits_reads_back_as_what_is_said_to_be_shown(value, digits):
    answer = format_(FormatIn(value, VOLT, digits=digits))

    assert parse_reading(answer.value.shown, VOLT).text == answer.value.text


def test_digits_and_counts_together_are_refused():
    with pytest.raises(BadInput) as refused:
        format_(FormatIn(1.0, VOLT, 3, 0.1))

    assert refused.value.code == "both_given"


def test_what_cannot_be_is_refused_when_shown_too():
    with pytest.raises(BadInput) as refused:
        format_(FormatIn(-1.0, Quantity.RESISTANCE))

    assert (refused.value.field, refused.value.code) == ("value", "negative")
