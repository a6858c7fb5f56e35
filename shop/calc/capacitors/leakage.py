"""The leakage an electrolytic may have: old limits and modern ones side by side, never averaged.

The old rule I = K C + 0.3 mA is roughly ten times looser than the formulas of modern data sheets.
Which one counts depends on what is asked: may an old part stay, or is a new part good.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.capacitors.inputs import Ampere, Farad, RatedVolt
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.shown import amperes
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

# Shares of the rated volts between which a reading counts as one at them; the coldest room that
# counts as 20 °C. Proposals.
BELOW: Final = 0.95
ABOVE: Final = 1.05
COLD_CELSIUS: Final = 15.0
# Up to these volts, mA for each uF.
OLD_STEPS: Final = ((100.0, 0.01), (250.0, 0.02), (350.0, 0.025), (450.0, 0.04))
EARLIEST_SECONDS: Final = 120.0
TEST_SECONDS: Final = 300.0


class Era(StrEnum):
    """Whose limit it is."""

    OLD = "old"
    MODERN = "modern"


class LeakageIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part, and if measured its leakage and the conditions: rated volts, 20 °C, 5 minutes."""

    farad: Farad
    rated_volt: RatedVolt
    measured_ampere: Annotated[
        Ampere | None, Meta(title="Measured leakage", description="ampere; V / R of the resistor")
    ] = None
    applied_volt: Annotated[
        Annotated[float, Meta(ge=0.1, le=2000)] | None,
        Meta(title="Applied voltage", description="V on the part while measuring; rated if empty"),
    ] = None
    after_seconds: Annotated[
        float,
        Meta(
            title="Read after",
            ge=0,
            le=1_000_000,
            description="seconds at that voltage, 300 if left out",
        ),
    ] = TEST_SECONDS
    celsius: Annotated[
        float,
        Meta(title="Room", ge=-40, le=125, description="°C of the part, 20 if left out"),
    ] = 20.0


class LeakageLimit(msgspec.Struct, frozen=True):
    """One limit: ampere, None where its table ends; `times` is measured over limit."""

    name: str
    era: Era
    ampere: float | None
    status: Status
    times: float | None
    is_within: bool | None


class Leakage(msgspec.Struct, frozen=True):
    """Every limit; `fair` says whether the reading was taken as the limits mean it."""

    limits: list[LeakageLimit]
    is_fair: bool


def old_ampere(farad: float, rated_volt: float) -> float | None:
    """I = K C + 0.3 mA, C in uF, K by voltage; None above 450 V. JAN-C-62, also the EIA rule."""
    step = next((k for top, k in OLD_STEPS if rated_volt <= top), None)
    return None if step is None else (step * farad * 1e6 + 0.3) / 1000


def modern_ampere(farad: float, rated_volt: float) -> float:
    """I = 0.01 C U + 3 uA, C in uF and U in V, the usual example of a modern data sheet."""
    return (0.01 * farad * 1e6 * rated_volt + 3) * 1e-6


def long_life_ampere(farad: float, rated_volt: float) -> float:
    """I = 0.006 C U + 4 uA: long-life grade of IEC 60384-4, from memory."""
    return (0.006 * farad * 1e6 * rated_volt + 4) * 1e-6


def general_ampere(farad: float, rated_volt: float) -> float:
    """I = 0.03 C U, uA: general grade of IEC 60384-4, from memory."""
    return 0.03 * farad * 1e6 * rated_volt * 1e-6


_RULES: Final[
    tuple[tuple[str, str, Era, Status, Callable[[float, float], float | None]], ...]
] = (
    (_noop("JAN-C-62 and EIA, 1940s to 1960s"), "K C + 0.3 mA", Era.OLD, Status.SECOND_HAND,
     old_ampere),
    (_noop("modern data sheets"), "0.01 C U + 3 µA", Era.MODERN, Status.SECOND_HAND,
     modern_ampere),
    (_noop("IEC 60384-4 long life, from memory"), "0.006 C U + 4 µA", Era.MODERN,
     Status.FROM_MEMORY, long_life_ampere),
    (_noop("IEC 60384-4 general, from memory"), "0.03 C U", Era.MODERN, Status.FROM_MEMORY,
     general_ampere),
)  # fmt: skip

# A radio amateurs' list: 20 uF 450 V, 1.1 mA allowed.
EXAMPLE = {"farad": 20e-6, "rated_volt": 450.0, "measured_ampere": 0.0004}


@calculator(
    "capacitors.leakage",
    "Leakage of an electrolytic capacitor",
    question="Is this leakage too much, by the old limits and by the modern ones?",
    example=EXAMPLE,
)
def leakage(given: LeakageIn) -> Answer[Leakage]:
    """The old limit and the modern ones, and what a measured leakage says under each.

    Units: farad, volt, ampere, seconds, degree Celsius. Formulas: K C + 0.3 mA (K 0.01 to 100 V,
    0.02 to 250 V, 0.025 to 350 V, 0.04 to 450 V), 0.01 C U + 3 uA; C in uF.
    Valid for: wet aluminium parts at rated volts and 20 degree Celsius after 5 minutes; other
    conditions are named, not corrected. No answer if a part was read before 2 minutes and is high,
    or below its rated volts and is low; refused above them.
    Source: JAN-C-62 by a radio amateurs' list; encyclopaedia on aluminium electrolytic capacitors.
    """
    given = fit(given)
    limits = limits_for(given.farad, given.rated_volt, given.measured_ampere)
    unfair = _unfair(given)
    value = Leakage(limits, not unfair)
    lines = [
        Line(_(name), formula, _result(limit))
        for (name, formula, *_rest), limit in zip(_RULES, limits, strict=True)
    ]
    working = Working(lines, SOURCES, [*unfair, *_cautions()], _differ())
    outcome, text = _said(given, limits)
    return Answer(outcome, text, value, working)


def limits_for(
    farad: float, rated_volt: float, measured_ampere: float | None
) -> list[LeakageLimit]:
    """Every limit for a part, judged if there is a reading."""
    found = []
    for name, _formula, era, status, rule in _RULES:
        limit = rule(farad, rated_volt)
        times = None if limit is None or measured_ampere is None else measured_ampere / limit
        is_within = None if times is None else times <= 1 + 1e-9
        found.append(LeakageLimit(_(name), era, limit, status, times, is_within))
    return found


def _said(given: LeakageIn, limits: list[LeakageLimit]) -> tuple[Outcome, str]:
    old, modern = limits[0], limits[1]
    if given.measured_ampere is not None and (said := _unlike_rated(given, old, modern)):
        return said
    if given.measured_ampere is None:
        text = _(
            "Old limit {old}, modern {modern}.",
            old=_or_none(old.ampere),
            modern=_or_none(modern.ampere),
        )
        return Outcome.OK, text
    if modern.is_within:
        return Outcome.OK, _("Good even for a new part: within the modern limit.")
    if given.after_seconds < EARLIEST_SECONDS:
        return Outcome.NO_ANSWER, _("Read too early: it may still be falling. Wait 5 minutes.")
    if old.is_within:
        text = _("Within the old limit, not within the modern one: an old part may stay, a new one "
                 "may not be fitted.")  # fmt: skip
        return Outcome.WARN, text
    if old.ampere is None:
        return Outcome.WARN, _("Above the modern limit; the old table ends at 450 V.")
    return Outcome.WARN, _("Above the old limit too: re-form it or replace it.")


def _unlike_rated(
    given: LeakageIn, old: LeakageLimit, modern: LeakageLimit
) -> tuple[Outcome, str] | None:
    """What a reading says that was not taken at the rated volts or in the cold; None if it was."""
    applied = given.applied_volt or given.rated_volt
    if applied > ABOVE * given.rated_volt:
        text = _("Above the rated voltage of the part: take it down at once, judge nothing by it.")
        return Outcome.REFUSE, text
    if applied < BELOW * given.rated_volt and (modern.is_within or old.is_within):
        text = _(
            "Read well below the rated voltage, where a bad part leaks little too: no pass. Read "
            "it at {volt:g} V.",
            volt=given.rated_volt,
        )
        return Outcome.NO_ANSWER, text
    if modern.is_within and given.celsius < COLD_CELSIUS:
        return Outcome.WARN, _(
            "Within the modern limit, but read cold, and leakage grows with heat: read it at 20 °C."
        )
    return None


def _result(limit: LeakageLimit) -> str:
    if limit.is_within is None:
        return _or_none(limit.ampere)
    said = _("within") if limit.is_within else _("above")
    return f"{_or_none(limit.ampere)}: {said} ({limit.times:.2g} x)"


def _or_none(ampere: float | None) -> str:
    return _("none: its table ends at 450 V") if ampere is None else amperes(ampere)


def _unfair(given: LeakageIn) -> list[str]:
    """How the reading differs from what the limits mean."""
    if given.measured_ampere is None:
        return []
    applied = given.applied_volt or given.rated_volt
    found = []
    if applied < BELOW * given.rated_volt:
        found.append(_("Read below the rated voltage: at 70 % it is about half."))
    if applied > ABOVE * given.rated_volt:
        found.append(_("Read above the rated voltage: take it down at once."))
    if given.after_seconds < TEST_SECONDS:
        found.append(_("Read before 5 minutes: the limits are for 2 or 5 minutes."))
    if not COLD_CELSIUS <= given.celsius <= 25:
        found.append(_("Not at 20 °C: at 85 °C leakage is about four times as much."))
    return found


def _cautions() -> list[str]:
    return [
        _("Charged to its rated voltage it can kill: enclose it, discharge it, measure it again."),
        _("After an hour a sound part can be at a hundredth of its limit: near the limit is not "
          "good."),
    ]  # fmt: skip


def _differ() -> list[str]:
    return [
        _("Old limits are 8 to 52 times looser than modern ones in the cases worked out: both are "
          "shown, none is averaged."),
        _("Small parts: 0.3 C U instead of 0.03 C U (from memory); where the border lies is not "
          "known here."),
        _("Read after 2 minutes or after 5, by data sheet; MIL-C-62F says 5."),
    ]  # fmt: skip


_ENCYCLOPAEDIA = "encyclopaedia article on aluminium electrolytic capacitors"
SOURCES: Final = [
    Source("JAN-C-62, also the EIA rule: K C + 0.3 mA", Status.SECOND_HAND,
           "mail-archive.com/amradio@mailman.qth.net/msg21215.html"),
    Source("0.01 C U + 3 µA after 2 or 5 minutes", Status.SECOND_HAND, _ENCYCLOPAEDIA),
    Source("0.006 C U + 4 µA; 0.03 C U", Status.FROM_MEMORY, "IEC 60384-4"),
    Source("rated volts within 60 s, read at 5 minutes, meter within 5 %", Status.VERIFIED,
           "MIL-C-62F, 4.5.3"),
    Source("four times at 85 °C, half at 70 % of the volts, a hundredth after an hour",
           Status.SECOND_HAND, _ENCYCLOPAEDIA),
]  # fmt: skip
