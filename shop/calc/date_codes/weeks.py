"""Week numbers on parts: three rules are in use, and the mark does not say which."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Annotated, Final, Literal

import msgspec
from msgspec import Meta

from shop.calc.date_codes.rules import no_such_week
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

WeekRule = Literal["iso", "first_sunday", "holds_new_year"]
RULES: Final[dict[WeekRule, str]] = {
    "iso": gettext_noop("ISO 8601: Monday to Sunday, week 1 holds 4 January"),
    "first_sunday": gettext_noop("EIA-476: Sunday to Saturday, week 1 opens on the first Sunday"),
    "holds_new_year": gettext_noop("Marking note: Sunday to Saturday, week 1 holds 1 January"),
}
Weekday = Annotated[int, Meta(ge=1, le=7)]


class WeekIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A year and a week as marked on a part."""

    year: Annotated[
        int,
        Meta(ge=1920, le=2200, title="Year", description="four digits, 1920 to 2200"),
    ]
    week: Annotated[
        int, Meta(ge=0, le=99, title="Week", description="as marked; no year has more than 53")
    ]
    weekday: Annotated[
        Weekday | None,
        Meta(title="Weekday", description="1 is Monday, 7 Sunday; for an ISO date: 2006-W52-7"),
    ] = None


class RuleSpan(msgspec.Struct, frozen=True):
    """First and last day by one rule; both None where that year has no such week by the rule."""

    rule: WeekRule
    first_day: date | None
    last_day: date | None


class Week(msgspec.Struct, frozen=True):
    """The span of all rules, each rule's own, and the day where a weekday was given."""

    first_day: date
    last_day: date
    rules: list[RuleSpan]
    iso_day: date | None
    iso_weeks_in_year: int


def first_days(year: int) -> dict[WeekRule, date]:
    """The first day of week 1 by each rule."""
    new_year, fourth = date(year, 1, 1), date(year, 1, 4)
    return {
        "iso": fourth - timedelta(days=fourth.weekday()),
        "first_sunday": new_year + timedelta(days=(6 - new_year.weekday()) % 7),
        "holds_new_year": new_year - timedelta(days=(new_year.weekday() + 1) % 7),
    }


def iso_weeks(year: int) -> int:
    """52, or 53 in the 71 of 400 years that have one more. 28 December lies in the last week."""
    return date(year, 12, 28).isocalendar().week


def spans(year: int, week: int) -> list[RuleSpan]:
    """First and last day of a week by each rule. Raises BadInput outside 1 to 53."""
    if not 1 <= week <= 53:
        raise no_such_week("week", week)
    return [_span(rule, year, start, week) for rule, start in first_days(year).items()]


def _span(rule: WeekRule, year: int, start: date, week: int) -> RuleSpan:
    first = start + timedelta(weeks=week - 1)
    last = first + timedelta(days=6)
    is_there = {
        "iso": week <= iso_weeks(year),
        "first_sunday": first.year <= year,
        "holds_new_year": last.year <= year,  # else it is week 1 of the next year
    }
    return RuleSpan(rule, first, last) if is_there[rule] else RuleSpan(rule, None, None)


def week_span(year: int, week: int) -> tuple[date, date]:
    """First and last day a week number can mean, by the three rules printed on parts.

    ISO 8601 (week 1 holds 4 January, from Monday); EIA-476 (week 1 opens on the first Sunday,
    deduced from one example); week 1 holds 1 January (from Sunday; a marking note). About +-1 week.
    A rule by which the year has no week 53 does not count, unless none has one: then a maker has
    counted on. Raises BadInput for a week outside 1 to 53.
    """
    found = spans(year, week)
    starts = [one.first_day for one in found if one.first_day]
    if not starts:
        starts = [start + timedelta(weeks=week - 1) for start in first_days(year).values()]
    return min(starts), max(starts) + timedelta(days=6)


@calculator(
    "date_codes.week",
    "Days a week number on a part can mean",
    question="Between which days was a part with this week number made?",
    # An encyclopaedia article on aluminium electrolytic capacitors: "1208" is 2012, week 8.
    example={"year": 2012, "week": 8},
)
def week(given: WeekIn) -> Answer[Week]:
    """The span of the three rules. Raises BadInput (no_such_week) for a week 0 or above 53.

    Source: ISO 8601; EIA-476 by its association's example; a vendor's marking note.
    """
    given = fit(given)
    first, last = week_span(given.year, given.week)
    rules = spans(given.year, given.week)
    day = _iso_day(given, rules[0])
    text = _(
        "{year} week {week} lies between {first} and {last}.",
        year=given.year,
        week=given.week,
        first=first.isoformat(),
        last=last.isoformat(),
    )
    lines = [Line(_(RULES[one.rule]), _("week 1 + {n} weeks", n=given.week - 1), _said(one))
             for one in rules]  # fmt: skip
    if day:
        written = f"{given.year}-W{given.week:02d}-{given.weekday}"
        lines.append(Line(written, "ISO 8601", day.isoformat()))
    value = Week(first, last, rules, day, iso_weeks(given.year))
    is_known = any(one.first_day for one in rules)
    working = Working(lines, SOURCES, _cautions(is_known), _disagreements())
    return Answer(Outcome.OK if is_known else Outcome.WARN, text, value, working)


def _iso_day(given: WeekIn, iso: RuleSpan) -> date | None:
    """The day of an ISO week date; a week 53 that the year does not have has no days."""
    if given.weekday is None:
        return None
    if iso.first_day is None:
        reason = _("{year} has no week {week} by ISO 8601.", year=given.year, week=given.week)
        raise BadInput("week", reason, "no_such_week")
    return iso.first_day + timedelta(days=given.weekday - 1)


def _said(span: RuleSpan) -> str:
    if span.first_day is None or span.last_day is None:
        return _("no such week in this year")
    return _("{first} to {last}", first=span.first_day.isoformat(), last=span.last_day.isoformat())


def _cautions(is_known: bool) -> list[str]:
    usual = [_("A part dates the earliest possible assembly; allow months of stock time.")]
    if is_known:
        return usual
    return [_("By no rule has this year a week 53: read the mark again."), *usual]


def _disagreements() -> list[str]:
    return [
        _("Three rules for week 1 are printed on parts; a week number alone is about ±1 week."),
        _("The EIA rule is deduced from one example, which would also fit a first week of four "
          "or more days; its own table of weeks was not seen."),
    ]  # fmt: skip


class DayIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A day."""

    day: Annotated[date, Meta(title="Day", description="1920-01-01 to 2200-12-31")]


class DayWeek(msgspec.Struct, frozen=True):
    """Year and week by one rule. Week 0 lies before the first Sunday of the year."""

    rule: WeekRule
    year: int
    week: int


class DayWeeks(msgspec.Struct, frozen=True):
    """The week of a day by each rule, and its ISO week date as written: 2006-W52-7."""

    weeks: list[DayWeek]
    iso_written: str


@calculator(
    "date_codes.week_of_day",
    "Week numbers of a day",
    question="Which week numbers can a part made on this day carry?",
    example={"day": "2006-12-31"},  # 2006-W52-7, liquisearch.com/iso_week_date
)
def week_of_day(given: DayIn) -> Answer[DayWeeks]:
    """The week number by ISO 8601 and by the two other rules. Raises BadInput (out_of_range).

    Source: ISO 8601; EIA-476 by its association's example; a vendor's marking note.
    """
    given = fit(given)
    if not 1920 <= given.day.year <= 2200:
        reason = _("Only days from 1920 to 2200 are looked up.")
        raise BadInput("day", reason, "out_of_range")
    weeks = weeks_of(given.day)
    written = f"{weeks[0].year}-W{weeks[0].week:02d}-{given.day.isoweekday()}"
    text = _("{day} is {iso} by ISO 8601.", day=given.day.isoformat(), iso=written)
    lines = [Line(_(RULES[one.rule]), _("whole weeks since week 1, + 1"),
                  _("{year} week {week}", year=one.year, week=one.week))
             for one in weeks]  # fmt: skip
    value = DayWeeks(weeks, written)
    return Answer(Outcome.OK, text, value, Working(lines, SOURCES, [], _disagreements()))


def weeks_of(day: date) -> list[DayWeek]:
    """Year and week of a day by each rule."""
    iso = day.isocalendar()
    sunday = (day - first_days(day.year)["first_sunday"]).days // 7 + 1
    next_week_1 = first_days(day.year + 1)["holds_new_year"]
    year = day.year + 1 if day >= next_week_1 else day.year
    holding = (day - first_days(year)["holds_new_year"]).days // 7 + 1
    return [
        DayWeek("iso", iso.year, iso.week),
        DayWeek("first_sunday", day.year, sunday),
        DayWeek("holds_new_year", year, holding),
    ]


SOURCES: Final = [
    Source("ISO week: from Monday, week 1 holds 4 January", Status.SECOND_HAND,
           "ISO 8601 as quoted at docslib.org/doc/11249519 and liquisearch.com/iso_week_date"),
    Source("EIA-476 weeks run Sunday to Saturday; where week 1 begins is deduced",
           Status.SECOND_HAND, "ecianow.org/eia-source-codes"),
    Source("week 1 holds 1 January", Status.SECOND_HAND,
           "a vendor's note on the marking of IC packages"),
    Source("all three rules taken together as one span", Status.PROPOSED),
]  # fmt: skip
