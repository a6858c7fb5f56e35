"""Candidates for a supply, and the one that fits, with the reason where none does."""

from __future__ import annotations

from math import log

import msgspec

from shop.calc.windings.for_supply_input import ForSupplyIn
from shop.calc.windings.secondaries import at_line, heater_verdict
from shop.calc.windings.sections import Section, connect
from shop.calc.windings.verdicts import LOW_LINE, flux_ratio, judge_flux, judge_volts
from shop.calc.windings.way import Joined, Way, name_of, way
from shop.calc.windings.ways import joints
from shop.calc.words import _
from shop.calc.working import Outcome

# A sheet's stated supply against the sum of its sections: 115 V sections serve "120 V".
SHEET_TOLERANCE = 0.06
# Currents on a sheet are rounded: 150 VA over 230 V is printed as 0.65 A.
ROUNDED_CURRENT = 0.02


class Candidate(msgspec.Struct, frozen=True):
    """A setting that may be judged. `fault` is why its links must not be powered."""

    name: str
    mode: str
    from_model_sheet: bool
    rated_volt: float
    links: list[list[str]]
    line_terminals: list[str]
    sections_used: list[str]
    line_ampere: float | None
    available_va: float | None
    uses_all_sections: bool
    fault: str = ""


class Choice(msgspec.Struct, frozen=True):
    """The candidate taken and its judgement; `reason` is empty where it may be used."""

    candidate: Candidate
    reason: str
    flux_ratio: float
    flux_verdict: Outcome
    voltage_verdict: Outcome
    warnings: list[str]


def line_volt(given: ForSupplyIn) -> float:
    """The line as measured, else its nominal value."""
    return given.measured_volt if given.measured_volt is not None else given.target_volt


def candidates(given: ForSupplyIn) -> list[Candidate]:
    """Settings of the model sheet first, then every arrangement the sections allow."""
    return [*_from_sheet(given), *_from_sections(given)]


def _from_sections(given: ForSupplyIn) -> list[Candidate]:
    return [
        Candidate(
            name=name_of(way),
            mode=way.mode,
            from_model_sheet=False,
            rated_volt=way.rated_volt,
            links=way.links,
            line_terminals=way.line_terminals,
            sections_used=way.sections_used,
            line_ampere=way.line_ampere,
            available_va=way.volt_ampere,
            uses_all_sections=way.uses_all_sections,
        )
        for way in _strongest(given.sections)
    ]


def _strongest(sections: list[Section]) -> list[Way]:
    """Of ways with the same volts and the same use of the copper the one of most power."""
    best: dict[tuple[float, bool], Joined] = {}
    for one in joints(sections):
        key = (round(one.rated_volt, 6), one.size == len(sections))
        if key not in best or (one.line_ampere() or 0) > (best[key].line_ampere() or 0):
            best[key] = one
    return [way(joined, len(sections)) for joined in best.values()]


def _from_sheet(given: ForSupplyIn) -> list[Candidate]:
    found = []
    for setting in given.model_sheet_settings:
        joined = connect(given.sections, setting.links, setting.line_terminals)
        fault = joined.fault
        if not fault and abs(joined.rated_volt / setting.supply_volt - 1) > SHEET_TOLERANCE:
            fault = _(
                "the sheet says {supply:g} V, its links make {volt:g} V",
                supply=setting.supply_volt,
                volt=joined.rated_volt,
            )
        found.append(
            Candidate(
                name=setting.name,
                mode="model_sheet",
                from_model_sheet=True,
                rated_volt=setting.supply_volt if fault else joined.rated_volt,
                links=setting.links,
                line_terminals=setting.line_terminals,
                sections_used=list(joined.section_volts),
                line_ampere=None,
                available_va=None,
                uses_all_sections=len(joined.section_volts) == len(given.sections),
                fault=fault,
            )
        )
    return found


def choose(given: ForSupplyIn, found: list[Candidate]) -> Choice:
    """The sheet's setting that fits, else the nearest arrangement that fits, else the nearest."""
    faults = [
        _("model sheet, {name}: {fault}", name=one.name, fault=one.fault)
        for one in found
        if one.fault
    ]
    judged = [_judge(given, candidate, faults) for candidate in found]
    fitting = [choice for choice in judged if not choice.reason]
    if fitting:
        return min(fitting, key=lambda choice: _preference(given, choice))
    # The nearest miss tells a tech the most; a faulty sheet is told in the warnings.
    sound = [choice for choice in judged if not choice.candidate.fault]
    return min(sound, key=lambda choice: (_distance(given, choice), -choice.candidate.rated_volt))


def _preference(given: ForSupplyIn, choice: Choice) -> tuple[bool, bool, float, float]:
    one = choice.candidate
    return (
        not one.from_model_sheet,
        not one.uses_all_sections,
        _distance(given, choice),
        -one.rated_volt,
    )


def _distance(given: ForSupplyIn, choice: Choice) -> float:
    return round(abs(log(choice.candidate.rated_volt / given.target_volt)), 9)


def _judge(given: ForSupplyIn, one: Candidate, faults: list[str]) -> Choice:
    volt = max(line_volt(given), given.target_volt)
    ratio, _lowest = flux_ratio(
        plate_volt_of(given, one.rated_volt), given.plate_hz, volt, given.target_hz
    )
    verdict = judge_flux(ratio)
    factor = line_volt(given) / one.rated_volt
    return Choice(
        one,
        one.fault
        or _voltage_reason(given, one, ratio, verdict)
        or _high_reason(one, volt / one.rated_volt)
        or _low_reason(one, factor)
        or _heater_reason(given, factor)
        or _power_reason(given, one),
        ratio,
        verdict,
        judge_volts(volt / one.rated_volt),
        [*_warnings(given, one), *faults],
    )


def plate_volt_of(given: ForSupplyIn, rated_volt: float) -> float:
    """The plate's volts for this arrangement; within 15 % it may lower the sum of sections."""
    if given.plate_volt is not None and abs(given.plate_volt / rated_volt - 1) < 0.15:
        return min(given.plate_volt, rated_volt)
    return rated_volt


def _voltage_reason(given: ForSupplyIn, one: Candidate, ratio: float, verdict: Outcome) -> str:
    if verdict is not Outcome.REFUSE:
        return ""
    if given.target_hz < min(given.plate_hz) and given.target_volt <= one.rated_volt * 1.06:
        return _(
            "the core would run at {ratio:.2f} times its flux at {hz:g} Hz; "
            "the plate says {plate:g} Hz",
            ratio=ratio,
            hz=given.target_hz,
            plate=min(given.plate_hz),
        )
    return _(
        "the nearest setting is {volt:g} V; {line:g} V would be {ratio:.2f} times the flux",
        volt=one.rated_volt,
        line=max(line_volt(given), given.target_volt),
        ratio=ratio,
    )


def _high_reason(one: Candidate, factor: float) -> str:
    if judge_volts(factor) is not Outcome.REFUSE:
        return ""
    return _(
        "the nearest setting is {volt:g} V; every secondary would be {percent:+.1f} % off",
        volt=one.rated_volt,
        percent=(factor - 1) * 100,
    )


def _low_reason(one: Candidate, factor: float) -> str:
    if factor >= LOW_LINE - 1e-9:
        return ""
    return _(
        "no setting is near enough: one of {volt:g} V would run at {percent:.0f} % of its voltage",
        volt=one.rated_volt,
        percent=factor * 100,
    )


def _heater_reason(given: ForSupplyIn, factor: float) -> str:
    heater = heater_verdict([at_line(secondary, factor) for secondary in given.secondaries])
    if heater is not Outcome.REFUSE:
        return ""
    return _("heaters would be {percent:+.1f} % off", percent=(factor - 1) * 100)


def _power_reason(given: ForSupplyIn, one: Candidate) -> str:
    if one.uses_all_sections or one.from_model_sheet:
        return ""
    if given.rated_va is None or one.available_va is None:
        return _("only part of the primary fits this supply, and its share of the power is unknown")
    if one.available_va >= given.rated_va * (1 - 1e-9):
        return ""
    return _(
        "only part of the primary fits: {have:.0f} VA of {need:.0f} VA",
        have=one.available_va,
        need=given.rated_va,
    )


def _is_overloaded(given: ForSupplyIn, one: Candidate) -> bool:
    if given.rated_va is None or one.available_va is None:
        return False
    return one.available_va < given.rated_va * (1 - ROUNDED_CURRENT)


def _warnings(given: ForSupplyIn, one: Candidate) -> list[str]:
    warnings = []
    if not one.uses_all_sections:
        warnings.append(_("Not every section carries the mains current."))
    elif _is_overloaded(given, one):
        warnings.append(
            _(
                "By the sections' rated currents this setting carries {have:.0f} VA, the unit "
                "takes {need:.0f} VA: less load, or proof that the copper stands it.",
                have=one.available_va,
                need=given.rated_va,
            )
        )
    if one.from_model_sheet or not given.model_sheet_settings:
        return warnings
    return [*warnings, _("No setting of the model sheet fits; this one is computed.")]
