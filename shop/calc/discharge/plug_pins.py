"""Volts left on the pins of a plug just pulled: five published rules, and the strictest of them.

V0 is the crest of the highest supply, sqrt(2) x V. Each rule allows some volts after some seconds,
for capacitors above a size. R_max = t / (C ln(V0 / Vlimit)).
"""

from __future__ import annotations

from math import exp, floor, isfinite, sqrt
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.discharge.arithmetic import charge, most_ohm, volts_after
from shop.calc.discharge.shared import Bleeder
from shop.calc.fields import fit
from shop.calc.preferred_values import SERIES_SOURCE, at_most
from shop.calc.registry import calculator
from shop.calc.shown import ohms, watts
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working


class PlugRule(msgspec.Struct, frozen=True):
    """One rule. `volt` None: a time constant, 1/e of the start; `exempt_*` at or below."""

    name: str
    after_seconds: float
    volt: float | None
    status: Status
    at: str
    exempt_farad: float = 0.0
    exempt_coulomb: float = 0.0


RULES: Final = (
    PlugRule("IEC 60335-1, 22.5", 1.0, 34.0, Status.VERIFIED, "bbs2.angui.org thread 71620",
             exempt_farad=0.1e-6),
    PlugRule("IEC 60950-1, 2.1.1.7", 1.0, None, Status.SECOND_HAND, "mzph.cn/diannao/30104.shtml",
             exempt_farad=0.1e-6),
    PlugRule("IEC 62368-1, 5.5.2.2", 2.0, 60.0, Status.FROM_MEMORY, "", exempt_farad=0.3e-6),
    PlugRule("IEC 60204-1, 6.2.4", 1.0, 60.0, Status.VERIFIED, "cmph-safety.tech/?p=933",
             exempt_coulomb=60e-6),
    PlugRule("IEC 61010-1, 6.10.3", 5.0, 60.0, Status.SECOND_HAND,
             "mail-archive.com/emc-pstc@listserv.ieee.org/msg65744.html", exempt_coulomb=45e-6),
)  # fmt: skip


class PlugIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Capacitance across the pins, the bleeder, and the highest supply (r.m.s.)."""

    farad: Annotated[
        float,
        Meta(
            title="Across the mains",
            ge=1e-12,
            le=0.001,
            description="farad, all capacitors between the pins together",
        ),
    ]
    supply_volt: Annotated[
        float,
        Meta(
            title="Highest supply",
            ge=1,
            le=500,
            description="upper limit of the supply, V r.m.s.: 253 for 230 V",
        ),
    ]
    bleeder_ohm: Bleeder = None


class PlugRuleResult(msgspec.Struct, frozen=True):
    """One rule on this plug; `most_ohm` None if the rule does not ask for a bleeder."""

    name: str
    after_seconds: float
    limit_volt: float
    volt_then: float
    is_exempt: bool
    is_met: bool
    most_ohm: float | None


class Plug(msgspec.Struct, frozen=True):
    """All rules, and the strictest: the one that asks for the lowest bleeder.

    `usual_ohm` is the largest of E12 that meets them all; the watts are at the highest supply.
    """

    crest_volt: float
    rules: list[PlugRuleResult]
    strictest: str | None
    most_ohm: float | None
    usual_ohm: float | None = None
    usual_watt: float | None = None
    bleeder_watt: float | None = None


EXAMPLE = {"farad": 0.22e-6, "supply_volt": 253.0, "bleeder_ohm": 1.8e6}


@calculator(
    "discharge.plug",
    "Volts left on the pins of the plug",
    question="Is the plug safe to touch a second after it was pulled, and what bleeder does that?",
    example=EXAMPLE,
)
def plug(given: PlugIn) -> Answer[Plug]:
    """Judge the bleeder by all five rules; the strictest counts.

    Units: farad, volt r.m.s., ohm in; seconds, volt, ohm out. Formula: V = sqrt(2) V_max
    exp(-t / RC), R_max = t / (C ln(V0 / Vlimit)).
    Source: IEC 60335-1 22.5, IEC 60950-1 2.1.1.7, IEC 62368-1 5.5.2.2, IEC 60204-1 6.2.4,
    IEC 61010-1 6.10.3.
    """
    given = fit(given)
    crest = sqrt(2.0) * given.supply_volt
    results = [_judge(rule, given, crest) for rule in RULES]
    value = _value(given, crest, results)
    failed = [result.name for result in results if not result.is_met]
    if not failed:
        return Answer(Outcome.OK, _met(value), value, _working(value))
    # Downwards: a largest value must not be rounded up.
    text = _(
        "Not met: {rules}. A bleeder of at most {kilohm} kilohm meets all: {usual} of E12.",
        rules="; ".join(failed),
        kilohm=floor((value.most_ohm or 0.0) / 1000),
        usual=ohms(value.usual_ohm or 0.0),
    )
    return Answer(Outcome.WARN, text, value, _working(value))


def _met(value: Plug) -> str:
    """Exempt is not discharged: the pins of a small capacitor keep their volts."""
    left = max(result.volt_then for result in value.rules)
    if all(result.is_exempt for result in value.rules):
        return _(
            "Too small for any of the five rules; the pins may still show {volt:.0f} V.", volt=left
        )
    return _("All five rules are met: at most {volt:.0f} V is left at their times.", volt=left)


def _value(given: PlugIn, crest: float, results: list[PlugRuleResult]) -> Plug:
    asking = [result for result in results if result.most_ohm is not None]
    strictest = min(asking, key=lambda result: result.most_ohm or 0.0, default=None)
    most = strictest.most_ohm if strictest else None
    usual = at_most(most, "E12") if most else None
    return Plug(
        crest_volt=crest,
        rules=results,
        strictest=strictest.name if strictest else None,
        most_ohm=most,
        usual_ohm=usual,
        usual_watt=given.supply_volt**2 / usual if usual else None,
        bleeder_watt=given.supply_volt**2 / given.bleeder_ohm if given.bleeder_ohm else None,
    )


def _judge(rule: PlugRule, given: PlugIn, crest: float) -> PlugRuleResult:
    limit = crest / exp(1.0) if rule.volt is None else rule.volt
    then = crest
    if given.bleeder_ohm is not None:
        then = volts_after(rule.after_seconds, given.bleeder_ohm, given.farad, crest)
    is_exempt = (
        given.farad <= rule.exempt_farad or charge(given.farad, crest) <= rule.exempt_coulomb
    )
    most = most_ohm(rule.after_seconds, given.farad, crest, limit)
    needs = not is_exempt and isfinite(most)
    # The last bit of the exponential must not fail a bleeder that is exactly the largest.
    is_met = is_exempt or then <= limit * (1 + 1e-9)
    return PlugRuleResult(
        rule.name, rule.after_seconds, limit, then, is_exempt, is_met, most if needs else None
    )


def _bleeder_lines(value: Plug) -> list[Line]:
    """What bleeders take while the unit is powered."""
    lines = []
    if value.most_ohm is not None and value.usual_ohm is not None:
        lines.append(Line(_("largest bleeder"), "t / (C ln(V0 / Vlimit))", ohms(value.most_ohm)))
        usual = f"{ohms(value.usual_ohm)}, {watts(value.usual_watt or 0.0)}"
        lines.append(Line(_("of the series, and its watts"), "E12; V^2 / R", usual))
    if value.bleeder_watt is not None:
        lines.append(Line(_("watts of the bleeder"), "V^2 / R", watts(value.bleeder_watt)))
    return lines


def _working(value: Plug) -> Working:
    lines = [
        Line(result.name, "V0 exp(-t / RC)",
             _("exempt") if result.is_exempt else
             f"{result.volt_then:.1f} V after {result.after_seconds:g} s, limit "
             f"{result.limit_volt:.1f} V")
        for result in value.rules
    ]  # fmt: skip
    lines += _bleeder_lines(value)
    sources = [
        Source(f"{rule.name}: after {rule.after_seconds:g} s", rule.status, rule.at)
        for rule in RULES
    ] + [
        Source("60 V d.c. as the steady limit of IEC 61010-1", Status.FROM_MEMORY),
        SERIES_SOURCE,
        Source("45 V in Japan", Status.SECOND_HAND, "a Japanese summary of IEC 60335-1, 22.5"),
        Source(
            "bleeders of old sets were 1.0 to 2.2 megohm", Status.SECOND_HAND, "psma.com Q1 2020"
        ),
    ]
    cautions = [
        _("Do not touch the pins of a plug just pulled: measure them first."),
        _("What is left goes through a resistor, never through a meter on ohms or ampere."),
        _("A bleeder across the mains: two in series, each for the volts, or one made for mains."),
    ]
    disagreements = [
        _("The five rules ask for different volts after different times."),
        _("IEC 60335-1: 34 V, but 45 V in the Japanese edition."),
        _("IEC 60950-1: 1 s for a unit on a plug, 10 s (from memory) for one wired in."),
    ]
    return Working(lines, sources, cautions, disagreements)
