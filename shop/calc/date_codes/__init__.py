"""What a serial number or a date mark on a part can mean: every year, each with its reason.

A rule is written as it looks, with named parts in braces: `{year2}{any}` for a serial that begins
with the year, `{year2}{week}` for 9214, `{year_letter}{month_letter}` for C5 (IEC 60062, 20-year
cycle); see `rules`. A part dates the earliest possible assembly, not the day of it. When two years
survive, nobody but a person picks.
"""

from shop.calc.date_codes.part import DateMark, DateMarkIn, part
from shop.calc.date_codes.rules import read_parts
from shop.calc.date_codes.weeks import DayIn, WeekIn, week, week_of_day, week_span
from shop.calc.date_codes.years import DateCode, DateCodeIn, Year, years

__all__ = [
    "DateCode",
    "DateCodeIn",
    "DateMark",
    "DateMarkIn",
    "DayIn",
    "WeekIn",
    "Year",
    "part",
    "read_parts",
    "week",
    "week_of_day",
    "week_span",
    "years",
]
