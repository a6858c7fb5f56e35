"""A resistor's mark in letters and digits: `4K7J`, `R47`, `472`, `1002F`."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.decimals import canonical, shifted
from shop.calc.fields import fit
from shop.calc.marks.letters import (
    EVEN_PERCENT,
    TOLERANCE_MEMORY,
    TOLERANCE_SOURCE,
    is_preferred,
)
from shop.calc.preferred_values import MEMBERS, SERIES_SOURCE
from shop.calc.quantities import Quantity
from shop.calc.readings import format_reading, parse_reading
from shop.calc.registry import calculator
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working


class ResistorMarkIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What stands on the resistor."""

    mark: Annotated[
        str,
        Meta(
            min_length=1,
            max_length=16,
            title="Mark",
            description="letters and digits as they stand there, with the tolerance",
            examples=["4K7J"],
        ),
    ]


class ResistorWay(msgspec.Struct, frozen=True):
    """One way to read the mark."""

    ohm: float
    shown: str
    tolerance_percent: float | None
    name: str
    is_preferred: bool


class ResistorMark(msgspec.Struct, frozen=True):
    """Every way to read the mark; `ohm` only where they agree."""

    ohm: float | None
    ways: list[ResistorWay]


_LETTER = "".join(EVEN_PERCENT)
_TAIL = rf"(?:\s?(?P<letter>[{_LETTER}])|\s*±?(?P<percent>\d{{1,2}}(?:\.\d{{1,3}})?)\s*%)?"
_OHM = r"(?:\s*(?:Ω|ohm))?"
# R or K and so on for the point; what stands before the tolerance must have its own letter.
_POINT = re.compile(rf"(?P<body>\d*[RrKkMmGLl]\d*|\d+[.,]\d+\s?[kKMG]){_OHM}{_TAIL}", re.ASCII)
# Old continental parts have E for ohm; it says 0.005 % as well, which no such part has.
_OLD_E = re.compile(rf"(?P<body>\d{{1,3}}E\d{{0,2}}|E\d{{1,3}}){_TAIL}", re.ASCII)
_CODE = re.compile(rf"(?P<body>\d{{3,4}}){_TAIL}", re.ASCII)
_PLAIN = re.compile(rf"(?P<body>\d{{1,6}}(?:[.,]\d{{1,3}})?){_OHM}{_TAIL}", re.ASCII)
# Tolerance letters that are multipliers as well.
_PREFIX_TOO: Final = frozenset("KMGL")
_EIA_96 = re.compile(r"(?P<body>\d\d)(?P<power>[ZYXABCDEF])(?P<letter>)(?P<percent>)", re.ASCII)
_EIA_96_POWER: Final = dict(zip("ZYXABCDEF", range(-3, 6), strict=True))


@calculator(
    "marks.resistor",
    "Letters and digits on a resistor",
    question="What value does the mark on this resistor give?",
    # IEC 60062 as quoted at en.wikipedia.org/wiki/IEC/EN_60062: 4K7 is 4.7 kilohm; J is 5 %.
    example={"mark": "4K7J"},
)
def resistor(given: ResistorMarkIn) -> Answer[ResistorMark]:
    """Every way to read a mark. Raises BadInput (not_a_mark, and those of `readings.parse`).

    Units: ohm. Source: IEC 60062 (second-hand).
    """
    given = fit(given)
    mark = given.mark.strip()
    ways = sorted(_ways(mark), key=lambda way: not way.is_preferred)
    if not ways:
        raise _why_none(mark)
    values = {(way.ohm, way.tolerance_percent) for way in ways}
    outcome = Outcome.OK if len(values) == 1 and ways[0].is_preferred else Outcome.WARN
    lines = [Line(mark, way.name, _said(way)) for way in ways]
    text = _(" or ").join(dict.fromkeys(_said(way) for way in ways)) + "."
    ohm = ways[0].ohm if len({way.ohm for way in ways}) == 1 else None
    working = Working(lines, SOURCES, _cautions(ways), _disagreements(mark))
    return Answer(outcome, text, ResistorMark(ohm, ways), working)


def _ways(mark: str) -> Iterator[ResistorWay]:
    for name, pattern, value in WAYS:
        found = pattern.fullmatch(mark)
        text = value(found) if found else None
        if found and text is not None:
            yield _way(text, found, _(name))


def _way(text: str, found: re.Match[str], name: str) -> ResistorWay:
    shown = format_reading(text, Quantity.RESISTANCE)
    percent = 1.0 if found.re is _EIA_96 else None
    if found["letter"]:
        percent = EVEN_PERCENT[found["letter"]]
    elif found["percent"]:
        percent = float(found["percent"])
    return ResistorWay(float(text), shown, percent, name, text == "0" or is_preferred(text))


def _point(found: re.Match[str]) -> str | None:
    """A letter for the point: the same reader as for readings."""
    with suppress(BadInput):
        return parse_reading(found["body"], Quantity.RESISTANCE).text
    return None


def _old_e(found: re.Match[str]) -> str | None:
    """E for the point: 47E is 47 ohm, E47 is 0.47."""
    return parse_reading(found["body"].replace("E", "R"), Quantity.RESISTANCE).text


def _code(found: re.Match[str]) -> str | None:
    """Two or three digits and a number of noughts: 472 is 4700."""
    digits, power = found["body"][:-1], int(found["body"][-1])
    if found["letter"] in _PREFIX_TOO and _is_plain(found["body"]):
        return None
    return canonical(shifted(digits, power)) if digits[0] != "0" or int(digits) == 0 else None


def _plain(found: re.Match[str]) -> str | None:
    """The number itself, only where it is a preferred value: 470 may be 470 ohm or 47."""
    if found["letter"] in _PREFIX_TOO or not (found["body"] == "0" or _is_plain(found["body"])):
        return None
    return parse_reading(found["body"], Quantity.RESISTANCE).text


def _is_plain(body: str) -> bool:
    """Whether a number is one of E24 as it stands, so that a K behind it means kilo: 470K."""
    with suppress(BadInput):
        text = parse_reading(body, Quantity.RESISTANCE).text or "0"
        return len(text.replace(".", "").strip("0")) <= 2 and is_preferred(text)
    return False


def _eia_96(found: re.Match[str]) -> str | None:
    place = int(found["body"])
    if not 1 <= place <= 96:
        return None
    return canonical(shifted(str(MEMBERS["E96"][place - 1]), _EIA_96_POWER[found["power"]]))


WAYS: Final[tuple[tuple[str, re.Pattern[str], Callable[[re.Match[str]], str | None]], ...]] = (
    (gettext_noop("letter in place of the point"), _POINT, _point),
    (gettext_noop("E in place of the point, on old parts"), _OLD_E, _old_e),
    (gettext_noop("digits and a number of noughts"), _CODE, _code),
    (gettext_noop("plain ohms"), _PLAIN, _plain),
    (gettext_noop("place in E96 and a letter"), _EIA_96, _eia_96),
)


def _why_none(mark: str) -> BadInput:
    """Why nothing could be read: the reader's own reason where it has one (`4m7`)."""
    if found := _POINT.fullmatch(mark):
        try:
            parse_reading(found["body"], Quantity.RESISTANCE, "mark")
        except BadInput as refused:
            return refused
    return BadInput("mark", _("This is no resistor's mark."), "not_a_mark")


def _said(way: ResistorWay) -> str:
    percent = way.tolerance_percent
    return way.shown if percent is None else f"{way.shown} ±{percent:g} %"


def _cautions(ways: list[ResistorWay]) -> list[str]:
    cautions = []
    if len({way.ohm for way in ways}) > 1:
        cautions.append(_("The mark can be read in more than one way: measure it."))
    if not any(way.is_preferred for way in ways):
        cautions.append(_("This is no preferred value: read the mark again."))
    return cautions


def _disagreements(mark: str) -> list[str]:
    if "M" not in mark:
        return []
    return [_("M is mega on a part; in the netlists of circuit simulators M is milli.")]


SOURCES: Final = [
    Source("R47, 4K7, 4M7: letter in place of the point", Status.SECOND_HAND,
           "IEC 60062 as quoted at en.wikipedia.org/wiki/IEC/EN_60062"),
    Source("L for milliohm; M as milli in netlists", Status.SECOND_HAND,
           "ngspice examples/various/RKM-R-1.cir at gitcode.com/deepin-community/ngspice"),
    TOLERANCE_SOURCE,
    TOLERANCE_MEMORY,
    Source("digits and a number of noughts; E for ohm on old parts", Status.COMMON_PRACTICE),
    Source("two digits and a letter: place in E96", Status.FROM_MEMORY, "EIA-96"),
    SERIES_SOURCE,
]  # fmt: skip
