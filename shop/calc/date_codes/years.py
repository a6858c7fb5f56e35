"""Every year a mark can mean, with the reason why it stays or goes."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta
from statistics import median
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.date_codes.rules import (
    FIRST_YEAR,
    When,
    parts_of,
    possible_years,
    read_rule,
    when_of,
)
from shop.calc.date_codes.weeks import first_days, iso_weeks, week_span
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

BEFORE_INTRODUCTION: Final = 3
AGREES_WITHIN: Final = 2
CalendarYear = Annotated[int, Meta(ge=1900, le=2200)]
NotAfter = Annotated[
    int, Meta(ge=1920, le=2200, title="Year of the repair", description="1920 to 2200")
]
Introduced = Annotated[
    CalendarYear | None,
    Meta(title="Model came out in", description="year, 1900 to 2200; left out if not known"),
]


class Evidence(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What else is known about the unit and the part; all of it may be left out."""

    repaired_on: Annotated[
        date | None, Meta(title="Day of the repair", description="drops what was made after it")
    ] = None
    part_made_from: Annotated[
        CalendarYear | None,
        Meta(title="Parts like this since", description="year the part family was first made"),
    ] = None
    unit_made: Annotated[
        CalendarYear | None,
        Meta(title="Unit made in", description="year by its serial; later parts tell of a repair"),
    ] = None
    other_parts: Annotated[
        list[CalendarYear],
        Meta(
            max_length=50,
            title="Years on other parts",
            description="of the same unit; their median counts, within 2 years",
        ),
    ] = []
    service_stamps: Annotated[
        list[CalendarYear],
        Meta(max_length=50, title="Years of service", description="stamps and notes inside"),
    ] = []


class DateCodeIn(Evidence, frozen=True, forbid_unknown_fields=True):
    """The mark, the rule by which it is read, and what bounds the years."""

    text: Annotated[
        str, Meta(min_length=1, max_length=40, title="Mark", description="as it stands there")
    ]
    rule: Annotated[
        str,
        Meta(
            min_length=1,
            max_length=80,
            title="Rule",
            description="how the mark is built: for 92… with the year in front {year2}{any}. "
            "Fixed characters, and parts in braces: {year4} {year2} {year1} "
            "{year_letter} {year_letters:1981:ABC} {week} {weekday} {month2} {month_letter} "
            "{month_letters:ABCDEFGHJKLM} {day2} {day3} {digits} {digits:4} {letter} {any} {any:2}",
            examples=["{year2}{any}"],
        ),
    ]
    not_after: NotAfter
    introduced: Introduced = None


class Year(msgspec.Struct, frozen=True):
    """A year with the reason why it stays or goes, and the days it can mean.

    `agrees`: within 2 years of the median of the other dated parts; None without any.
    """

    year: int
    reason: str
    first_day: date | None = None
    last_day: date | None = None
    agrees: bool | None = None


class DateCode(msgspec.Struct, frozen=True):
    """Surviving years, those dropped, and the week or month if the rule has one."""

    years: list[Year]
    dropped: list[Year]
    week: int | None
    month: int | None


@calculator(
    "date_codes.years",
    "Years a serial number or mark can mean",
    question="In which years can this have been made?",
    # An encyclopaedia article on aluminium electrolytic capacitors: "C5" is May 2012.
    example={
        "text": "C5",
        "rule": "{year_letter}{month_letter}",
        "not_after": 2026,
        "introduced": 2005,
    },
)
def years(given: DateCodeIn) -> Answer[DateCode]:
    """Every year that fits. Raises BadInput for a rule or a mark that cannot be read.

    Source: common practice, no source; the rule is the model sheet's own.
    """
    given = fit(given)
    value = read_mark(given.text, given.rule, given, given.not_after, given.introduced)
    stay = value.years
    outcome = Outcome.OK if len(stay) == 1 else Outcome.WARN if stay else Outcome.NO_ANSWER
    lines = [Line(str(one.year), given.rule, one.reason) for one in stay + value.dropped]
    cautions = [_("A part dates the earliest possible assembly; a later one tells of a repair.")]
    return Answer(outcome, in_words(stay), value, Working(lines, SOURCES, cautions))


def in_words(stay: list[Year]) -> str:
    """The surviving years as a sentence; where several survive, a person decides."""
    if not stay:
        return _("No year fits.")
    listed = ", ".join(str(one.year) for one in stay)
    if len(stay) > 1:
        return _("{years}: all of them fit, a person decides.", years=listed)
    first, last = stay[0].first_day, stay[0].last_day
    if first is None or last is None or (last - first).days > 360:
        return _("Made in {year}.", year=listed)
    days = f"{first.isoformat()} … {last.isoformat()}"
    return _("Made in {year}: {days}.", year=listed, days=days)


def read_mark(
    text: str, written: str, known: Evidence, not_after: int, introduced: int | None
) -> DateCode:
    """What a mark means by one rule. Raises BadInput where either cannot be read."""
    rule = read_rule(written)
    parts = parts_of(text.strip().upper(), rule)
    when = when_of(parts, rule)
    stay: list[Year] = []
    dropped: list[Year] = []
    for year in possible_years(parts, rule, not_after):
        days = days_meant(year, when) if FIRST_YEAR <= year <= not_after else None
        why_not = _out_of_bounds(year, known, not_after, introduced) or _no_such_day(days, known)
        if why_not:
            dropped.append(Year(year, why_not))
        else:
            stay.append(_surviving(year, days, known, introduced))
    return DateCode(stay, dropped, when.week, when.month)


def days_meant(year: int, when: When) -> tuple[date, date] | None:
    """First and last day meant in a year; None for a day that the year does not have."""
    if when.weekday is not None and when.week is not None:
        exact = first_days(year)["iso"] + timedelta(weeks=when.week - 1, days=when.weekday - 1)
        return (exact, exact) if when.week <= iso_weeks(year) else None
    if when.week is not None:
        return week_span(year, when.week)
    first, last = date(year, 1, 1), date(year, 12, 31)
    if when.month:
        last = date(year, when.month, monthrange(year, when.month)[1])
        first = last.replace(day=1)
    if when.day is None:
        return first, last
    exact = first + timedelta(days=when.day - 1)
    return (exact, exact) if when.day >= 1 and exact <= last else None


def _out_of_bounds(
    year: int, known: Evidence, not_after: int, introduced: int | None
) -> str | None:
    if year < FIRST_YEAR:
        return _("before {year}", year=FIRST_YEAR)
    if year > not_after:
        return _("after the repair")
    if introduced is not None and year < introduced - BEFORE_INTRODUCTION:
        return _("more than {n} years before the model came out", n=BEFORE_INTRODUCTION)
    if known.part_made_from is not None and year < known.part_made_from:
        return _("parts like this were first made in {year}", year=known.part_made_from)
    return None


def _no_such_day(days: tuple[date, date] | None, known: Evidence) -> str | None:
    if days is None:
        return _("this year has no such day")
    if known.repaired_on is not None and days[0] > known.repaired_on:
        return _("after the repair")
    return None


def _surviving(
    year: int, days: tuple[date, date] | None, known: Evidence, introduced: int | None
) -> Year:
    first, last = days or (None, None)
    agrees = abs(year - median(known.other_parts)) <= AGREES_WITHIN if known.other_parts else None
    return Year(year, _why(year, known, introduced, agrees), first, last, agrees)


def _why(year: int, known: Evidence, introduced: int | None, agrees: bool | None) -> str:
    reasons = [_("not after the repair")]
    if introduced is not None:
        reasons.append(_("the model came out in {year}", year=introduced))
    if agrees is not None:
        middle = f"{median(known.other_parts):g}"
        says = _("agrees with the other parts (median {year})", year=middle)
        differs = _("far from the other parts (median {year})", year=middle)
        reasons.append(says if agrees else differs)
    if year in known.service_stamps:
        reasons.append(_("the unit was serviced in that year"))
    if known.unit_made is not None and year > known.unit_made:
        reasons.append(_("later than the unit of {year}: an earlier repair", year=known.unit_made))
    return ", ".join(reasons)


SOURCES: Final = [
    Source("year letters of a 20-year cycle, 2003 to 2015 seen", Status.SECOND_HAND,
           "IEC 60062 as quoted in an encyclopaedia article on capacitors"),
    Source("the full cycle of letters", Status.FROM_MEMORY, "IEC 60062"),
    Source("YYWW on parts", Status.SECOND_HAND, "ecianow.org/eia-source-codes (EIA-476)"),
    Source("not more than 3 years before the model came out; other parts within 2 years",
           Status.PROPOSED),
    Source("a serial that begins with the year of making", Status.COMMON_PRACTICE),
]  # fmt: skip
