"""Readings the way an instrument says them over SCPI, turned into one exact value."""

from __future__ import annotations

import re
from decimal import Decimal

from shop.calc.decimals import significant
from shop.calc.quantities import RULES, Quantity
from shop.calc.readings.typed import MOST_DIGITS, Reading, State, format_reading, within
from shop.calc.words import _
from shop.calc.working import BadInput

LONGEST_SAID = 40
# NR1, NR2 and NR3 of IEEE 488.2-1992, 8.7.2 to 8.7.4: `12`, `12.5`, `+1.25000E+01`.
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?", re.ASCII)
# SCPI-1999 volume 1, 7.2.1: infinity is 9.9E37, minus infinity -9.9E37, not a number 9.91E37.
_INFINITY = Decimal("9.9E37")
_NO_NUMBER = Decimal("9.91E37")


def reading_said(said: str, quantity: Quantity, field: str = "said") -> Reading:
    """Read what an instrument answered for a known quantity, in the base unit of it.

    Infinity of either sign is over range, not-a-number is not measured. More digits than a reading
    keeps are rounded to 15.

    Raises BadInput with `field` and one of the codes not_a_number, too_many_digits, not_whole,
    negative, below_range, above_range.
    Source: SCPI-1999 volume 1, 7.2.1; IEEE 488.2-1992, 8.7.2 to 8.7.4.
    """
    number, rule = _number(said, field), RULES[quantity]
    if number == _NO_NUMBER:
        return Reading(State.NOT_MEASURED, rule.unit, _("not measured"))
    if abs(number) >= _INFINITY:
        return Reading(State.OVER_RANGE, rule.unit, _("over range"))
    exact = within(significant(str(number), MOST_DIGITS), quantity, field)
    return Reading(State.VALUE, rule.unit, format_reading(exact, quantity), exact, float(exact))


def _number(said: str, field: str) -> Decimal:
    text = said.strip(" \t\r\n")
    if len(text) > LONGEST_SAID or not _NUMBER.fullmatch(text):
        reason = _("“{said}” is no number an instrument can say.", said=text[:LONGEST_SAID])
        raise BadInput(field, reason, "not_a_number")
    return Decimal(text)


def said_plainly(reading: Reading) -> str:
    """The same as a tech would type it: `4.987 V`, `OL`, `n/m`."""
    if reading.text is None:
        return "OL" if reading.state is State.OVER_RANGE else "n/m"
    return reading.shown
