"""Bringing back an electrolytic that lay idle: our schedule, and the published ones beside it.

The part hangs on a supply through a resistor. Its leakage is I = V_R / R, its own voltage what is
left of the supply. A short puts the whole supply on the resistor: P = V^2 / R.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.capacitors.inputs import Farad, RatedVolt
from shop.calc.capacitors.leakage import limits_for
from shop.calc.capacitors.reform_procedures import (
    EVERY_SOURCE,
    MINUTE,
    Part,
    Procedure,
    Stage,
    maker_ohm,
    procedures,
)
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.shown import amperes, farads, ohms, volts, watts
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

SHARES: Final = (0.25, 0.5, 0.75, 0.9, 1.0)
LONG_IDLE_YEARS: Final = 5.0
TAKE_OUT_YEARS: Final = 10.0
HIGH_VOLT: Final = 70.0
# Above this a resistor that holds a short needs a supply with a current limit.
HARMLESS_WATT: Final = 5.0


class ReformIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part out of circuit, how long it lay idle, and perhaps a reading on the resistor."""

    farad: Farad
    rated_volt: RatedVolt
    idle_years: Annotated[
        float, Meta(title="Idle for", ge=0, le=100, description="years without voltage")
    ]
    resistor_ohm: Annotated[
        Annotated[float, Meta(ge=10, le=1e7)] | None,
        Meta(title="Resistor in series", description="ohm; 10 k to 75 V, 100 k above if left out"),
    ] = None
    supply_volt: Annotated[
        Annotated[float, Meta(ge=0.1, le=2000)] | None,
        Meta(title="Supply now", description="V on resistor and part together, with a reading"),
    ] = None
    resistor_volt: Annotated[
        Annotated[float, Meta(ge=0, le=2000)] | None,
        Meta(title="Voltage on the resistor", description="V, read while it forms"),
    ] = None


class Now(msgspec.Struct, frozen=True):
    """What a reading says: leakage in A, V on the part; None where no limit is known."""

    leakage_ampere: float
    part_volt: float
    is_within_old: bool | None
    is_within_modern: bool


class Reform(msgspec.Struct, frozen=True):
    """Our schedule through our resistor, the published ones, and what a reading says."""

    resistor_ohm: float
    short_ampere: float
    short_watt: float
    charging_seconds: float
    schedule: list[Stage]
    total_seconds: float
    procedures: list[Procedure]
    now: Now | None


EXAMPLE = {
    "farad": 47e-6,
    "rated_volt": 450.0,
    "idle_years": 12.0,
    "supply_volt": 225.0,
    "resistor_volt": 18.0,
}


@calculator(
    "capacitors.reform",
    "Re-forming a capacitor",
    question="How do I bring this capacitor back after years without voltage?",
    example=EXAMPLE,
)
def reform(given: ReformIn) -> Answer[Reform]:
    """A schedule through a resistor, the published ones beside it, and leakage from V_R / R.

    Units: farad, volt, years, ohm in; ampere, watt, seconds out. Formulas: I = V_R / R,
    V_part = V - V_R, P_short = V^2 / R, charging 5 R C. Warns for parts above 70 V, for more than
    5 W in a short, and for a part idle over 10 years. Raises BadInput if the reading is above the
    supply or stands without one, or the supply is above the rated voltage.
    Source: EIA-815 and eight other pages, see `sources`; the schedule is our choice.
    """
    given = fit(given)
    if given.supply_volt is not None and given.supply_volt > given.rated_volt * (1 + 1e-9):
        reason = _("Above the rated voltage of the part: take it down.")
        raise BadInput("supply_volt", reason, "above_rated")
    ohm = given.resistor_ohm or maker_ohm(given.rated_volt)
    schedule = _schedule(given)
    value = Reform(
        resistor_ohm=ohm,
        short_ampere=given.rated_volt / ohm,
        short_watt=given.rated_volt**2 / ohm,
        charging_seconds=5 * ohm * given.farad,
        schedule=schedule,
        total_seconds=sum(stage.seconds for stage in schedule),
        procedures=procedures(Part(given.rated_volt, given.idle_years)),
        now=_now(given, ohm),
    )
    warnings = _warnings(given, value)
    working = Working(_lines(given, value), SOURCES, [*warnings, *_cautions()], _differ(value))
    return Answer(
        Outcome.WARN if warnings else Outcome.OK, _said(value, given.idle_years < 1), value, working
    )


def _schedule(given: ReformIn) -> list[Stage]:
    """Shares of the rated volts for 30 minutes, 60 at the end; 10 % and twice if idle for long."""
    is_long = given.idle_years > LONG_IDLE_YEARS
    shares = (0.1, *SHARES) if is_long else SHARES
    dwell = 30 * MINUTE * (2 if is_long else 1)
    return [Stage(given.rated_volt * share, dwell * 2 if share == 1 else dwell) for share in shares]


def _now(given: ReformIn, ohm: float) -> Now | None:
    if given.resistor_volt is None:
        return None
    supply = given.supply_volt
    if supply is None:
        reason = _("Give the supply voltage of this moment too.")
        raise BadInput("supply_volt", reason, "needs_supply_volt")
    if given.resistor_volt > supply:
        reason = _("More than the supply gives: read it again.")
        raise BadInput("resistor_volt", reason, "above_supply")
    ampere = given.resistor_volt / ohm
    old, modern = limits_for(given.farad, given.rated_volt, ampere)[:2]
    return Now(
        leakage_ampere=ampere,
        part_volt=supply - given.resistor_volt,
        is_within_old=old.is_within,
        is_within_modern=bool(modern.is_within),
    )


def _warnings(given: ReformIn, value: Reform) -> list[str]:
    said = []
    if given.rated_volt > HIGH_VOLT:
        said.append(_("Above 70 V: it can kill while it forms and long after. Enclose it."))
    if value.short_watt > HARMLESS_WATT:
        said.append(_("A short would put {watt} on the resistor: use a supply with a current "
                      "limit.", watt=watts(value.short_watt)))  # fmt: skip
    if given.idle_years > TAKE_OUT_YEARS:
        said.append(_("Idle for over 10 years: better replaced where it works at high voltage."))
    return said


def _said(value: Reform, is_short: bool) -> str:
    hours = value.total_seconds / 3600
    short = _("Idle under a year: three sources ask for none, so measure leakage first.")
    text = f"{short} " if is_short else ""
    text += _("{count} steps through {ohm}, {hours:.3g} h in all.", count=len(value.schedule),
             ohm=ohms(value.resistor_ohm), hours=hours)  # fmt: skip
    if value.now is None:
        return text
    ampere, volt = amperes(value.now.leakage_ampere), volts(value.now.part_volt)
    text += " " + _("Now {ampere} with {volt} on the part", ampere=ampere, volt=volt)
    if value.now.is_within_modern:
        return text + ": " + _("within the modern limit.")
    if value.now.is_within_old:
        return text + ": " + _("within the old limit, not yet the modern one.")
    return text + ": " + _("too much yet; go on only if it falls.")


def _lines(given: ReformIn, value: Reform) -> list[Line]:
    head = [
        Line(_("part"), "C, U", f"{farads(given.farad)}, {given.rated_volt:g} V"),
        Line(_("resistor"), "R", ohms(value.resistor_ohm)),
        Line(_("if the part is a short"), "U / R, U^2 / R",
             f"{amperes(value.short_ampere)}, {watts(value.short_watt)}"),
        Line(_("charging"), "5 R C", f"{value.charging_seconds:.3g} s"),
    ]  # fmt: skip
    steps = [
        Line(f"{stage.volt:.4g} V", _("hold"), _span(stage)) for stage in value.schedule
    ]  # fmt: skip
    return [*head, *steps, *_now_lines(value), *map(_published, value.procedures)]


def _now_lines(value: Reform) -> list[Line]:
    if value.now is None:
        return []
    return [
        Line(_("leakage now"), "V_R / R", amperes(value.now.leakage_ampere)),
        Line(_("on the part now"), "V - V_R", volts(value.now.part_volt)),
    ]


def _published(one: Procedure) -> Line:
    steps = ", ".join(f"{stage.volt:.4g} V {_span(stage)}" for stage in one.stages) or _("no steps")
    resistor = "" if one.resistor_ohm is None else f"{ohms(one.resistor_ohm)}: "
    watt = "" if one.short_watt is None else _(" ({watt} in a short)", watt=watts(one.short_watt))
    return Line(one.name, one.remark, f"{resistor}{steps}{watt}")


def _span(stage: Stage) -> str:
    low = f"{stage.seconds / MINUTE:g}"
    return (
        f"{low} min"
        if stage.most_seconds is None
        else (f"{low} – {stage.most_seconds / MINUTE:g} min")
    )


def _cautions() -> list[str]:
    return [
        _("Go on only if the current falls or stays: rising current, heat over 10 K, hiss or smell "
          "mean stop."),
        _("Polarity right, a screen before it: a forming part can burst."),
        _("Discharge it through a resistor afterwards and measure again after a minute: volts come "
          "back."),
        _("In the unit a slow ramp does not limit the current of each part as a resistor does."),
        _("Local codes and licensed practice come first."),
    ]  # fmt: skip


def _differ(value: Reform) -> list[str]:
    hours = [
        sum(stage.most_seconds or stage.seconds for stage in one.stages) / 3600
        for one in value.procedures
        if one.stages
    ]
    return [
        _("Published times for this part run from {low:.2g} to {high:.2g} h, resistors from "
          "100 ohm to 100 kohm.", low=min(hours), high=max(hours)),
        _("One page lets a motor drive rest 2 years without forming, another 1 year."),
        _("MIL-HDBK-1131: 10 mA is quoted in two project notes; the handbook was not seen."),
        _("A museum report: of over 100 parts idle for 20 years none failed after slow forming; "
          "those above 70 V need much more time."),
    ]  # fmt: skip


SOURCES: Final = [
    Source("25, 50, 75, 90, 100 %, 30 minutes each, 60 at the end; 10 % and twice the time after "
           "5 years", Status.PROPOSED),
    *EVERY_SOURCE,
    Source("I = V_R / R, P = V^2 / R, 5 R C", Status.COMPUTED),
    Source("old and modern limits", Status.SECOND_HAND, "as `capacitors.leakage`"),
]  # fmt: skip
