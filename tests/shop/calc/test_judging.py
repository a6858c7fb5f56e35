"""Verdicts. The tables are shared with the phone; they were reasoned in exact fractions."""

import json
from fractions import Fraction
from itertools import product
from pathlib import Path
from statistics import NormalDist

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shop.calc.judging import (
    Accuracy,
    Band,
    JudgeIn,
    Rule,
    Verdict,
    band_at,
    chance_outside,
    expanded_uncertainty,
    judge,
    judge_over_range,
    judge_reading,
    meter_limit,
)
from shop.calc.working import BadInput, Outcome
from tests.vectors import make_judge_random

VECTORS = Path(__file__).parents[2] / "vectors"
JUDGE = json.loads((VECTORS / "judge.json").read_text())
BANDS = json.loads((VECTORS / "band.json").read_text())
ACCURACY = json.loads((VECTORS / "accuracy.json").read_text())


def number(cell):
    return None if cell is None else float(cell)


def test_the_shared_table_has_at_least_three_hundred_rows():
    assert len(JUDGE) >= 300


@pytest.mark.parametrize("row", JUDGE, ids=lambda row: "-".join(str(v) for v in row.values()))
def test_every_row_of_the_shared_table_is_judged_as_written(row):
    given = [number(row[name]) for name in ("value", "low", "high", "expanded_uncertainty")]

    if row["error_code"]:
        with pytest.raises(BadInput) as refused:
            judge(*given, Rule(row["rule"]))
        assert refused.value.code == row["error_code"]
        return

    assert judge(*given, Rule(row["rule"])) == row["verdict"]


def test_ten_thousand_random_readings_are_judged_as_exact_arithmetic_judges_them():
    table = json.loads(make_judge_random.FILE.read_text())
    rules, verdicts = table["rules"], table["verdicts"]
    wrong = []
    for *numbers, rule, said in table["plain"]:
        if judge(*numbers, Rule(rules[rule])) != verdicts[said]:
            wrong.append((*numbers, rule, said))
    for x, points, value, uncertainty, rule, said in table["along"]:
        band = band_at([tuple(point) for point in points], x) or Band(None, None)
        if judge(value, band.low, band.high, uncertainty, Rule(rules[rule])) != verdicts[said]:
            wrong.append((x, points, value, uncertainty, rule, said))

    assert wrong == []
    assert len(table["plain"]) + len(table["along"]) == 10_000


def test_the_random_table_is_what_its_script_makes_and_has_every_verdict():
    made = make_judge_random.make()

    assert make_judge_random.written(made) == make_judge_random.FILE.read_text()
    for rows in (made["plain"], made["along"]):
        assert {(row[-2], row[-1]) for row in rows} == {
            *product("gn", "pfbn"), *product("s", "pfn"), *product("gn", "m"),
        }  # fmt: skip


@pytest.mark.parametrize("row", BANDS, ids=lambda row: f"{row['x']}")
def test_every_band_along_another_reading_is_found_as_written(row):
    points = [tuple(point) for point in row["points"]]

    if row["error_code"]:
        with pytest.raises(BadInput) as refused:
            band_at(points, float(row["x"]))
        assert refused.value.code == row["error_code"]
        return

    expected = None if row["band"] is None else Band(*row["band"])
    assert band_at(points, float(row["x"])) == expected


@pytest.mark.parametrize("row", ACCURACY, ids=lambda row: f"{row['value']}")
def test_every_meter_limit_is_as_written(row):
    accuracy = Accuracy(row["pct"], row["counts"], row["resolution"])

    assert meter_limit(row["value"], accuracy) == row["limit"]
    assert expanded_uncertainty(row["value"], accuracy) == row["expanded_uncertainty"]


# Two published meter specifications, the figures as printed in instrument manuals (second-hand):
# 2.000 V on 0.08 % + 2 counts of 1 mV is +-0.0036 V; 100.0 V on 1 % + 2 counts is +-1.2 V.
@pytest.mark.parametrize(
    ("value", "pct", "resolution", "limit"), [(2.0, 0.08, 0.001, 0.0036), (100.0, 1.0, 0.1, 1.2)]
)
def test_published_meter_specifications_give_the_printed_limit(value, pct, resolution, limit):
    assert meter_limit(value, Accuracy(pct, 2, resolution)) == pytest.approx(limit, rel=1e-12)


# Worst false-accept risk, as computed from the normal distribution; "< 2.5 %" for w = U is printed
# at tla.sgs.com/thelabsgs/Decision-Rule.php, 50 % for w = 0 in ILAC-G8:09/2019 p. 9.
@pytest.mark.parametrize(
    ("guard_in_u", "risk"), [(0, 0.5), (2, 0.023), (1.65, 0.0495), (1, 0.159), (3, 0.0013)]
)
def test_the_worst_false_accept_risk_is_as_published(guard_in_u, risk):
    value = 10.0 - guard_in_u * 0.5

    assert chance_outside(value, None, 10.0, 1.0) == pytest.approx(risk, abs=6e-4)


@given(st.floats(-1e6, 1e6), st.floats(1e-3, 1e6))
def test_the_chance_outside_agrees_with_the_normal_distribution(margin, u2):
    expected = NormalDist(0, u2 / 2).cdf(-margin)

    assert chance_outside(-margin, None, 0.0, u2) == pytest.approx(expected, abs=1e-12)


def test_without_uncertainty_the_chance_outside_is_none_or_certain():
    assert chance_outside(5.0, 4.0, 6.0, 0.0) == 0.0
    assert chance_outside(7.0, 4.0, 6.0, 0.0) == 1.0


quarters = st.integers(-4000, 4000).map(lambda n: n / 4)
RANK = {Verdict.FAIL: 0, Verdict.BORDERLINE: 1, Verdict.METER_NOT_GOOD_ENOUGH: 1, Verdict.PASS: 2}


@given(quarters, quarters, quarters, quarters.map(abs), st.sampled_from(Rule))
def test_moving_towards_the_middle_of_the_band_never_makes_a_verdict_worse(v, a, b, w, rule):
    low, high = sorted((a, b))
    middle = (low + high) / 2
    nearer = (v + middle) / 2

    assert RANK[judge(nearer, low, high, w, rule)] >= RANK[judge(v, low, high, w, rule)]


@given(quarters, quarters, quarters.map(abs), quarters.map(abs))
def test_a_worse_meter_never_turns_a_guarded_verdict_into_a_pass(v, low, w, more):
    before = judge(v, low, None, w, Rule.GUARDED)

    after = judge(v, low, None, w + more, Rule.GUARDED)

    assert RANK[after] <= RANK[before]


@given(quarters, quarters, quarters, quarters.map(abs), st.sampled_from(Rule))
def test_a_mirror_image_gets_the_same_verdict(v, a, b, w, rule):
    low, high = sorted((a, b))

    assert judge(-v, -high, -low, w, rule) == judge(v, low, high, w, rule)


@given(st.integers(-64, 64), st.integers(1, 64), st.integers(0, 64))
def test_between_two_points_the_band_runs_straight(x0, width, step):
    assume(step <= width)
    points = [(float(x0), 0.0, 1.0), (float(x0 + width), 64.0, 129.0)]

    band = band_at(points, x0 + float(step))

    share = Fraction(step, width)
    assert band is not None
    assert band.low == pytest.approx(float(64 * share))
    assert band.high == pytest.approx(float(1 + 128 * share))


def test_over_range_passes_a_lower_limit_only_when_the_range_reaches_it():
    assert judge_over_range(2e8, 2e6, None) is Verdict.PASS
    assert judge_over_range(1e6, 2e6, None) is Verdict.NOT_JUDGED
    assert judge_over_range(10.0, None, 0.2) is Verdict.FAIL
    assert judge_over_range(0.1, None, 0.2) is Verdict.NOT_JUDGED
    assert judge_over_range(None, 2e6, None) is Verdict.NOT_JUDGED


def test_a_meter_too_coarse_for_the_band_is_no_fail():
    given = JudgeIn(5.0, Rule.GUARDED, 4.95, 5.05, accuracy=Accuracy(1.0, 2, 0.01))

    answer = judge_reading(given)

    assert answer.value is not None
    assert answer.value.verdict is Verdict.METER_NOT_GOOD_ENOUGH
    assert answer.outcome is Outcome.NO_ANSWER


def test_accuracy_and_uncertainty_together_are_refused():
    with pytest.raises(BadInput, match="not both"):
        judge_reading(
            JudgeIn(5.0, Rule.SIMPLE, 4.0, 6.0, Accuracy(1.0, 2, 0.01), expanded_uncertainty=0.1)
        )
