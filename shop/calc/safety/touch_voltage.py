"""Is a steady voltage safe to touch: the published limits, and the bench's own."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

BENCH_DC_VOLT: Final = 50.0
ELV_DC_VOLT: Final = 120.0  # IEC 61140, where extra-low voltage ends
CREST: Final = sqrt(2)


class VoltRule(msgspec.Struct, frozen=True):
    """One limit: volts a.c. (r.m.s.) and d.c.; `is_combined` adds their shares up to one.

    `counts` is false for rows that bound a band and do not allow touching.
    """

    name: str
    meaning: str
    ac_volt: float
    dc_volt: float
    source: Source
    is_combined: bool = False
    is_for_wet: bool = False
    counts: bool = True


_VERIFIED, _MEMORY = Status.VERIFIED, Status.FROM_MEMORY
_60335 = Source("IEC 60335-1, 8.1.4: 42.4 V peak or d.c.", _VERIFIED, "bbs.angui.org thread 91142")
_DRY = Source("IEC 61140: 25 V a.c., 60 V d.c. in dry places", _VERIFIED, "IEC 63044-3, excerpt")
_WET = Source("IEC 61140: 12 V a.c., 30 V d.c. elsewhere", _VERIFIED, "IEC 63044-3, excerpt")
_ELV = Source("IEC 61140: extra-low voltage ends at 50 V a.c., 120 V d.c.", _VERIFIED,
              "scope note of EN 61347-2-2")  # fmt: skip
_60065 = Source("IEC 60065, 9.1.1: 35 V peak, 60 V d.c.", _MEMORY)
_ES1 = Source("IEC 62368-1 table 4, ES1: 30 V r.m.s., 60 V d.c., Udc/60 + Uac/30 ≤ 1", _MEMORY)
_ES2 = Source("IEC 62368-1 table 4, ES2: 50 V r.m.s., 120 V d.c.", _MEMORY)
_OUTPUT = Source("IEC 62368-1 annex E: marked audio outputs up to 71 V r.m.s.", _MEMORY)
_BENCH = Source(
    "Bench rule: 50 V d.c., stricter than the 60 V of most standards; 25 V a.c. as IEC 61140, dry",
    Status.PROPOSED,
)

RULES: Final = (
    VoltRule("IEC 61140", _noop("no basic protection needed, dry"), 25, 60, _DRY),
    VoltRule("IEC 61140", _noop("no basic protection needed, wet"), 12, 30, _WET, is_for_wet=True),
    VoltRule("IEC 60335-1", _noop("a touchable part is not live"), 42.4 / CREST, 42.4, _60335),
    VoltRule("IEC 60065", _noop("old audio equipment"), 35 / CREST, 60, _60065),
    VoltRule("IEC 62368-1", _noop("ES1"), 30, 60, _ES1, is_combined=True),
    VoltRule("IEC 62368-1", _noop("ES2, felt but no harm"), 50, 120, _ES2, counts=False),
    VoltRule("IEC 61140", _noop("end of extra-low voltage"), 50, ELV_DC_VOLT, _ELV, counts=False),
    VoltRule("IEC 62368-1", _noop("marked audio outputs"), 71, 120, _OUTPUT, counts=False),
    VoltRule("bench", _noop("the bench's own rule"), 25, BENCH_DC_VOLT, _BENCH, is_combined=True),
)


class TouchVoltageIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The voltage, steady, between what a hand can bridge."""

    dc_volt: Annotated[
        float, Meta(ge=0, le=20000, title="D.c. part", description="volt, without sign")
    ] = 0.0
    ac_volt: Annotated[
        float, Meta(ge=0, le=20000, title="A.c. part", description="volt r.m.s., up to 1 kHz")
    ] = 0.0
    is_wet: Annotated[bool, Meta(title="Wet", description="damp floor, wet hands, outdoors")] = (
        False
    )


class VoltRow(msgspec.Struct, frozen=True):
    """One rule on this voltage. `allows_touching` is false for rows that only bound a band."""

    name: str
    meaning: str
    ac_volt: float
    dc_volt: float
    is_met: bool
    allows_touching: bool


class TouchVoltageOut(msgspec.Struct, frozen=True):
    """Touchable by the bench's rule, in the wet by the rule for it too; every rule beside it."""

    is_touchable: bool
    is_live: bool
    rows: list[VoltRow]


EXAMPLE = {"dc_volt": 48}


@calculator(
    "safety.touch_voltage",
    "Voltage that may be touched",
    question="Is this voltage safe to touch?",
    example=EXAMPLE,
)
def touch_voltage(given: TouchVoltageIn) -> Answer[TouchVoltageOut]:
    """Compare a steady voltage with the bench's rule and, beside it, every published limit.

    Units: V d.c., V a.c. r.m.s. Bench: Udc/50 + Uac/25 at most 1; ES1: Udc/60 + Uac/30 at most 1;
    the other rules are met if each part is. WARN as soon as one of them is not. Above 60 V d.c. or
    30 V a.c. it counts as live.
    Source: IEC 61140, IEC 60335-1, IEC 60065, IEC 62368-1; the bench's own rule is a proposal.
    """
    given = fit(given)
    rules = [rule for rule in RULES if given.is_wet or not rule.is_for_wet]
    rows = [_row(rule, given) for rule in rules]
    touchable = all(row.is_met for row, rule in zip(rows, rules, strict=True) if _decides(rule))
    live = given.dc_volt > 60 or given.ac_volt > 30
    value = TouchVoltageOut(touchable, live, rows)
    sources = [rule.source for rule in rules]
    working = Working(_lines(value), sources, _cautions(), _differ())
    clear = not _broken(value)
    return Answer(Outcome.OK if clear else Outcome.WARN, _text(value), value, working)


def _decides(rule: VoltRule) -> bool:
    return rule.source is _BENCH or rule.is_for_wet


def _broken(value: TouchVoltageOut) -> str:
    """Names of the rules for touching that this voltage breaks."""
    broken = [row.name for row in value.rows if row.allows_touching and not row.is_met]
    return ", ".join(dict.fromkeys(broken))


def _row(rule: VoltRule, given: TouchVoltageIn) -> VoltRow:
    fits: Callable[[VoltRule, TouchVoltageIn], bool] = _by_share if rule.is_combined else _each
    return VoltRow(
        rule.name,
        rule.meaning,
        round(rule.ac_volt, 1),
        rule.dc_volt,
        fits(rule, given),
        rule.counts,
    )


def _by_share(rule: VoltRule, given: TouchVoltageIn) -> bool:
    return given.dc_volt / rule.dc_volt + given.ac_volt / rule.ac_volt <= 1 + 1e-9


def _each(rule: VoltRule, given: TouchVoltageIn) -> bool:
    return given.dc_volt <= rule.dc_volt + 1e-9 and given.ac_volt <= rule.ac_volt + 1e-9


def _text(value: TouchVoltageOut) -> str:
    names = _broken(value)
    if not names:
        return _("Within every limit for touching.")
    if value.is_live:
        return _("Live: do not touch. Above {names}.", names=names)
    if value.is_touchable:
        return _("Within the bench's own rule, but above {names}.", names=names)
    return _("Not to be touched: above {names}.", names=names)


def _lines(value: TouchVoltageOut) -> list[Line]:
    said = {True: _("within"), False: _("above")}
    return [
        Line(
            f"{row.name}, {_(row.meaning)}",
            f"≤ {row.ac_volt:g} V~, {row.dc_volt:g} V=",
            said[row.is_met],
        )
        for row in value.rows
    ]


def _cautions() -> list[str]:
    return [
        _("For steady voltages and whole skin; a charged capacitor is another question."),
        _("Prove the meter on a known source before and after."),
        _("Discharge, then measure, then touch; local codes come first."),
    ]


def _differ() -> list[str]:
    return [
        _("D.c.: 42.4 V (IEC 60335-1), 50 V (bench), 60 V (IEC 62368-1, 61140 dry), "
          "120 V (end of extra-low voltage)."),
    ]  # fmt: skip
