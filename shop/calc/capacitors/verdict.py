"""May this capacitor stay: what was measured, each with its reason, and the worst of them.

Pass: at least 80 % of the marked value and less than twice the ESR of a good one. Replace: below
70 %, above three times, or leakage above every limit. What lies between is for a person to judge.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.capacitors.esr import guides_for
from shop.calc.capacitors.inputs import Ampere, Farad, Ohm, RatedVolt
from shop.calc.capacitors.leakage import limits_for
from shop.calc.capacitors.reform import HIGH_VOLT
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.shown import amperes, farads, ohms
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

PASS_SHARE: Final = 0.8
REPLACE_SHARE: Final = 0.7
PASS_TIMES: Final = 2.0
REPLACE_TIMES: Final = 3.0
# What is exactly at a border must not cross it by the last bit of a quotient.
LAST_BIT: Final = 1e-9


class Decision(StrEnum):
    """In order of gravity."""

    PASS = "pass"  # noqa: S105  a verdict, no password
    JUDGE = "judge"
    REPLACE = "replace"


GRAVITY: Final = (Decision.PASS, Decision.JUDGE, Decision.REPLACE)


class VerdictIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part by its marking, and whatever was measured on it out of circuit."""

    farad: Farad
    rated_volt: RatedVolt
    high_percent: Annotated[
        float,
        Meta(
            title="Upper tolerance",
            ge=0,
            le=150,
            description="percent above the marked value; 50 or 80 for old parts, 20 if left out",
        ),
    ] = 20.0
    measured_farad: Annotated[
        Annotated[float, Meta(ge=0, le=20)] | None,
        Meta(title="Measured capacitance", description="farad; 0 if it is open"),
    ] = None
    measured_ohm: Annotated[
        Ohm | None, Meta(title="Measured ESR", description="ohm at about 100 kHz")
    ] = None
    good_ohm: Annotated[
        Ohm | None,
        Meta(title="ESR of a good one", description="ohm at the same frequency, from the maker's "
             "sheet or a new part; guide tables if left out"),
    ] = None  # fmt: skip
    measured_ampere: Annotated[
        Ampere | None, Meta(title="Measured leakage", description="ampere at rated V, 5 minutes")
    ] = None
    is_new: Annotated[
        bool, Meta(title="New part", description="a part to be fitted: modern limits only")
    ] = False


class Reason(msgspec.Struct, frozen=True):
    """What one reading says."""

    of: str
    decision: Decision
    text: str


class Judged(msgspec.Struct, frozen=True):
    """The worst of the reasons; `missing` names what was not measured."""

    decision: Decision
    reasons: list[Reason]
    missing: list[str]


EXAMPLE = {
    "farad": 100e-6,
    "rated_volt": 63.0,
    "measured_farad": 74e-6,
    "measured_ohm": 0.5,
    "measured_ampere": 0.0002,
}


@calculator(
    "capacitors.verdict",
    "May this capacitor stay",
    question="By what I measured, does this capacitor pass, or is it to be replaced?",
    example=EXAMPLE,
)
def verdict(given: VerdictIn) -> Answer[Judged]:
    """Pass, judge or replace by capacitance, ESR and leakage, each with its reason.

    Units: farad, volt, ohm, ampere, percent. Pass needs capacitance and ESR, above 70 V leakage
    too; what is missing leaves it to be judged. Two guide tables of ESR must agree, else it is to
    be judged.
    Nothing measured: no answer. Source: IEC 60384-4 endurance criteria as described in an
    encyclopaedia; makers' guides; the rule built from them is our choice.
    """
    given = fit(given)
    reasons = [*_by_farad(given), *_by_ohm(given), *_by_ampere(given)]
    missing = _missing(given)
    working = Working(_lines(given, reasons), SOURCES, _cautions(), _differ())
    if not reasons:
        return Answer(Outcome.NO_ANSWER, _("Measure it first: nothing was given."), None, working)
    worst = max((one.decision for one in reasons), key=GRAVITY.index)
    is_whole = given.measured_farad is not None and given.measured_ohm is not None
    # High volts: what leaks there heats, bursts and takes valves with it, and ESR does not show it.
    is_whole = is_whole and (given.measured_ampere is not None or given.rated_volt <= HIGH_VOLT)
    if worst is Decision.PASS and not is_whole:
        worst = Decision.JUDGE
    outcome = Outcome.OK if worst is Decision.PASS else Outcome.WARN
    value = Judged(worst, reasons, missing)
    return Answer(outcome, _said(value), value, working)


def _by_farad(given: VerdictIn) -> list[Reason]:
    if given.measured_farad is None:
        return []
    share = given.measured_farad / given.farad
    said = _("{share:.0f} % of the marked {farad}", share=share * 100, farad=farads(given.farad))
    if share < REPLACE_SHARE - LAST_BIT:
        decision = Decision.REPLACE
    elif share < PASS_SHARE - LAST_BIT:
        decision = Decision.JUDGE
    elif share > 1 + given.high_percent / 100 + LAST_BIT:
        decision = Decision.JUDGE
        said += " " + _("is above its tolerance: a leaky part reads high, measure leakage")
    else:
        decision = Decision.PASS
    return [Reason(_("capacitance"), decision, said)]


def _by_ohm(given: VerdictIn) -> list[Reason]:
    """By the good figure if there is one, else by every guide value; they have to agree."""
    if given.measured_ohm is None:
        return []
    name = _("ESR")
    good = _good_ohms(given)
    if not good:
        said = _("no guide value for this size and voltage")
        return [Reason(name, Decision.JUDGE, said)]
    decisions = {_of_times(given.measured_ohm / ohm) for _source, ohm in good}
    decision = decisions.pop() if len(decisions) == 1 else Decision.JUDGE
    shown = "; ".join(
        _("{times:.2g} times {ohm} ({source})", times=given.measured_ohm / ohm, ohm=ohms(ohm),
          source=source)
        for source, ohm in good
    )  # fmt: skip
    return [Reason(name, decision, shown)]


def _good_ohms(given: VerdictIn) -> list[tuple[str, float]]:
    if given.good_ohm is not None:
        return [(_("as stated"), given.good_ohm)]
    guides = guides_for(given.farad, given.rated_volt, None)
    return [(f"{one.table} {one.column_volt} V", one.ohm) for one in guides if one.ohm is not None]


def _of_times(times: float) -> Decision:
    if times < PASS_TIMES - LAST_BIT:
        return Decision.PASS
    return Decision.REPLACE if times > REPLACE_TIMES + LAST_BIT else Decision.JUDGE


def _by_ampere(given: VerdictIn) -> list[Reason]:
    """Old limit and the modern data-sheet formula; figures from memory decide nothing."""
    if given.measured_ampere is None:
        return []
    old, modern = limits_for(given.farad, given.rated_volt, given.measured_ampere)[:2]
    shown = amperes(given.measured_ampere)
    if modern.is_within:
        decision, said = Decision.PASS, _("{shown}: within the modern limit", shown=shown)
    elif given.is_new:
        decision, said = Decision.REPLACE, _("{shown}: too much for a new part", shown=shown)
    elif old.is_within is None:
        said = _("{shown}: above the modern limit, no old limit over 450 V", shown=shown)
        decision = Decision.JUDGE
    elif old.is_within:
        said = _("{shown}: within the old limit, above the modern one", shown=shown)
        decision = Decision.JUDGE
    else:
        said = _("{shown}: above the old limit too; re-forming may help", shown=shown)
        decision = Decision.REPLACE
    return [Reason(_("leakage"), decision, said)]


def _missing(given: VerdictIn) -> list[str]:
    readings = (
        (_("capacitance"), given.measured_farad),
        (_("ESR"), given.measured_ohm),
        (_("leakage"), given.measured_ampere),
    )
    return [name for name, reading in readings if reading is None]


def words() -> dict[Decision, str]:
    """The decisions as a tech says them."""
    return {
        Decision.PASS: _("pass"),
        Decision.JUDGE: _("for you to judge"),
        Decision.REPLACE: _("replace"),
    }


def _said(value: Judged) -> str:
    deciding = [one for one in value.reasons if one.decision is value.decision]
    text = words()[value.decision].capitalize()
    if deciding and value.decision is not Decision.PASS:
        text += ": " + "; ".join(f"{one.of} {one.text}" for one in deciding)
    if value.missing:
        text += ". " + _("Not measured: {names}", names=", ".join(value.missing))
    return text + "."


def _lines(given: VerdictIn, reasons: list[Reason]) -> list[Line]:
    head = Line(_("part"), "C, U", f"{farads(given.farad)}, {given.rated_volt:g} V")
    said = words()
    return [head, *(Line(one.of, one.text, said[one.decision]) for one in reasons)]


def _cautions() -> list[str]:
    return [
        _("Discharge it, lift one end, and measure out of circuit: parts in parallel mislead."),
        _("A bulge, a leak or a smell means replace, whatever the meter says."),
        _("A capacitor across the mains or from line to chassis is judged by its class, not here."),
    ]


def _differ() -> list[str]:
    return [
        _("End of life: capacitance down 30 % and ESR three times (IEC 60384-4 endurance), or "
          "20 % and twice (makers' cautious guides)."),
        _("Below 80 % of the marked value is bad by a repair guide; a part made to -20 % may have "
          "left the factory there."),
    ]  # fmt: skip


_ENCYCLOPAEDIA = "encyclopaedia article on aluminium electrolytic capacitors"
SOURCES: Final = [
    Source("no pass above 70 V without leakage", Status.PROPOSED),
    Source("endurance failure: C down 30 %, ESR and tan δ three times", Status.SECOND_HAND,
           f"IEC 60384-4-1 as described in the {_ENCYCLOPAEDIA}"),
    Source("design limits: C down 20 %, ESR twice", Status.SECOND_HAND, "makers' guides by a "
           "project note"),
    Source("C below 80 % of the marked value", Status.SECOND_HAND, "a repair guide"),
    Source("pass, judge, replace at 80 % and 70 %, twice and three times", Status.PROPOSED),
    Source("a leaky part reads high; old parts were -20/+80 or -10/+50 %", Status.COMMON_PRACTICE),
]  # fmt: skip
