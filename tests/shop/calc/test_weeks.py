"""Week numbers on parts, against published week dates and the calendar of the standard library."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.date_codes import DayIn, WeekIn, week, week_of_day, week_span
from shop.calc.date_codes.weeks import first_days, iso_weeks, spans, weeks_of
from shop.calc.working import BadInput, Outcome

days = st.dates(date(1920, 1, 1), date(2200, 12, 31))


# Second-hand: docslib.org/doc/11249519 and liquisearch.com/iso_week_date (2006-W52-7, 2020-W01-1),
# wikisum.wiki/wiki/ISO_8601_week_notation (1995-W03-6; its day computed).
@pytest.mark.parametrize(
    ("year", "number", "weekday", "day"),
    [
        (2006, 52, 7, date(2006, 12, 31)),
        (2020, 1, 1, date(2019, 12, 30)),
        (1995, 3, 6, date(1995, 1, 21)),
        (1997, 1, 1, date(1996, 12, 30)),
        (1997, 1, 7, date(1997, 1, 5)),
    ],
)
def test_published_iso_week_dates_are_found_both_ways(year, number, weekday, day):
    value = week(WeekIn(year, number, weekday)).value

    assert value.iso_day == day
    written = week_of_day(DayIn(day)).value.iso_written
    assert written == f"{year}-W{number:02d}-{weekday}"


# Computed; "71 of 400 years" is printed at liquisearch.com/iso_week_date.
def test_the_years_with_a_week_53_are_the_published_ones():
    listed = [1953, 1959, 1964, 1970, 1976, 1981, 1987, 1992, 1998, 2004, 2009, 2015, 2020, 2026]

    assert [year for year in range(1950, 2031) if iso_weeks(year) == 53] == listed
    assert sum(iso_weeks(year) == 53 for year in range(1920, 2320)) == 71


# Verified at docslib.org/doc/11249519: 1 January on Friday to Sunday is of the year before.
@given(st.integers(1921, 2199))
def test_new_year_is_in_week_1_from_monday_to_thursday_only(year):
    new_year = date(year, 1, 1)

    iso = weeks_of(new_year)[0]

    assert (iso.week == 1) == (new_year.weekday() <= 3)
    assert iso.week in {1, 52, 53}


# The association's weeks run Sunday to Saturday; ecianow.org/eia-source-codes (second-hand), equal
# to %U of the C library (computed). Week 1 holds 1 January: a package marking note, second-hand.
@given(days)
def test_the_rules_agree_with_the_formats_of_the_standard_library(day):
    iso, sunday, holding = weeks_of(day)

    assert (iso.year, iso.week) == tuple(int(n) for n in day.strftime("%G %V").split())
    assert sunday.week == int(day.strftime("%U"))
    assert 1 <= holding.week <= 54
    assert holding.year in {day.year, day.year + 1}


@given(days)
def test_a_day_lies_in_the_span_of_each_of_its_week_numbers(day):
    for one in weeks_of(day):
        if 1 <= one.week <= 53:
            first, last = week_span(one.year, one.week)
            assert first <= day <= last


@given(st.integers(1921, 2199), st.integers(1, 53))
def test_the_span_is_about_one_week_either_way_and_holds_every_rule(year, number):
    first, last = week_span(year, number)

    assert timedelta(days=6) <= last - first <= timedelta(days=20)
    for span in spans(year, number):
        if span.first_day and span.last_day:
            assert first <= span.first_day <= span.last_day <= last


def test_week_1_by_the_three_rules_of_a_year_that_begins_on_a_friday():
    assert first_days(2021) == {
        "iso": date(2021, 1, 4),
        "first_sunday": date(2021, 1, 3),
        "holds_new_year": date(2020, 12, 27),
    }


@pytest.mark.parametrize("number", [0, 54, 99])
def test_a_week_that_no_year_has_is_refused(number):
    with pytest.raises(BadInput) as refused:
        week(WeekIn(2012, number))

    assert (refused.value.code, refused.value.field) == ("no_such_week", "week")


def test_a_week_53_that_no_rule_knows_is_warned_of():
    answer = week(WeekIn(2013, 53))

    assert answer.outcome is Outcome.WARN
    assert all(span.first_day is None for span in answer.value.rules)
    with pytest.raises(BadInput):
        week(WeekIn(2013, 53, 1))


def test_the_doubts_about_the_rules_are_shown():
    working = week(WeekIn(2012, 8)).working

    assert any("EIA" in text for text in working.disagreements)
    assert len(working.lines) == 3


def test_days_far_away_are_refused():
    with pytest.raises(BadInput):
        week_of_day(DayIn(date(1919, 12, 31)))
