"""Date marks on parts: evidence from the unit, rules of model sheets, marks without a rule."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.date_codes import DateCodeIn, DateMarkIn, part, read_parts, years
from shop.calc.date_codes.rules import MONTH_LETTERS, YEAR_LETTERS
from shop.calc.working import BadInput, Outcome

LETTERS = "{year_letter}{month_letter}"


def read(text, rule, not_after=2026, introduced=None, **known):
    return years(DateCodeIn(text, rule, not_after, introduced, **known)).value


def listed(found):
    return [year.year for year in found]


# From memory: IEC 60062, 20 letters without G I O Q Y Z; A = 1970, 1990, 2010, X = 1989, 2009,
# 2029. 2016 to 2023 follow from the cycle (computed).
def test_the_whole_cycle_of_letters_comes_round_every_20_years():
    for letter, year in zip("ABCDEFHJKLMNPRSTUVWX", range(1970, 1990), strict=True):
        assert listed(read(letter, "{year_letter}", 2029).years) == [year, year + 20, year + 40]
    for letter, year in zip("HJKLMNPR", range(2016, 2024), strict=True):
        assert year in listed(read(letter, "{year_letter}").years)


@pytest.mark.parametrize("letter", "GIOQYZ")
def test_letters_outside_the_cycle_are_no_year(letter):
    with pytest.raises(BadInput) as refused:
        read(letter, "{year_letter}")

    assert refused.value.code == "rule_does_not_fit"


# Second-hand: months 1 to 9, O, N, D, an encyclopaedia article on capacitors.
def test_the_twelve_month_letters_give_the_days_of_their_month():
    for month, letter in enumerate(MONTH_LETTERS, 1):
        (year,) = read(f"C{letter}", LETTERS, introduced=2005).years
        assert (year.first_day, year.last_day.month) == (date(2012, month, 1), month)


# Negative case, ecianow.org/eia-source-codes: one example there says "00 for 2000 … 99 for 1999"
# beside codes of the year before; two digits are read by the century that survives, both ends.
def test_00_is_2000_and_99_is_1999_while_neither_century_is_left_out_unseen():
    assert listed(read("0012", "{year2}{week}").years) == [2000]
    assert listed(read("9912", "{year2}{week}").years) == [1999]
    assert listed(read("9912", "{year2}{week}").dropped) == [2099]


def test_each_bound_drops_with_its_own_reason():
    value = read("3", "{year1}", 2010, 1985, part_made_from=1990)

    assert listed(value.years) == [1993, 2003]
    reasons = {year.year: year.reason for year in value.dropped}
    assert "1990" in reasons[1983]
    assert "3 years before" in reasons[1973]
    assert "after the repair" in reasons[2013]


def test_a_week_after_the_day_of_the_repair_is_dropped():
    value = read("2647", "{year2}{week}", introduced=1980, repaired_on=date(2026, 11, 10))

    assert not value.years
    assert read("2645", "{year2}{week}", repaired_on=date(2026, 11, 10)).years


def test_the_other_parts_point_to_a_year_and_never_pick_it():
    answer = years(DateCodeIn("C5", LETTERS, 2026, other_parts=[1991, 1992, 1994]))

    agreeing = {year.year: year.agrees for year in answer.value.years}
    assert agreeing == {1972: False, 1992: True, 2012: False}
    assert answer.outcome is Outcome.WARN


def test_a_part_later_than_its_unit_tells_of_a_repair_and_a_stamp_backs_it():
    (year,) = read("0008", "{year2}{week}", unit_made=1992, service_stamps=[2000]).years

    assert "earlier repair" in year.reason
    assert "serviced" in year.reason


# Rules as a shop may write them on a model sheet; made-up serials.
@pytest.mark.parametrize(
    ("text", "rule", "year", "days"),
    [
        ("E40112", "{year_letters:1981:ABCDEFGHJK}{digits}", 1985, None),
        ("H31234", "{month_letters:ABCDEFGHJKLM}{year1}{digits:4}", 1983, (8, 8)),
        ("19920417-3", "{year4}{month2}{day2}-{digits}", 1992, (4, 4)),
        ("SN92108", "SN{year2}{day3}", 1992, (4, 4)),
        ("AB-1992", "{letter}{letter}-{year4}", 1992, None),
        ("0012349215", "{digits:6}{year2}{week}", 1992, (4, 4)),
    ],
)
def test_rules_of_model_sheets_are_read(text, rule, year, days):
    (found,) = read(text, rule, 1992 if "year4" not in rule else 2026, 1980).years

    assert found.year == year
    if days:
        assert (found.first_day.month, found.last_day.month) == days


# ISO 8601:2000, 5.2.3.3, the page itself at webaugur.com/bibliotheca (154N362): YY-Www-D, and with
# one digit of the year -Y-Www-D; later editions dropped them (from memory). The dates as published.
@pytest.mark.parametrize(
    ("text", "rule", "day"),
    [
        ("06-W52-7", "{year2}-W{week}-{weekday}", date(2006, 12, 31)),
        ("-5-W03-6", "-{year1}-W{week}-{weekday}", date(1995, 1, 21)),
    ],
)
def test_truncated_iso_week_dates_are_read_to_the_day(text, rule, day):
    (found,) = read(text, rule, day.year, day.year - 1).years

    assert (found.first_day, found.last_day) == (day, day)


def test_a_weekday_of_a_week_53_drops_the_years_without_one():
    value = read("3-W53-5", "{year1}-W{week}-{weekday}", 2026, 1960)

    assert not value.years
    assert "no such day" in next(one.reason for one in value.dropped if one.year == 2013)


def test_a_day_that_a_year_does_not_have_drops_the_year():
    value = read("2366", "{year1}{day3}", 2026, 1985)

    assert listed(value.years) == [1992, 2012]
    assert "no such day" in next(year.reason for year in value.dropped if year.year == 2002)


@pytest.mark.parametrize(
    "rule",
    [
        "{year2}{digits}{digits}",
        "{year2}{any}{any}",
        "{year2}{digits:0}",
        "{year2}{week:3}",
        "{year_letters}",
        "{year_letters:81:ABC}",
        "{month_letters:ABC}{year2}",
        "{year2}{day2}",
        "{year2}{weekday}",
    ],
)
def test_a_rule_that_cannot_be_used_says_so(rule):
    with pytest.raises(BadInput) as refused:
        read_parts("92", rule)

    assert (refused.value.field, refused.value.code) == ("rule", "unknown_part")


def test_parts_of_fixed_length_may_stand_twice():
    assert read_parts("12-92-34", "{digits:2}-{year2}-{digits:2}") == {
        "digits": "12", "year2": "92", "digits_2": "34",
    }  # fmt: skip


@given(st.integers(1970, 2026), st.integers(1, 12))
def test_a_mark_made_by_the_cycle_is_read_as_its_year_and_month(year, month):
    mark = YEAR_LETTERS[(year - 1970) % 20] + MONTH_LETTERS[month - 1]

    value = read(mark, LETTERS)

    assert year in listed(value.years)
    assert value.month == month


def ways_of(mark, **known):
    return part(DateMarkIn(mark=mark, not_after=2026, **known)).value.ways


# "1208" is 2012 week 8, "C5" May 2012: encyclopaedia article on capacitors (second-hand).
def test_the_published_marks_are_among_the_ways():
    (letters,) = ways_of("C5", introduced=2005)
    week_8 = next(way for way in ways_of("1208", introduced=2005) if way.week == 8)

    assert (listed(letters.years), letters.month) == ([2012], 5)
    assert listed(week_8.years) == [2012]


# Source code, year digit, week: six digits (raumtelecom.ru/14086dating, a collectors' page);
# source code, two year digits, week: ecianow.org/eia-source-codes. Made-up source codes.
def test_source_codes_of_three_and_four_digits_are_tried():
    six = ways_of("999634", introduced=1955)
    seven = {(way.rule, *listed(way.years), way.week) for way in ways_of("9996334")}

    assert any(1956 in listed(way.years) and way.week == 34 for way in six)
    assert ("{digits:3}{year2}{week}", 1963, 34) in seven


def test_a_mark_that_is_no_date_gets_no_answer():
    answer = part(DateMarkIn(mark="QQ", not_after=2026))

    assert answer.outcome is Outcome.NO_ANSWER


def test_one_meaning_only_is_sure():
    assert part(DateMarkIn(mark="C5", not_after=2026, introduced=2005)).outcome is Outcome.OK
    assert part(DateMarkIn(mark="1208", not_after=2026)).outcome is Outcome.WARN
