"""Readings the way techs write them, turned into one exact value.

The unit is known from the step, so `160m` is 0.16 A for a current and is refused for a
resistance, where it could be a slip for mega. The result is a canonical decimal text in SI units;
no binary fraction takes part in making it, so the text can be hashed.

The rules, in order (the phone follows the same ones, on the same table of cases):

1. White space around is dropped; more than 40 characters are refused.
2. `OL` and its like are "over range", `n/m` and its like "not measured": states, not numbers.
3. Both micro signs and `u` are micro, both ohm signs are `ohm`, a real minus sign is a minus.
4. Number, power of ten, prefix, unit: `0.16 A`, `160 mA`, `1.6e-1`. Or a letter in place of the
   decimal point: `4k7`, `2R2`, `u47`, `2A5`.
5. A comma is a decimal comma. One that could part thousands (`1,234`) is refused, as are two
   separators. A point is always a decimal point.
6. What follows the number and is no unit: with a digit in it, it is no number; else a wrong unit.
7. `k` and `K` are kilo, `M` is mega and never milli, `m` is milli and never mega.

Source of the letter-for-point form: IEC 60062 (R, K, M, L marks).
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import Final

import msgspec

from shop.calc.decimals import canonical, decimals_of, power_of, shifted, significant, times
from shop.calc.quantities import PREFIX_POWER, RULES, Quantity, QuantityRule
from shop.calc.words import _
from shop.calc.working import BadInput

LONGEST = 40
MOST_DIGITS = 15
MOST_DECIMALS = 30
CANONICAL_DECIMAL: Final = r"^(?:0|-?(?:[1-9][0-9]*(?:\.[0-9]*[1-9])?|0\.[0-9]*[1-9]))$"

_OVER_RANGE = {"ol", "o.l", "o.l.", "0l", "0.l", "over", "overrange", "overload"}
_NOT_MEASURED = {"notmeasured", "n/m", "nm", "-", "--", "---"}
_SPACE = re.compile("[ \t\r\n\u00a0\u2009\u202f]+")
_PLAIN = re.compile(r"([0-9]*)([.,]?)([0-9]*)(?:[eE]([+-]?[0-9]{1,2}))?(.*)", re.DOTALL)
_INFIX = re.compile(r"([0-9]*)([A-Za-z])([0-9]+) ?([A-Za-z]*)")
_SAME = {
    "\u00b5": "u", "\u03bc": "u", "\u03a9": "ohm", "\u2126": "ohm", "\u2212": "-", "\u2103": "°C",
}  # fmt: skip


class State(StrEnum):
    """What a reading is. "Over range", "not measured" and zero are three different things."""

    VALUE = "value"
    OVER_RANGE = "over_range"
    NOT_MEASURED = "not_measured"


class Reading(msgspec.Struct, frozen=True):
    """A reading: exact `text` and float `si`, both in `unit`; `shown` is for people."""

    state: State
    unit: str
    shown: str
    text: str | None = None
    si: float | None = None


def parse_reading(typed: str, quantity: Quantity, field: str = "typed") -> Reading:
    """Read what a tech typed for a known quantity.

    Raises BadInput with `field`, a reason in words, and one of the codes empty, too_long,
    not_a_number, ambiguous_separator, milli_or_mega, milli_or_minutes, prefix_not_usable,
    wrong_unit, too_many_digits, not_whole, negative, below_range, above_range.
    """
    rule = RULES[quantity]
    text = _tidy(typed, field)
    word = _SPACE.sub("", text).lower()
    if word in _OVER_RANGE:
        return Reading(State.OVER_RANGE, rule.unit, _("over range"))
    if word in _NOT_MEASURED:
        return Reading(State.NOT_MEASURED, rule.unit, _("not measured"))

    sign, body = ("-", text[1:]) if text[0] == "-" else ("", text.removeprefix("+"))
    value = sign + (_infix(body, rule, field) or _plain(body.lstrip(), rule, field))
    exact = within(canonical(value), quantity, field)
    return Reading(State.VALUE, rule.unit, format_reading(exact, quantity), exact, float(exact))


def _tidy(typed: str, field: str) -> str:
    """Drop the space around and fold signs that mean the same."""
    text = _SPACE.sub(" ", typed).strip(" ")
    if not text:
        raise BadInput(field, _("Nothing was typed. Type n/m if it was not measured."), "empty")
    if len(text) > LONGEST:
        reason = _("A reading has at most {most} characters.", most=LONGEST)
        raise BadInput(field, reason, "too_long")
    for sign, plain in _SAME.items():
        text = text.replace(sign, plain)
    return text


def _infix(body: str, rule: QuantityRule, field: str) -> str | None:
    """`4k7`, `2R2`, `u47`, `2A5`: a letter stands for the decimal point."""
    found = _INFIX.fullmatch(body.strip())
    if not found or found[2] in "eE":
        return None
    whole, letter, fraction, unit = found.groups()
    if unit and rule.words.get(unit.lower()) != 1:
        raise _wrong_unit(unit, rule, field)
    power = rule.marks.get(letter)
    if power is None:
        power = _prefix_power(letter, rule, field, bool(unit))
    _within_digits(whole + fraction, field)
    return shifted(f"{whole or '0'}.{fraction}", power)


def _plain(body: str, rule: QuantityRule, field: str) -> str:
    """A number, then perhaps a power of ten, a prefix, a unit."""
    found = _PLAIN.fullmatch(body)
    if not found:
        raise _not_a_number(body, field)
    whole, separator, fraction, power, tail = found.groups()
    if not whole and not fraction:
        raise _not_a_number(body, field)
    if tail[:1] in (".", ",") or (separator == "," and _like_thousands(whole, fraction)):
        reason = _(
            "Could “{typed}” mean thousands? Write it without, and with a decimal point.",
            typed=body,
        )
        raise BadInput(field, reason, "ambiguous_separator")
    _within_digits(whole + fraction, field)
    number = shifted(f"{whole or '0'}.{fraction or '0'}", int(power or 0))
    return _with_unit(number, tail.replace(" ", ""), rule, field)


def _like_thousands(whole: str, fraction: str) -> bool:
    return len(fraction) == 3 and 1 <= len(whole) <= 3 and whole[0] != "0"


def _with_unit(number: str, tail: str, rule: QuantityRule, field: str) -> str:
    """Apply a unit word or a prefix with or without one."""
    if not tail:
        return number
    if tail.lower() in rule.words:
        return times(number, rule.words[tail.lower()])
    if tail in rule.marks:
        return shifted(number, rule.marks[tail])
    prefix, unit = tail[0], tail[1:]
    if unit and rule.words.get(unit.lower()) != 1:
        raise _wrong_unit(tail, rule, field)
    return shifted(number, _prefix_power(prefix, rule, field, bool(unit)))


def _prefix_power(letter: str, rule: QuantityRule, field: str, has_unit: bool) -> int:
    """The power of ten of a prefix, or why it cannot stand here."""
    prefix = "k" if letter == "K" else letter
    if prefix not in PREFIX_POWER:
        raise _wrong_unit(letter, rule, field)
    if prefix not in rule.prefixes:
        reason = _("“{prefix}” cannot be a prefix of {unit} here.", prefix=letter, unit=_said(rule))
        raise BadInput(field, reason, "prefix_not_usable")
    if prefix == "m" and not has_unit and rule.unit == "ohm":
        reason = _("m is milli. Type mohm if you mean it, M for mega.")
        raise BadInput(field, reason, "milli_or_mega")
    if prefix == "m" and not has_unit and rule.unit == "s":
        reason = _("m could be milli or minutes. Type ms or min.")
        raise BadInput(field, reason, "milli_or_minutes")
    return PREFIX_POWER[prefix]


def within(text: str, quantity: Quantity, field: str) -> str:
    """Refuse what cannot be: negative ohms, half a count, a million volts."""
    rule = RULES[quantity]
    if decimals_of(text) > MOST_DECIMALS:
        raise BadInput(field, _("That is too small to have been measured."), "too_many_digits")
    if quantity is Quantity.COUNT and decimals_of(text):
        raise BadInput(field, _("A count is a whole number."), "not_whole")
    if text[0] == "-" and rule.lowest == 0:
        reason = _("{text} {unit}: this cannot be below zero.", text=text, unit=_said(rule))
        raise BadInput(field, reason, "negative")
    if float(text) < rule.lowest:
        reason = _("Below {limit:g} {unit}: not possible.", limit=rule.lowest, unit=_said(rule))
        raise BadInput(field, reason, "below_range")
    if float(text) > rule.highest:
        reason = _("Above {limit:g} {unit}: not possible.", limit=rule.highest, unit=_said(rule))
        raise BadInput(field, reason, "above_range")
    return text


def _within_digits(digits: str, field: str) -> None:
    if len(digits.strip("0")) > MOST_DIGITS:
        reason = _("More than {most} digits cannot be kept.", most=MOST_DIGITS)
        raise BadInput(field, reason, "too_many_digits")


def _not_a_number(body: str, field: str) -> BadInput:
    reason = _("“{typed}” is no number a reading can have.", typed=body)
    return BadInput(field, reason, "not_a_number")


def _wrong_unit(unit: str, rule: QuantityRule, field: str) -> BadInput:
    if any(sign in "0123456789" for sign in unit):
        return _not_a_number(unit, field)
    reason = _("“{unit}” does not fit: this step asks for {wanted}.", unit=unit, wanted=_said(rule))
    return BadInput(field, reason, "wrong_unit")


def _said(rule: QuantityRule) -> str:
    return rule.symbol or _("a plain number")


def format_reading(text: str, quantity: Quantity, digits: int | None = None) -> str:
    """A canonical decimal text with its prefix and unit: `0.16` is `160 mA`.

    `digits` are significant digits, rounded half away from zero; None keeps every digit, so that
    parsing the result gives the same text back.
    """
    rule = RULES[quantity]
    exact = significant(text, digits) if digits else text
    prefix = best_prefix(exact, rule)
    number = canonical(shifted(exact, -PREFIX_POWER.get(prefix, 0)))
    sign = "µ" if prefix == "u" else prefix
    return f"{number} {sign}{rule.symbol}".strip()


def best_prefix(text: str, rule: QuantityRule) -> str:
    """The prefix that leaves one to three digits before the point, as far as there is one."""
    if not rule.prefixes or text == "0":
        return ""
    fitting: list[str] = sorted(
        ("", *rule.prefixes), key=lambda prefix: PREFIX_POWER.get(prefix, 0)
    )
    power = power_of(text)
    small_enough = [prefix for prefix in fitting if PREFIX_POWER.get(prefix, 0) <= power]
    return small_enough[-1] if small_enough else fitting[0]
