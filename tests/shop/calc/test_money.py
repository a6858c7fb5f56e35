"""Money against the official samples of EN 16931 (github.com/ConnectingEurope/eInvoicing-EN16931,
read at commit b6c9e06) and cases worked by hand."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.money import net_within, price_of_time, round_half_away, share_of, totals


def lines(percent, *nets):
    return [(round(net * 100), Fraction(percent)) for net in nets]


# ubl/examples/ubl-tc434-example1.xml: line nets taken as data.
def test_the_first_official_sample_comes_out():
    six = lines(6, 19.90, 9.85, 8.29, 14.46, 35.00, 35.00, 10.65, 1.55, 14.37, 8.29, 16.58, 9.95,
                3.30, 3.90, 102.12, -109.98)  # fmt: skip
    found = totals(six + lines(21, 10.80, 7.60, 9.34, 18.63))

    assert [(g.net_minor, g.tax_minor) for g in found.groups] == [(18323, 1099), (4637, 974)]
    assert (found.net_minor, found.total_minor) == (22960, 25033)


# Example 4 of the same set (DKK).
def test_the_fourth_official_sample_comes_out():
    found = totals(lines(25, 1000, 500) + lines(12, 2500))

    assert [(g.net_minor, g.tax_minor) for g in found.groups] == [(250000, 30000), (150000, 37500)]
    assert found.total_minor == 467500


# cii/examples/huf_example_cii.xml: 27 % of 69 180 is 18 678.60, shown as 18 679 whole forint.
def test_a_currency_shown_in_whole_units_rounds_to_whole_units():
    found = totals([(23440, Fraction(27)), (21389, Fraction(27)), (24351, Fraction(27))])

    assert (found.tax_minor, found.total_minor) == (18679, 87859)


# CII-BR-CO-10-RoundingIssue.xml: the negative mirror sums to exactly nothing.
def test_a_mirror_image_sums_to_nothing():
    found = totals(lines(19, 720.81, -720.81) + lines(0, 0.01, -0.01))

    assert (found.net_minor, found.tax_minor, found.total_minor) == (0, 0, 0)


# Computed: tax per rate, not per line.
def test_tax_is_rounded_once_per_rate():
    assert totals(lines(20, 0.33, 0.33, 0.33)).tax_minor == 20
    assert totals(lines(20, *[1.12] * 10)).tax_minor == 224


# Computed: 0.50, -0.50 and 100.50 at 25 %.
@pytest.mark.parametrize(("minor", "tax"), [(50, 13), (-50, -13), (10050, 2513)])
def test_a_half_goes_away_from_zero(minor, tax):
    assert share_of(minor, Fraction(25)) == tax


@given(st.fractions(max_denominator=1000))
def test_rounding_is_odd_and_never_more_than_a_half_off(value):
    assert round_half_away(-value) == -round_half_away(value)
    assert abs(round_half_away(value) - value) <= Fraction(1, 2)


def test_time_is_priced_by_the_minute():
    assert price_of_time(20, 6000) == 2000
    assert price_of_time(1, 5050) == 84


# The nets are 8.33, 83.32 and 0.04 whether one divides and rounds or takes the largest that fits;
# computed by hand.
@pytest.mark.parametrize(("gross", "net"), [(1000, 833), (9999, 8332), (5, 4), (0, 0)])
def test_an_amount_said_with_tax_is_taken_apart(gross, net):
    assert net_within(gross, Fraction(20)) == net


def test_a_fee_of_35_at_19_percent_is_asked_as_35():
    net = net_within(3500, Fraction(19))

    assert totals([(net, Fraction(19))]).total_minor == 3500


@given(st.integers(0, 10**9), st.fractions(0, 100, max_denominator=1000))
def test_the_net_taken_apart_is_the_largest_that_does_not_exceed_what_was_said(gross, percent):
    net = net_within(gross, percent)

    assert net + share_of(net, percent) <= gross
    assert net + 1 + share_of(net + 1, percent) > gross


@pytest.mark.parametrize(("gross", "percent"), [(-1, 20), (100, -1)])
def test_nothing_below_zero_is_taken_apart(gross, percent):
    with pytest.raises(ValueError, match="below 0"):
        net_within(gross, Fraction(percent))
