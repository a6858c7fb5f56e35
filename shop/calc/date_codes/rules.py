"""Rules by which a mark is read: fixed characters, and named parts in braces.

Year, one of them: `{year4}`, `{year2}`, `{year1}`, `{year_letter}` (IEC 60062, 20-year cycle) or
`{year_letters:1981:ABCDEFGHJK}`, a maker's own letters, the first of them 1981, without a cycle.
Within the year: `{week}`, with `{weekday}` beside it an ISO date, `{month2}`, `{month_letter}` (1
to 9, O, N, D of IEC 60062), a maker's own twelve `{month_letters:ABCDEFGHJKLM}`, `{day2}` beside
a month, `{day3}` of the year.
Undated: `{any}`, `{digits}`, and of fixed length `{digits:4}`, `{any:2}`, `{letter}`.
"""

from __future__ import annotations

import re
from typing import Final

import msgspec

from shop.calc.words import _
from shop.calc.working import BadInput

FIRST_YEAR: Final = 1920
# IEC 60062 years without G I O Q Y Z; A is 1970, 1990, 2010.
YEAR_LETTERS: Final = "ABCDEFHJKLMNPRSTUVWX"
MONTH_LETTERS: Final = "123456789OND"
PARTS: Final = {
    "year4": "[0-9]{4}",
    "year2": "[0-9]{2}",
    "year1": "[0-9]",
    "year_letter": f"[{YEAR_LETTERS}]",
    "week": "[0-9]{2}",
    "weekday": "[1-7]",
    "month2": "[0-9]{2}",
    "month_letter": f"[{MONTH_LETTERS}]",
    "day2": "[0-9]{2}",
    "day3": "[0-9]{3}",
    "digits": "[0-9]+",
    "letter": "[A-Z]",
    "any": ".*",
}
# Only parts of fixed length may stand twice: two open ones would try every way to share a text.
_REPEATABLE = {"letter", "digits", "any"}
_PART = re.compile(r"\{([a-z0-9_]+)(?::([^{}]*))?\}")
_YEARS = re.compile(r"([0-9]{4}):([A-Z0-9]{1,36})")
_MONTHS = re.compile(r"[A-Z0-9]{12}")


class Rule(msgspec.Struct, frozen=True):
    """A rule that can be used: its pattern, and the letters that are the maker's own."""

    pattern: str
    year_letters: str = ""
    year_letters_from: int = 0
    month_letters: str = MONTH_LETTERS


def read_rule(written: str) -> Rule:
    """Make a rule usable. Raises BadInput (unknown_part) with the part at fault."""
    pattern, at, own = "", 0, Rule("")
    names: list[str] = []
    for found in _PART.finditer(written):
        name, argument = found[1], found[2]
        piece, own = _piece(name, argument, own)
        group = _group(name, argument, names)
        pattern += re.escape(written[at : found.start()].upper()) + f"(?P<{group}>{piece})"
        at = found.end()
    if not any(name.startswith("year") for name in names):
        raise BadInput("rule", _("A rule needs a part for the year."), "unknown_part")
    if "day2" in names and not any(name.startswith("month") for name in names):
        raise BadInput("rule", _("A day of the month needs a part for the month."), "unknown_part")
    if "weekday" in names and "week" not in names:
        raise BadInput("rule", _("A weekday needs a part for the week."), "unknown_part")
    return msgspec.structs.replace(own, pattern=pattern + re.escape(written[at:].upper()))


def _group(name: str, argument: str | None, names: list[str]) -> str:
    """The name under which a part is found again: the second `{digits:4}` is `digits_2`."""
    before = names.count(name)
    has_length = argument is not None or name == "letter"
    if before and not (name in _REPEATABLE and has_length):
        raise _unknown(name)
    names.append(name)
    return f"{name}_{before + 1}" if before else name


def _piece(name: str, argument: str | None, own: Rule) -> tuple[str, Rule]:
    """The pattern of one part, and the rule with what this part adds to it."""
    if name == "year_letters" and (years := _YEARS.fullmatch(argument or "")):
        own = msgspec.structs.replace(own, year_letters_from=int(years[1]), year_letters=years[2])
        return f"[{years[2]}]", own
    if name == "month_letters" and _MONTHS.fullmatch(argument or ""):
        return f"[{argument}]", msgspec.structs.replace(own, month_letters=argument or "")
    if name in ("digits", "any") and argument in tuple("123456789"):
        return f"{PARTS[name][:-1]}{{{argument}}}", own
    if name not in PARTS or argument is not None:
        raise _unknown(name if argument is None else f"{name}:{argument}")
    return PARTS[name], own


def _unknown(part: str) -> BadInput:
    reason = _("{part} is no part of a rule, or stands twice.", part=part)
    return BadInput("rule", reason, "unknown_part")


def read_parts(text: str, rule: str) -> dict[str, str]:
    """The named parts of a mark. Raises BadInput (unknown_part, rule_does_not_fit)."""
    return parts_of(text, read_rule(rule))


def parts_of(text: str, rule: Rule) -> dict[str, str]:
    """The named parts of a mark, by a rule already read. Raises BadInput (rule_does_not_fit)."""
    match = re.fullmatch(rule.pattern, text)
    if not match:
        raise BadInput("text", _("The mark does not fit this rule."), "rule_does_not_fit")
    return match.groupdict()


def possible_years(parts: dict[str, str], rule: Rule, last: int) -> list[int]:
    """All years the part can stand for, from 1920 on, a cycle past the last to show it dropped."""
    if "year4" in parts:
        return [int(parts["year4"])]
    if "year_letters" in parts:
        letter = rule.year_letters.index(parts["year_letters"])
        return [rule.year_letters_from + letter]
    if "year_letter" in parts:
        start, cycle = 1970 + YEAR_LETTERS.index(parts["year_letter"]), 20
    elif "year2" in parts:
        start, cycle = 1900 + int(parts["year2"]), 100
    else:
        start, cycle = 1900 + int(parts["year1"]), 10
    return [year for year in range(start, last + cycle + 1, cycle) if year >= FIRST_YEAR]


class When(msgspec.Struct, frozen=True):
    """What a mark says within its year. `day` is of the month where there is one, else of the year.

    With a weekday (1 is Monday) the week is one of ISO 8601.
    """

    week: int | None
    weekday: int | None
    month: int | None
    day: int | None


def when_of(parts: dict[str, str], rule: Rule) -> When:
    """Week, month and day of a mark. Raises BadInput (no_such_week, no_such_month)."""
    weekday = int(parts["weekday"]) if "weekday" in parts else None
    day = next((int(parts[name]) for name in ("day2", "day3") if name in parts), None)
    return When(week_of(parts), weekday, month_of(parts, rule), day)


def week_of(parts: dict[str, str]) -> int | None:
    """The week of a mark. Raises BadInput (no_such_week) for 0 and for more than 53."""
    week = int(parts["week"]) if "week" in parts else None
    if week is not None and not 1 <= week <= 53:
        raise no_such_week("text", week)
    return week


def no_such_week(field: str, week: int) -> BadInput:
    """The refusal of a week that no year has."""
    return BadInput(field, _("No year has a week {week}.", week=week), "no_such_week")


def month_of(parts: dict[str, str], rule: Rule) -> int | None:
    """The month of a mark, 1 to 12. Raises BadInput (no_such_month)."""
    if "month_letter" in parts:
        # O is October here, never a zero.
        return MONTH_LETTERS.index(parts["month_letter"]) + 1
    if "month_letters" in parts:
        return rule.month_letters.index(parts["month_letters"]) + 1
    if "month2" not in parts:
        return None
    month = int(parts["month2"])
    if not 1 <= month <= 12:
        raise BadInput("text", _("No year has a month {month}.", month=month), "no_such_month")
    return month
