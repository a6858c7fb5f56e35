"""A capacitor's mark: value, tolerance and rated voltage, in every way it can be read."""

from __future__ import annotations

import re
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.marks.capacitor_ways import CapacitorKind, CapacitorWay, ways
from shop.calc.marks.letters import (
    TOLERANCE_MEMORY,
    TOLERANCE_SOURCE,
    VOLTAGE_MEMORY,
    VOLTAGE_SOURCE,
    Tolerance,
)
from shop.calc.preferred_values import SERIES_SOURCE
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working


class CapacitorMarkIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What stands on the capacitor, and what kind it is."""

    mark: Annotated[
        str,
        Meta(
            min_length=1,
            max_length=24,
            title="Mark",
            description="value, tolerance letter and voltage as they stand there",
            examples=["2A104K"],
        ),
    ]
    kind: Annotated[
        CapacitorKind,
        Meta(
            title="Kind",
            description="a bare number means microfarad on an electrolytic, picofarad on others",
            extra_json_schema={
                "x-labels": {
                    "unknown": "not known",
                    "electrolytic": "electrolytic",
                    "film_or_ceramic": "film, mica or ceramic",
                }
            },
        ),
    ] = "unknown"


class CapacitorMark(msgspec.Struct, frozen=True):
    """Every way to read the mark; `farad` only where they agree."""

    farad: float | None
    ways: list[CapacitorWay]


@calculator(
    "marks.capacitor",
    "Mark on a capacitor",
    question="What value, tolerance and voltage does this capacitor's mark give?",
    # An encyclopaedia article on aluminium electrolytic capacitors: "10K 25" is 10 µF, 10 %, 25 V.
    example={"mark": "10K 25", "kind": "electrolytic"},
)
def capacitor(given: CapacitorMarkIn) -> Answer[CapacitorMark]:
    """Every way to read a mark. Raises BadInput (not_a_mark) where there is none.

    Units: F, V. Source: IEC 60062 (second-hand).
    """
    given = fit(given)
    mark = _tidy(given.mark)
    found = sorted(ways(mark, given.kind), key=lambda way: not way.is_preferred)
    if not found:
        raise BadInput("mark", _("This is no capacitor's mark that is known here."), "not_a_mark")
    said = dict.fromkeys(_said(way) for way in found)
    outcome = Outcome.OK if len(said) == 1 and found[0].is_preferred else Outcome.WARN
    lines = [Line(given.mark.strip(), way.name, _said(way)) for way in found]
    farads = {way.farad for way in found}
    value = CapacitorMark(found[0].farad if len(farads) == 1 else None, found)
    working = Working(lines, SOURCES, _cautions(found), _disagreements(mark))
    return Answer(outcome, _(" or ").join(said) + ".", value, working)


def _tidy(mark: str) -> str:
    for sign in "\u00b5\u03bc":
        mark = mark.replace(sign, "u")
    mark = " ".join(mark.split())
    voltage_first = _VOLTAGE_FIRST.fullmatch(mark)
    return f"{voltage_first[2]} {voltage_first[1]}" if voltage_first else mark


_VOLTAGE_FIRST = re.compile(r"([0-9]{1,4}(?:\.[0-9])? ?[kK]?V)[ /]+(.+)")


def _said(way: CapacitorWay) -> str:
    volt = f"{way.rated_volt:g} V" if way.rated_volt is not None else ""
    return ", ".join(part for part in (way.shown, _tolerance(way.tolerance), volt) if part)


def _tolerance(tolerance: Tolerance | None) -> str:
    if tolerance is None:
        return ""
    if tolerance.plus_minus_farad is not None:
        return f"±{tolerance.plus_minus_farad * 1e12:g} pF"
    if tolerance.low_percent == tolerance.high_percent:
        return f"±{tolerance.low_percent:g} %"
    return f"-{tolerance.low_percent:g} +{tolerance.high_percent:g} %"


def _cautions(found: list[CapacitorWay]) -> list[str]:
    cautions = []
    if len({way.farad for way in found}) > 1:
        cautions.append(
            _("More than one way to read it: measure it, discharged and out of circuit.")
        )
    if any(way.rated_volt is not None for way in found):
        cautions.append(
            _("A rated direct voltage is no leave to sit across the mains: that takes a part "
              "marked class X or Y.")
        )  # fmt: skip
    return cautions


def _disagreements(mark: str) -> list[str]:
    if not mark.lower().rstrip("d").endswith("mf"):
        return []
    return [_("On old parts MF and mF mean microfarad; today mF is a thousand of them.")]


SOURCES: Final = [
    Source("u47, 4u7, 47u; 10K 25 as microfarad, tolerance and volt", Status.SECOND_HAND,
           "IEC 60062 as quoted in an encyclopaedia article on capacitors"),
    Source("three digits: pF and a number of noughts (104 is 100 nF)", Status.COMMON_PRACTICE),
    Source("a third digit 8 or 9 stands for 0.01 or 0.1", Status.FROM_MEMORY),
    TOLERANCE_SOURCE,
    TOLERANCE_MEMORY,
    VOLTAGE_SOURCE,
    VOLTAGE_MEMORY,
    Source("MF, mfd, MMF, µµF on old parts; bare numbers by kind of part", Status.COMMON_PRACTICE),
    SERIES_SOURCE,
]  # fmt: skip
