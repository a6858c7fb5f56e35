"""The verdict on one reading, with its working. Formulas and rules: see `rules`."""

from __future__ import annotations

from typing import Annotated, Final, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.judging.rules import (
    Accuracy,
    Rule,
    Verdict,
    chance_outside,
    expanded_uncertainty,
    judge,
)
from shop.calc.registry import calculator
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# The four words of a non-binary statement.
Statement = Literal["pass", "conditional_pass", "conditional_fail", "fail"]


class JudgeIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A reading with its limits; give the meter's accuracy or the expanded uncertainty itself."""

    value: Annotated[
        float,
        Meta(title="Reading", description="in volt, ampere, ohm and so on", examples=[118.0]),
    ]
    rule: Annotated[
        Rule,
        Meta(
            title="Decision rule",
            description="guarded for safety limits, simple for adjustments",
            extra_json_schema={
                "x-labels": {
                    "simple": "simple: the limits as they stand",
                    "guarded": "guarded: the meter's uncertainty inside the limits",
                    "non_binary": "non-binary: with conditional pass and fail",
                }
            },
        ),
    ]
    low: Annotated[
        float | None, Meta(title="Lower limit", description="same unit; none if left out")
    ] = None
    high: Annotated[
        float | None, Meta(title="Upper limit", description="same unit; none if left out")
    ] = None
    accuracy: Annotated[
        Accuracy | None,
        Meta(title="Accuracy of the meter", description="on the range in use; or give U itself"),
    ] = None
    expanded_uncertainty: Annotated[
        float | None,
        Meta(title="Expanded uncertainty", description="U with k = 2, in place of the accuracy"),
    ] = None


# Below this the risk is not told in figures.
LEAST_RISK: Final = 0.001


class Judged(msgspec.Struct, frozen=True):
    """The verdict, the uncertainty used and the chance that the true value is outside.

    `statement` is the non-binary one, where that rule was asked for and the meter is good enough.
    """

    verdict: Verdict
    expanded_uncertainty: float
    chance_outside: float
    statement: Statement | None = None


@calculator(
    "judging.judge",
    "Judge a reading against its limits",
    question="Is this reading right, with my meter?",
    # The meter of a published accuracy example (0.08 % + 2 counts of 1 mV) on a limit of 2.005 V.
    example={
        "value": 2.0,
        "rule": "guarded",
        "low": 1.99,
        "high": 2.005,
        "accuracy": {"pct": 0.08, "counts": 2, "resolution": 0.001},
    },
)
def judge_reading(given: JudgeIn) -> Answer[Judged]:
    """Verdict on a reading. Formulas and rules: see `rules`. Raises BadInput (both_given).

    Units: those of the reading, %. Source: ILAC-G8:09/2019.
    """
    given = fit(given)
    if given.accuracy and given.expanded_uncertainty is not None:
        reason = _("Give the accuracy or the uncertainty, not both.")
        raise BadInput("expanded_uncertainty", reason, "both_given")
    u2 = given.expanded_uncertainty or 0.0
    if given.accuracy:
        u2 = expanded_uncertainty(given.value, given.accuracy)
    verdict = judge(given.value, given.low, given.high, u2, given.rule)
    risk = chance_outside(given.value, given.low, given.high, u2)
    value = Judged(verdict, u2, risk, _statement(given, verdict))
    said = _(_STATEMENTS[value.statement]) if value.statement else _(_WORDS[verdict])
    outcome = _OUTCOMES[verdict]
    if verdict is Verdict.PASS and u2 == 0 and given.rule is not Rule.SIMPLE:
        outcome = Outcome.WARN
    working = Working(_lines(given, value, said), SOURCES, _cautions(verdict))
    return Answer(outcome, _in_words(given, value, said), value, working)


def _in_words(given: JudgeIn, value: Judged, said: str) -> str:
    """The verdict and its risk. Without an uncertainty there is a verdict, but no risk to tell."""
    if value.verdict is Verdict.NOT_JUDGED:
        return said
    if value.expanded_uncertainty == 0:
        if given.rule is Rule.SIMPLE:
            return _("{verdict}; no accuracy was given, so the risk is not known", verdict=said)
        return _("{verdict}, but no accuracy was given: no guard band was kept", verdict=said)
    risk = value.chance_outside
    if risk < LEAST_RISK:
        return _("{verdict} (risk of being outside: below 0.1%)", verdict=said)
    return _("{verdict} (risk of being outside: {risk:.1%})", verdict=said, risk=risk)


def _statement(given: JudgeIn, verdict: Verdict) -> Statement | None:
    """The non-binary statement: between limit and guard band it is conditional."""
    if given.rule is not Rule.NON_BINARY:
        return None
    if verdict is Verdict.BORDERLINE:
        is_outside = (given.low is not None and given.value < given.low) or (
            given.high is not None and given.value > given.high
        )
        return "conditional_fail" if is_outside else "conditional_pass"
    return _PLAIN_STATEMENTS.get(verdict)


_PLAIN_STATEMENTS: Final[dict[Verdict, Statement]] = {Verdict.PASS: "pass", Verdict.FAIL: "fail"}
_STATEMENTS: Final[dict[Statement, str]] = {
    "pass": gettext_noop("pass"),
    "conditional_pass": gettext_noop("conditional pass: inside the limit by less than U"),
    "conditional_fail": gettext_noop("conditional fail: outside the limit by less than U"),
    "fail": gettext_noop("fail"),
}
_WORDS: Final = {
    Verdict.PASS: gettext_noop("pass"),
    Verdict.FAIL: gettext_noop("fail"),
    Verdict.BORDERLINE: gettext_noop("too close to call with this meter"),
    Verdict.METER_NOT_GOOD_ENOUGH: gettext_noop("meter not good enough for these limits"),
    Verdict.NOT_JUDGED: gettext_noop("no limits, so not judged"),
}
_OUTCOMES: Final = {
    Verdict.PASS: Outcome.OK,
    Verdict.FAIL: Outcome.WARN,
    Verdict.BORDERLINE: Outcome.WARN,
    Verdict.METER_NOT_GOOD_ENOUGH: Outcome.NO_ANSWER,
    Verdict.NOT_JUDGED: Outcome.NO_ANSWER,
}


def _lines(given: JudgeIn, value: Judged, said: str) -> list[Line]:
    u2 = value.expanded_uncertainty
    how = "2 x limit / sqrt(3)" if given.accuracy else _("as given")
    lines = [Line(_("expanded uncertainty U"), how, f"{u2:.4g}")]
    if given.low is not None or given.high is not None:
        guard = 0.0 if given.rule is Rule.SIMPLE else u2
        low = "…" if given.low is None else f"{given.low + guard:.6g}"
        high = "…" if given.high is None else f"{given.high - guard:.6g}"
        formula = _("limits less the guard band w = {w:.4g}", w=guard)
        lines.append(Line(_("passes between"), formula, f"{low} … {high}"))
    return [
        *lines,
        Line(_("verdict"), given.rule.value, said),
        Line(_("chance outside"), "1 - (Phi((high-y)/u) - Phi((low-y)/u))",
             f"{value.chance_outside:.3g}" if u2 else _("not known")),
    ]  # fmt: skip


def _cautions(verdict: Verdict) -> list[str]:
    if verdict is Verdict.METER_NOT_GOOD_ENOUGH:
        return [_("The limits are narrower than twice the guard band: no reading could pass.")]
    return []


SOURCES: Final = [
    Source("guard band w = U and non-binary statements", Status.VERIFIED,
           "ILAC-G8:09/2019 p. 9-10"),
    Source("u = limit / sqrt(3)", Status.FROM_MEMORY, "JCGM 100:2008 4.3.7"),
    Source("chance that the true value is outside", Status.FROM_MEMORY, "JCGM 106:2012 clause 7"),
    Source("guarded for safety limits, simple for adjustments", Status.PROPOSED),
]  # fmt: skip
