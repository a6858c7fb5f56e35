"""A mains switch at another voltage: its marking, its current, and the inrush."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, MainsVolt, fit
from shop.calc.fuses.scale import rated_volt_suffices
from shop.calc.registry import calculator
from shop.calc.voltage_parts.fittings import SWITCH_SOURCE
from shop.calc.voltage_parts.parts import HighVolt, NewVolt, Verdict, upper_limit
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

# Steady and peak inrush ampere.
TV_AMPERE: dict[str, tuple[float, float]] = {"TV-5": (5, 78), "TV-8": (8, 117)}
TV_SOURCE = Source(
    "UL ratings for television sets: TV-5 5 A and 78 A peak, TV-8 8 A and 117 A", Status.FROM_MEMORY
)


class SwitchIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The switch's marking, the supply, and what it switches."""

    nominal_volt: NewVolt
    high_volt: HighVolt = None
    rated_volt: Annotated[
        MainsVolt | None, Meta(title="Marked voltage", description="volt a.c. on the switch")
    ] = None
    rated_ampere: Annotated[
        Ampere | None, Meta(title="Marked current", description="ampere on the switch")
    ] = None
    tv_rating: Annotated[
        Literal["TV-5", "TV-8"] | None,
        Meta(title="TV rating", description="North American mark for inrush"),
    ] = None
    line_ampere: Annotated[
        Ampere | None, Meta(title="Line current", description="ampere at the new voltage")
    ] = None
    inrush_peak_ampere: Annotated[
        Ampere | None,
        Meta(title="Inrush", description="peak ampere; from the fuse's inrush check or a scope"),
    ] = None


class SwitchOut(msgspec.Struct, frozen=True):
    """The verdict with each comparison; None where one side is not known."""

    verdict: Verdict
    volt_suffices: bool | None
    ampere_suffices: bool | None
    inrush_suffices: bool | None


EXAMPLE = {"nominal_volt": 230, "rated_volt": 250, "rated_ampere": 4, "line_ampere": 0.65}


@calculator(
    "voltage_parts.switch",
    "Mains switch at another voltage",
    question="May the mains switch stay at the new voltage?",
    example=EXAMPLE,
)
def switch(given: SwitchIn) -> Answer[SwitchOut]:
    """Judge a mains switch by its marked volts, its current and its mark for inrush.

    Units: V, A, A peak. The current halves at twice the voltage, but the contact gap must be made
    for it. What is not marked is to be checked, never presumed.
    Source: IEC 61058-1 and UL ratings, both from memory.
    """
    given = fit(given)
    value = _value(given)
    working = Working(_lines(given, value), [SWITCH_SOURCE, TV_SOURCE], _cautions())
    text = {
        "keep": _("The switch may stay."),
        "check": _("The switch is not known well enough: read its volts and ampere."),
        "replace": _("The switch must go: marked for less than this."),
    }[value.verdict]
    outcome = Outcome.OK if value.verdict == "keep" else Outcome.WARN
    return Answer(outcome, text, value, working)


def _value(given: SwitchIn) -> SwitchOut:
    high = upper_limit(given.nominal_volt, given.high_volt)
    steady, peak = TV_AMPERE.get(given.tv_rating or "", (given.rated_ampere, None))
    volt = None
    if given.rated_volt is not None:
        volt = rated_volt_suffices(given.rated_volt, given.nominal_volt, high)
    ampere = _reaches(given.rated_ampere or steady, given.line_ampere)
    inrush = _reaches(peak, given.inrush_peak_ampere)
    return SwitchOut(_verdict(volt, ampere, inrush), volt, ampere, inrush)


def _reaches(rated: float | None, wanted: float | None) -> bool | None:
    return None if rated is None or wanted is None else rated >= wanted


def _verdict(volt: bool | None, ampere: bool | None, inrush: bool | None) -> Verdict:
    if False in (volt, ampere, inrush):
        return "replace"
    return "keep" if volt and ampere else "check"


def _lines(given: SwitchIn, value: SwitchOut) -> list[Line]:
    said = {True: _("suffices"), False: _("does not suffice"), None: _("not known")}
    wanted = _("{volt:g} V supply", volt=given.nominal_volt)
    return [
        Line(_("voltage"), wanted, said[value.volt_suffices]),
        Line(_("current"), "I_marked ≥ I_line", said[value.ampere_suffices]),
        Line(_("inrush"), "I_TV ≥ I_peak", said[value.inrush_suffices]),
    ]


def _cautions() -> list[str]:
    return [
        _("A switch with burnt or slow contacts goes, whatever its marking."),
        _("A single-pole switch belongs in the line, not the neutral."),
        _("Mains work is for a competent person; local codes come first."),
    ]
