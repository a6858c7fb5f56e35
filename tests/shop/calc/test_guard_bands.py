"""Guard bands and non-binary statements, against published risks."""

from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.judging import (
    Accuracy,
    GuardBandsIn,
    JudgeIn,
    Rule,
    Verdict,
    guard_bands,
    judge_reading,
)
from shop.calc.working import BadInput, Outcome


# 50 % for w = 0: ILAC-G8:09/2019 p. 9; below 2.5 % for w = U: tla.sgs.com/thelabsgs/Decision-Rule.
# The exact figures follow from the normal distribution (computed).
@pytest.mark.parametrize(
    ("share", "risk"), [(0, 0.5), (0.5, 0.159), (0.825, 0.0495), (1.0, 0.0228), (1.5, 0.0013)]
)
def test_the_worst_risk_of_each_guard_band_is_as_published(share, risk):
    bands = guard_bands(GuardBandsIn(1.0, high=10.0)).value.bands

    band = next(band for band in bands if band.share_of_u == share)
    assert band.worst_risk == pytest.approx(risk, abs=4e-4)
    assert band.accept_high == pytest.approx(10.0 - share)
    assert band.worst_risk == pytest.approx(NormalDist().cdf(-2 * share))


def test_limits_narrower_than_the_guard_bands_leave_nothing_to_pass():
    answer = guard_bands(GuardBandsIn(1.0, 9.5, 10.5))

    assert [band.is_possible for band in answer.value.bands] == [True, True, False, False, False]
    assert answer.outcome is Outcome.WARN
    assert "not good enough" in answer.text


@pytest.mark.parametrize(
    ("low", "high", "code"), [(None, None, "no_limits"), (2, 1, "limits_crossed")]
)
def test_limits_that_cannot_be_used_are_refused(low, high, code):
    with pytest.raises(BadInput) as refused:
        guard_bands(GuardBandsIn(1.0, low, high))

    assert refused.value.code == code


@given(st.floats(0.001, 100), st.floats(-100, 100), st.floats(0, 100))
def test_a_wider_guard_band_never_has_more_risk(u2, low, width):
    bands = guard_bands(GuardBandsIn(u2, low, low + width)).value.bands

    risks = [band.worst_risk for band in bands if band.worst_risk is not None]
    assert risks == sorted(risks, reverse=True)


# ILAC-G8:09/2019 p. 10: pass below TL - w, conditional pass to TL, conditional fail to TL + w,
# fail above.
@pytest.mark.parametrize(
    ("value", "statement"),
    [(8.9, "pass"), (9.0, "pass"), (9.5, "conditional_pass"), (10.0, "conditional_pass"),
     (10.5, "conditional_fail"), (11.0, "conditional_fail"), (11.1, "fail")],
)  # fmt: skip
@pytest.mark.parametrize("sign", [1, -1])
def test_the_four_non_binary_statements_are_as_published(value, statement, sign):
    limits = {"high": 10.0} if sign == 1 else {"low": -10.0}

    answer = judge_reading(
        JudgeIn(sign * value, Rule.NON_BINARY, **limits, expanded_uncertainty=1.0)
    )

    assert answer.value.statement == statement


def test_other_rules_make_no_non_binary_statement():
    for rule in (Rule.SIMPLE, Rule.GUARDED):
        assert judge_reading(JudgeIn(5.0, rule, 4.0, 6.0)).value.statement is None


def test_a_meter_not_good_enough_makes_no_statement_and_says_why():
    accuracy = Accuracy(1.0, 2, 0.01)

    answer = judge_reading(JudgeIn(5.0, Rule.NON_BINARY, 4.95, 5.05, accuracy))

    assert (answer.value.verdict, answer.value.statement) == (Verdict.METER_NOT_GOOD_ENOUGH, None)
    assert answer.working.cautions


def test_the_limits_less_the_guard_band_stand_in_the_working():
    lines = judge_reading(
        JudgeIn(5.0, Rule.GUARDED, 4.0, 6.0, expanded_uncertainty=0.25)
    ).working.lines

    assert any(line.result == "4.25 … 5.75" for line in lines)
