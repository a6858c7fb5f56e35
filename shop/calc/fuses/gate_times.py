"""How long a fuse holds and when it must open, by its standard sheet."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, fit
from shop.calc.fuses.gates import (
    BREAKING_SOURCE,
    GATE_MEMORY,
    GATE_SOURCE,
    GATES,
    HOLD_AT_1_5_SECOND,
    UL_BREAKING_SOURCE,
    UL_DELAY_SOURCE,
    UL_GATE_SOURCE,
    Gate,
    breaking_capacity_ampere,
    ul_breaking_ampere,
)
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

SheetName = Literal["1", "2", "3", "5", "6", "ul", "ul_time_delay"]
SHEETS = {
    "1": _noop("IEC sheet 1: F, H"),
    "2": _noop("IEC sheet 2: F, L"),
    "3": _noop("IEC sheet 3: T, L"),
    "5": _noop("IEC sheet 5: T, H"),
    "6": _noop("IEC sheet 6: T, E"),
    "ul": _noop("UL 248-14, quick"),
    "ul_time_delay": _noop("UL 248-14, time-delay"),
}
EXAMPLE = {"sheet": "2", "rated_ampere": 1.6, "current_ampere": 5.0}


class GatesIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A sheet and a rating; optionally a current to ask about."""

    sheet: Annotated[
        SheetName,
        Meta(
            title="Sheet",
            description="standard sheet of the fuse, by its letters",
            extra_json_schema={"x-labels": SHEETS},
        ),
    ]
    rated_ampere: Annotated[
        float, Meta(ge=0.03, le=30, title="Rated current", description="0.03 to 30 A, off the cap")
    ]
    current_ampere: Annotated[
        Ampere | None,
        Meta(title="Current to ask about", description="how long is it held, when does it open"),
    ] = None


class GatePoint(msgspec.Struct, frozen=True):
    """At `ampere` (`times` the rating) it holds at least and opens within; None is no limit."""

    times: float
    ampere: float
    holds_seconds: float | None
    opens_seconds: float | None
    status: Status


class GatesOut(msgspec.Struct, frozen=True):
    """The limits of the sheet, and what follows for the current asked about.

    `breaking_capacity_ampere` at 250 V a.c.; `breaking_at_125_ampere` for UL types only.
    """

    points: list[GatePoint]
    breaking_capacity_ampere: float | None
    breaking_at_125_ampere: float | None
    holds_seconds: float | None
    opens_seconds: float | None


@calculator(
    "fuses.gates",
    "When a fuse holds and when it opens",
    question="How long does this fuse hold a current, and when must it have opened?",
    example=EXAMPLE,
)
def gates(given: GatesIn) -> Answer[GatesOut]:
    """List the time limits of a fuse's standard sheet in ampere and seconds at 23 C.

    Units: A, s. Between two points of a sheet the time lies between the limits of both: it holds at
    least as long as at the next higher point and opens at the latest as at the next lower one.
    No answer where the sheet has no such rating.
    Source: IEC 60127-2 (sheet 2 second-hand, others from memory), UL 248-14 (second-hand).
    """
    given = fit(given)
    points = _points(given)
    sources = _sources(given)
    if not points:
        text = _("This sheet has no fuse of {ampere:g} A.", ampere=given.rated_ampere)
        line = Line(_("rated current"), _(SHEETS[given.sheet]), f"{given.rated_ampere:g} A")
        return Answer(Outcome.NO_ANSWER, text, None, Working([line], sources))
    value = _value(given, points)
    unsure = any(point.status is Status.FROM_MEMORY for point in points)
    outcome = Outcome.WARN if unsure else Outcome.OK
    working = Working(_lines(value), sources, _cautions(unsure), _differ(given))
    return Answer(outcome, _sentence(given, value), value, working)


def _points(given: GatesIn) -> list[GatePoint]:
    if given.sheet in ("ul", "ul_time_delay"):
        return _ul_points(given)
    milliampere = given.rated_ampere * 1000
    for gate in GATES:
        fits = gate.low_milliampere - 1e-6 <= milliampere <= gate.high_milliampere + 1e-6
        if fits and str(gate.sheet) == given.sheet:
            return _iec_points(gate, given.rated_ampere)
    return []


def _iec_points(gate: Gate, rated: float) -> list[GatePoint]:
    rows: list[tuple[float, float | None, float | None]] = [
        (1.5, HOLD_AT_1_5_SECOND, None),
        (2.1, None, gate.at_2_1_max),
        (2.75, *gate.at_2_75),
        (4.0, *gate.at_4),
        (10.0, *gate.at_10),
    ]
    return [
        GatePoint(times, times * rated, least, most, gate.status) for times, least, most in rows
    ]


def _ul_points(given: GatesIn) -> list[GatePoint]:
    rated, hold = given.rated_ampere, None
    if given.sheet == "ul_time_delay":
        if rated > 10:
            return []
        hold = 5.0 if rated <= 3 else 12.0
    return [
        GatePoint(1.35, 1.35 * rated, None, 3600.0, Status.SECOND_HAND),
        GatePoint(2.0, 2.0 * rated, hold, 120.0, Status.SECOND_HAND),
    ]


_LETTERS: dict[str, Literal["L", "E", "H"]] = {"1": "H", "2": "L", "3": "L", "5": "H", "6": "E"}


def _value(given: GatesIn, points: list[GatePoint]) -> GatesOut:
    rated, letter = given.rated_ampere, _LETTERS.get(given.sheet)
    holds, opens = _bounds(points, given.current_ampere)
    if letter is None:
        breaks, at_125 = ul_breaking_ampere(rated, 250), ul_breaking_ampere(rated, 125)
    else:
        breaks, at_125 = breaking_capacity_ampere(letter, rated), None
    return GatesOut(points, breaks, at_125, holds, opens)


def _bounds(points: list[GatePoint], current: float | None) -> tuple[float | None, float | None]:
    """What is sure for a current between the points; more current never takes longer."""
    if current is None:
        return None, None
    above = [p.holds_seconds for p in points if p.ampere >= current * (1 - 1e-9)]
    below = [p.opens_seconds for p in points if p.ampere <= current * (1 + 1e-9)]
    holds = max((time for time in above if time is not None), default=None)
    return holds, min((time for time in below if time is not None), default=None)


def _sentence(given: GatesIn, value: GatesOut) -> str:
    if given.current_ampere is None:
        last = value.points[-1]
        time = _time(last.opens_seconds)
        return _("Opens at {ampere:.4g} A within {time}.", ampere=last.ampere, time=time)
    holds = (
        _("no sure time to hold")
        if value.holds_seconds is None
        else _("held at least {time}", time=_time(value.holds_seconds))
    )
    opens = (
        _("no sure time to open")
        if value.opens_seconds is None
        else _("open within {time}", time=_time(value.opens_seconds))
    )
    return _(
        "{ampere:.4g} A: {holds}, {opens}.",
        ampere=given.current_ampere,
        holds=holds,
        opens=opens,
    )


def _time(seconds: float | None) -> str:
    if seconds is None:
        return _("no sure time")
    if seconds >= 120:
        return f"{seconds / 60:g} min"
    return f"{seconds:g} s" if seconds >= 1 else f"{seconds * 1000:g} ms"


def _lines(value: GatesOut) -> list[Line]:
    lines = [
        Line(
            f"{point.times:g} × I",
            f"{point.ampere:.4g} A",
            " … ".join(
                "–" if limit is None else _time(limit)
                for limit in (point.holds_seconds, point.opens_seconds)
            ),
        )
        for point in value.points
    ]
    capacities = ((250, value.breaking_capacity_ampere), (125, value.breaking_at_125_ampere))
    return lines + [
        Line(_("breaking capacity"), f"{volt} V a.c.", f"{breaks:g} A")
        for volt, breaks in capacities
        if breaks is not None
    ]


def _sources(given: GatesIn) -> list[Source]:
    if given.sheet.startswith("ul"):
        return [UL_GATE_SOURCE, UL_DELAY_SOURCE, UL_BREAKING_SOURCE]
    return [GATE_SOURCE if given.sheet == "2" else GATE_MEMORY, BREAKING_SOURCE]


def _cautions(unsure: bool) -> list[str]:
    said = [_("Limits are for 23 °C; in a warm unit a fuse opens sooner.")]
    if unsure:
        said.append(_("These times are from memory: read the sheet or the maker's curve."))
    return said


def _differ(given: GatesIn) -> list[str]:
    if given.sheet == "2":
        return [_("Some editions end sheet 2 at 6.3 A, others at 10 A (from memory).")]
    if given.sheet.startswith("ul"):
        return [_("An older form of the standard: 110 % for 4 hours at least.")]
    return []
