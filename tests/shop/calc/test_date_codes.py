"""Years of marks, with published examples."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.date_codes import DateCodeIn, read_parts, week_span, years
from shop.calc.working import BadInput, Outcome


def years_of(text, rule, not_after=2026, introduced=None):
    return [y.year for y in years(DateCodeIn(text, rule, not_after, introduced)).value.years]


# Common practice, no source: a unit built in 1992 whose serial starts with 92.
def test_a_serial_that_begins_with_92_means_1992():
    answer = years(DateCodeIn("920417", "{year2}{any}", 2026))

    assert [year.year for year in answer.value.years] == [1992]
    assert [year.year for year in answer.value.dropped] == [2092]
    assert answer.outcome is Outcome.OK


# Encyclopaedia article on aluminium electrolytic capacitors: "1208" is 2012 week 8, "C5" May 2012.
def test_the_printed_examples_of_iec_60062_come_out():
    numeric = years(DateCodeIn("1208", "{year2}{week}", 2026, 2005)).value
    letters = years(DateCodeIn("C5", "{year_letter}{month_letter}", 2026, 2005)).value

    assert ([y.year for y in numeric.years], numeric.week) == ([2012], 8)
    assert ([y.year for y in letters.years], letters.month) == ([2012], 5)


# The same article: R 2003 S 2004 T 2005 U 2006 V 2007 W 2008 X 2009 A 2010 B 2011 D 2013 E 2014.
def test_the_printed_run_of_year_letters_comes_out():
    for letter, year in zip("RSTUVWXABCDEF", range(2003, 2016), strict=True):
        assert year in years_of(letter, "{year_letter}")


def test_two_surviving_years_are_both_given_and_warned_of():
    answer = years(DateCodeIn("C", "{year_letter}", 2026))

    assert [year.year for year in answer.value.years] == [1972, 1992, 2012]
    assert answer.outcome is Outcome.WARN


def test_the_year_of_the_model_drops_what_is_too_early():
    assert years_of("3", "{year1}", 1999, introduced=1985) == [1983, 1993]
    assert years_of("1", "{year1}", 1999, introduced=1985) == [1991]


def test_october_is_the_letter_and_never_a_zero():
    assert years(DateCodeIn("CO", "{year_letter}{month_letter}", 2026)).value.month == 10
    with pytest.raises(BadInput, match="text"):
        years(DateCodeIn("C0", "{year_letter}{month_letter}", 2026))


@pytest.mark.parametrize(
    ("text", "rule", "code"),
    [
        ("9254", "{year2}{week}", "no_such_week"),
        ("9200", "{year2}{week}", "no_such_week"),
        ("9213", "{year2}{month2}", "no_such_month"),
        ("A92", "{year2}{any}", "rule_does_not_fit"),
        ("92", "{yaer2}", "unknown_part"),
        ("92", "{any}", "unknown_part"),
        ("9292", "{year2}{year2}", "unknown_part"),
        ("9(2", "{year2}(", "rule_does_not_fit"),
    ],
)
def test_a_rule_or_mark_that_cannot_be_read_is_refused(text, rule, code):
    with pytest.raises(BadInput) as refused:
        years(DateCodeIn(text, rule, 2026))

    assert refused.value.code == code


def test_fixed_characters_of_a_rule_stand_for_themselves():
    assert read_parts("SN-92.007", "sn-{year2}.{digits}") == {"year2": "92", "digits": "007"}


@given(st.dates(date(1950, 1, 1), date(2099, 12, 31)))
def test_every_day_lies_in_the_span_of_its_iso_week_and_the_span_is_short(day):
    iso = day.isocalendar()

    first, last = week_span(iso.year, iso.week)

    assert first <= day <= last
    assert last - first < timedelta(days=21)


# liquisearch.com/iso_week_date and docslib.org/doc/11249519: 2006-W52-7 is 2006-12-31, 2020-W01-1
# is 2019-12-30, 1997-W01 runs from 1996-12-30 to 1997-01-05.
@pytest.mark.parametrize(
    ("year", "week", "day"),
    [
        (2006, 52, date(2006, 12, 31)),
        (2020, 1, date(2019, 12, 30)),
        (1997, 1, date(1996, 12, 30)),
        (1997, 1, date(1997, 1, 5)),
    ],
)
def test_published_week_dates_lie_in_their_span(year, week, day):
    first, last = week_span(year, week)

    assert first <= day <= last


def test_a_week_54_is_refused():
    with pytest.raises(BadInput, match="week"):
        week_span(2026, 54)
