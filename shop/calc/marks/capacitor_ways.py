"""The ways in which a capacitor's mark can be read, each a pattern and what it means."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import Final, Literal

import msgspec

from shop.calc.decimals import canonical, shifted
from shop.calc.marks.letters import (
    RATED_VOLT,
    TOLERANCE_LETTERS,
    Tolerance,
    is_preferred,
    tolerance_of_capacitor,
)
from shop.calc.quantities import Quantity
from shop.calc.readings import parse_reading
from shop.calc.shown import farads
from shop.calc.words import _, gettext_noop
from shop.calc.working import BadInput

CapacitorKind = Literal["unknown", "electrolytic", "film_or_ceramic"]
PICO, MICRO = -12, -6


class CapacitorWay(msgspec.Struct, frozen=True):
    """One way to read the mark."""

    farad: float
    shown: str
    tolerance: Tolerance | None
    rated_volt: float | None
    name: str
    is_preferred: bool


_VOLT_CODE = "|".join(RATED_VOLT)
_HEAD = rf"(?:(?P<before>{_VOLT_CODE}) ?(?=[0-9]))?"
_RATING = r"(?P<volt>[0-9]{1,4}(?:\.[0-9])?) ?(?:(?P<kilo>[kK])V|WVDC|VDC|WV|V)?"
# A rated voltage must stand apart from the value: after a letter, a space or a stroke.
_TAIL = (
    rf" ?(?P<letter>[{TOLERANCE_LETTERS}])?"
    rf"(?:[ /]*(?P<after>{_VOLT_CODE})|(?:(?<=[A-Za-z])|[ /]+){_RATING})?"
)
_NUMBER = r"[0-9]{1,6}(?:[.,][0-9]{1,6})?|[.,][0-9]{1,6}"


def _form(body: str) -> re.Pattern[str]:
    return re.compile(f"{_HEAD}(?P<body>{body}){_TAIL}")


_CODE = _form("[0-9]{3}")
# An F after the prefix is the unit, after the digits a tolerance: 100nF, 4p7F.
_POINT = _form("[0-9]{1,3}[pnumPNU][0-9]{1,2}|[0-9]{1,4}[pnumPNU](?![Ff])|[pnuPNU][0-9]{1,4}")
_UNIT = _form(rf"(?:{_NUMBER}) ?[pnumPNU][Ff]|(?:[0-9]{{1,2}}|[0-9]?[.,][0-9]{{1,3}}) ?F")
_MICRO_OLD = _form(rf"(?:{_NUMBER}) ?(?:MFD|[Mm]fd|mFd|MF|mF|mf)")
_PICO_OLD = _form(rf"(?:{_NUMBER}) ?(?:MMFD|mmfd|MMF|mmF|mmf|UUF|uuF|uuf)")
_R_POINT = _form("[0-9]*R[0-9]+|[0-9]+R")
_BARE = _form(_NUMBER)
_NOT_NUMBER = re.compile("[^0-9.,]+")


def ways(mark: str, kind: CapacitorKind) -> Iterator[CapacitorWay]:
    """Every way that gives a value. `mark` is tidy: single spaces, u for the micro sign."""
    for name, pattern, value in WAYS:
        if found := pattern.fullmatch(mark):
            for text in _texts(value, found, kind):
                yield _way(text, found, _(name))


_Value = Callable[[re.Match[str], CapacitorKind], list[str]]


def _texts(value: _Value, found: re.Match[str], kind: CapacitorKind) -> list[str]:
    """Capacitances in farad by one way; none where the number cannot be a reading."""
    with suppress(BadInput):
        return [text for text in value(found, kind) if text != "0"]
    return []


def _way(text: str, found: re.Match[str], name: str) -> CapacitorWay:
    code = found["before"] or found["after"]
    volt = RATED_VOLT.get(code or "")
    if found["volt"]:
        volt = float(found["volt"]) * (1000 if found["kilo"] else 1)
    farad = float(text)
    tolerance = tolerance_of_capacitor(found["letter"], farad)
    return CapacitorWay(farad, farads(farad), tolerance, volt, name, is_preferred(text))


def _farad(number: str, power: int) -> str:
    """A number of pico- or microfarad, exactly in farad."""
    unit = "pF" if power == PICO else "uF"
    text = parse_reading(f"{number} {unit}", Quantity.CAPACITANCE, "mark").text
    return text or "0"


def _code(found: re.Match[str], _kind: CapacitorKind) -> list[str]:
    """Two digits and a number of noughts, in pF; 8 and 9 stand for 0.01 and 0.1."""
    digits, last = found["body"][:2], int(found["body"][2])
    if digits[0] == "0":
        return []
    return [canonical(shifted(digits, PICO + {8: -2, 9: -1}.get(last, last)))]


def _letters(found: re.Match[str], _kind: CapacitorKind) -> list[str]:
    return [_parsed(found["body"])]


def _parsed(body: str) -> str:
    """What the reader of readings makes of it, with P, N, U as the prefixes they stand for."""
    for capital in "PNU":
        body = body.replace(capital, capital.lower())
    return parse_reading(body, Quantity.CAPACITANCE, "mark").text or "0"


def _micro_old(found: re.Match[str], _kind: CapacitorKind) -> list[str]:
    return [_farad(_NOT_NUMBER.sub("", found["body"]), MICRO)]


def _pico_old(found: re.Match[str], _kind: CapacitorKind) -> list[str]:
    return [_farad(_NOT_NUMBER.sub("", found["body"]), PICO)]


def _r_point(found: re.Match[str], kind: CapacitorKind) -> list[str]:
    return [_farad(found["body"].replace("R", "."), power) for power in _powers(kind)]


def _bare(found: re.Match[str], kind: CapacitorKind) -> list[str]:
    """Below one: microfarad. Else microfarad on an electrolytic, picofarad on the others."""
    number = found["body"]
    is_code = len(number) == 3 and number.isdigit()
    powers = [MICRO] if number[0] in ".,0" else _powers(kind)
    texts = [_farad(number, power) for power in powers]
    return [text for text in texts if not is_code or (is_preferred(text) and number[2] == "0")]


def _powers(kind: CapacitorKind) -> list[int]:
    return {"electrolytic": [MICRO], "film_or_ceramic": [PICO], "unknown": [MICRO, PICO]}[kind]


WAYS: Final[tuple[tuple[str, re.Pattern[str], _Value], ...]] = (
    (gettext_noop("two digits and a number of noughts, in pF"), _CODE, _code),
    (gettext_noop("letter in place of the point"), _POINT, _letters),
    (gettext_noop("number with its unit"), _UNIT, _letters),
    (gettext_noop("MF and mfd of old parts: microfarad"), _MICRO_OLD, _micro_old),
    (gettext_noop("MMF and µµF of old parts: picofarad"), _PICO_OLD, _pico_old),
    (gettext_noop("R in place of the point"), _R_POINT, _r_point),
    (gettext_noop("bare number"), _BARE, _bare),
)
