"""The years a serial number or a mark on a part can mean: all of them, each with its reason.

A rule is written as it looks, with named parts in braces: `{year2}{any}` for a serial that begins
with the year, `{year2}{week}` for 9214, `{year_letter}{month_letter}` for C5 (IEC 60062, 20-year
cycle). A part dates the earliest possible assembly, not the day of it. When two years survive,
nobody but a person picks.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

FIRST_YEAR: Final = 1920
BEFORE_INTRODUCTION: Final = 3
# IEC 60062 years without G I O Q Y Z; A is 1970, 1990, 2010.
YEAR_LETTERS: Final = "ABCDEFHJKLMNPRSTUVWX"
MONTH_LETTERS: Final = "123456789OND"
PARTS: Final = {
    "year4": "[0-9]{4}",
    "year2": "[0-9]{2}",
    "year1": "[0-9]",
    "year_letter": f"[{YEAR_LETTERS}]",
    "week": "[0-9]{2}",
    "month2": "[0-9]{2}",
    "month_letter": f"[{MONTH_LETTERS}]",
    "digits": "[0-9]+",
    "any": ".*",
}
_PART = re.compile(r"\{([a-z0-9_]+)\}")


class DateCodeIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The mark, the rule by which it is read, and what bounds the years."""

    text: Annotated[str, Meta(min_length=1, max_length=40, description="as marked")]
    rule: Annotated[
        str, Meta(min_length=1, max_length=80, description="see the head of the module",
                  examples=["{year2}{any}"])
    ]  # fmt: skip
    not_after: Annotated[int, Meta(ge=1920, le=2200, description="year of the repair")]
    introduced: Annotated[
        int, Meta(ge=1900, le=2200, description="year the model came out, if known")
    ] | None = None  # fmt: skip


class Year(msgspec.Struct, frozen=True):
    """A year with the reason why it stays or goes."""

    year: int
    reason: str


class DateCode(msgspec.Struct, frozen=True):
    """Surviving years, those dropped, and the week or month if the rule has one."""

    years: list[Year]
    dropped: list[Year]
    week: int | None
    month: int | None


@calculator("date_codes.years", "Years a serial number or mark can mean")
def years(given: DateCodeIn) -> Answer[DateCode]:
    """Every year that fits. Raises BadInput for a rule or a mark that cannot be read."""
    given = fit(given)
    parts = read_parts(given.text.strip().upper(), given.rule)
    week, month = _week(parts), _month(parts)
    stay: list[Year] = []
    dropped: list[Year] = []
    for year in _readings(parts, given.not_after):
        why_not = _why_not(year, given)
        (dropped if why_not else stay).append(Year(year, why_not or _why(year, given)))
    value = DateCode(stay, dropped, week, month)
    text = ", ".join(str(one.year) for one in stay) or _("no year fits")
    outcome = Outcome.OK if len(stay) == 1 else Outcome.WARN if stay else Outcome.NO_ANSWER
    lines = [Line(str(one.year), given.rule, one.reason) for one in stay + dropped]
    cautions = [_("A part dates the earliest possible assembly; a later one tells of a repair.")]
    return Answer(outcome, text, value, Working(lines, SOURCES, cautions))


def read_parts(text: str, rule: str) -> dict[str, str]:
    """The named parts of a mark. Raises BadInput (unknown_part, rule_does_not_fit)."""
    pattern, at = "", 0
    for found in _PART.finditer(rule):
        name = found[1]
        if name not in PARTS or f"(?P<{name}>" in pattern:
            reason = _("{part} is no part of a rule, or stands twice.", part=name)
            raise BadInput("rule", reason, "unknown_part")
        pattern += re.escape(rule[at : found.start()].upper()) + f"(?P<{name}>{PARTS[name]})"
        at = found.end()
    pattern += re.escape(rule[at:].upper())
    if not any(f"(?P<{name}>" in pattern for name in PARTS if name.startswith("year")):
        raise BadInput("rule", _("A rule needs a part for the year."), "unknown_part")
    match = re.fullmatch(pattern, text)
    if not match:
        raise BadInput("text", _("The mark does not fit this rule."), "rule_does_not_fit")
    return match.groupdict()


def _readings(parts: dict[str, str], last: int) -> list[int]:
    """All years the part can stand for, from 1920 on, a cycle past the last to show it dropped."""
    if "year4" in parts:
        return [int(parts["year4"])]
    if "year_letter" in parts:
        start, cycle = 1970 + YEAR_LETTERS.index(parts["year_letter"]), 20
    elif "year2" in parts:
        start, cycle = 1900 + int(parts["year2"]), 100
    else:
        start, cycle = 1900 + int(parts["year1"]), 10
    return [year for year in range(start, last + cycle + 1, cycle) if year >= FIRST_YEAR]


def _why_not(year: int, given: DateCodeIn) -> str | None:
    if year > given.not_after:
        return _("after the repair")
    if given.introduced is not None and year < given.introduced - BEFORE_INTRODUCTION:
        return _("more than {n} years before the model came out", n=BEFORE_INTRODUCTION)
    return None


def _why(year: int, given: DateCodeIn) -> str:
    if given.introduced is None:
        return _("not after the repair")
    return _("not after the repair, the model came out in {year}", year=given.introduced)


def _week(parts: dict[str, str]) -> int | None:
    if "week" not in parts:
        return None
    week = int(parts["week"])
    if not 1 <= week <= 53:
        raise BadInput("text", _("No year has a week {week}.", week=week), "no_such_week")
    return week


def _month(parts: dict[str, str]) -> int | None:
    if "month_letter" in parts:
        # O is October here, never a zero.
        return MONTH_LETTERS.index(parts["month_letter"]) + 1
    if "month2" not in parts:
        return None
    month = int(parts["month2"])
    if not 1 <= month <= 12:
        raise BadInput("text", _("No year has a month {month}.", month=month), "no_such_month")
    return month


def week_span(year: int, week: int) -> tuple[date, date]:
    """First and last day a week number can mean, by the three rules printed on parts.

    ISO 8601 (week 1 holds 4 January, from Monday); EIA-476 (week 1 opens on the first Sunday,
    deduced from one example); week 1 holds 1 January (from Sunday; a marking note). About +-1 week.
    Raises BadInput for a week outside 1 to 53.
    """
    if not 1 <= week <= 53:
        raise BadInput("week", _("No year has a week {week}.", week=week), "no_such_week")
    new_year = date(year, 1, 1)
    fourth = date(year, 1, 4)
    iso = fourth - timedelta(days=fourth.weekday())
    first_sunday = new_year + timedelta(days=(6 - new_year.weekday()) % 7)
    holding = new_year - timedelta(days=(new_year.weekday() + 1) % 7)
    starts = [start + timedelta(weeks=week - 1) for start in (iso, first_sunday, holding)]
    return min(starts), max(starts) + timedelta(days=6)


SOURCES: Final = [
    Source("year letters of a 20-year cycle, 2003 to 2015 seen", Status.SECOND_HAND,
           "IEC 60062 as quoted in an encyclopaedia article on capacitors"),
    Source("the full cycle of letters", Status.FROM_MEMORY, "IEC 60062"),
    Source("YYWW on parts", Status.SECOND_HAND, "ecianow.org/eia-source-codes (EIA-476)"),
    Source("not more than 3 years before the model came out", Status.PROPOSED),
    Source("a serial that begins with the year of making", Status.COMMON_PRACTICE),
]  # fmt: skip
