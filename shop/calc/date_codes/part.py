"""A date mark on a part without knowing the rule: every way in which it can be read."""

from __future__ import annotations

from contextlib import suppress
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.date_codes.years import (
    DateCode,
    Evidence,
    Introduced,
    NotAfter,
    Year,
    read_mark,
)
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# Each way, and the rule it is read by. The first four are published, the rest is habit.
WAYS: Final = (
    (gettext_noop("year letter and month, 20-year cycle"), "{year_letter}{month_letter}"),
    (gettext_noop("year digit and month, 10-year cycle"), "{year1}{month_letter}"),
    (gettext_noop("year and week"), "{year2}{week}"),
    (gettext_noop("year digit and week"), "{year1}{week}"),
    (gettext_noop("source code, year and week"), "{digits:3}{year2}{week}"),
    (gettext_noop("source code, year and week"), "{digits:4}{year2}{week}"),
    (gettext_noop("source code, year digit and week"), "{digits:3}{year1}{week}"),
    (gettext_noop("source code, year digit and week"), "{digits:4}{year1}{week}"),
    (gettext_noop("week and year"), "{week}{year2}"),
    (gettext_noop("year and month"), "{year2}{month2}"),
    (gettext_noop("month and year"), "{month2}{year2}"),
)


class DateMarkIn(Evidence, frozen=True, forbid_unknown_fields=True):
    """The mark, and what bounds the years."""

    mark: Annotated[
        str,
        Meta(
            min_length=2,
            max_length=8,
            title="Mark",
            description="letters and digits of the date only; O is a letter, 0 a digit",
            examples=["1208"],
        ),
    ]
    not_after: NotAfter
    introduced: Introduced = None


class Way(msgspec.Struct, frozen=True):
    """One way to read a mark: its rule, and the years that survive."""

    name: str
    rule: str
    years: list[Year]
    week: int | None
    month: int | None


class DateMark(msgspec.Struct, frozen=True):
    """Every way that leaves a year."""

    ways: list[Way]


@calculator(
    "date_codes.part",
    "Date mark on a part, rule unknown",
    question="What can this date mark on a part mean?",
    # An encyclopaedia article on aluminium electrolytic capacitors: "1208" is 2012, week 8.
    example={"mark": "1208", "not_after": 2026, "introduced": 2005},
)
def part(given: DateMarkIn) -> Answer[DateMark]:
    """Every way in which a date mark can be read, each with the years it leaves.

    Source: IEC 60062 for letters (beyond 2003 to 2015 from memory); `date_codes.week` for weeks.
    """
    given = fit(given)
    ways = [way for name, rule in WAYS if (way := _way(name, rule, given)) and way.years]
    lines = [Line(way.name, way.rule, _said(way)) for way in ways]
    meanings = {(one.year, way.week, way.month) for way in ways for one in way.years}
    outcome = Outcome.NO_ANSWER if not ways else Outcome.OK if len(meanings) == 1 else Outcome.WARN
    working = Working(lines, SOURCES, _cautions(), _disagreements())
    return Answer(outcome, _text(ways), DateMark(ways), working)


def _way(name: str, rule: str, given: DateMarkIn) -> Way | None:
    """What the mark means this way; None where it does not fit."""
    with suppress(BadInput):
        read: DateCode = read_mark(given.mark, rule, given, given.not_after, given.introduced)
        return Way(_(name), rule, read.years, read.week, read.month)
    return None


def _said(way: Way) -> str:
    listed = ", ".join(str(one.year) for one in way.years)
    if way.week is not None:
        return _("{years}, week {week}", years=listed, week=way.week)
    return _("{years}, month {month}", years=listed, month=way.month)


def _text(ways: list[Way]) -> str:
    if not ways:
        return _("This is no date mark that is known here, or no year fits.")
    listed = "; ".join(_("{what} by {name}", what=_said(way), name=way.name) for way in ways)
    return _("{ways}.", ways=listed)


def _cautions() -> list[str]:
    return [_("A part dates the earliest possible assembly; allow months of stock time.")]


def _disagreements() -> list[str]:
    return [_("Three rules for week 1 are printed on parts: see the days of a week.")]


SOURCES: Final = [
    Source("year letters of a 20-year cycle, 2003 to 2015 seen; YYWW", Status.SECOND_HAND,
           "IEC 60062 as quoted in an encyclopaedia article on capacitors"),
    Source("the full cycle of letters", Status.FROM_MEMORY, "IEC 60062"),
    Source("10-year cycle in two characters, its exact form not seen", Status.FROM_MEMORY,
           "IEC 60062:2004, a catalogue's abstract at normadoc.com"),
    Source("source code of 3 or 4 digits, then year and week", Status.SECOND_HAND,
           "ecianow.org/eia-source-codes (EIA-476)"),
    Source("one year digit and two of the week in older source codes", Status.SECOND_HAND,
           "raumtelecom.ru/14086dating (a collectors' page)"),
    Source("week before year, and months", Status.COMMON_PRACTICE),
]  # fmt: skip
