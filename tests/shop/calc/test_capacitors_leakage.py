"""Leakage limits side by side, against published and derived figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.capacitors.leakage import (
    LeakageIn,
    leakage,
    long_life_ampere,
    modern_ampere,
    old_ampere,
)
from shop.calc.working import Outcome, Status

# F, V, A by JAN-C-62, A by 0.01 C U + 3 uA. The old rule is of a radio amateurs' list
# (mail-archive.com/amradio, msg21215), which prints 1.1 mA for the first row; the modern one is of
# the encyclopaedia on aluminium electrolytics; the other figures are derived from the formulas.
TABLE = [
    (20e-6, 450, 1.10e-3, 93e-6, 12),
    (100e-6, 350, 2.80e-3, 353e-6, 8),
    (1000e-6, 63, 10.3e-3, 633e-6, 16),
    (47e-6, 25, 0.77e-3, 14.8e-6, 52),
]
farads = st.floats(1e-7, 1)
volts = st.floats(1, 2000)


@pytest.mark.parametrize("row", TABLE, ids=str)
def test_old_and_modern_limits_come_out(row):
    farad, volt, old, modern, ratio = row

    assert old_ampere(farad, volt) == pytest.approx(old, rel=3e-3)
    assert modern_ampere(farad, volt) == pytest.approx(modern, rel=4e-3)
    assert old_ampere(farad, volt) / modern_ampere(farad, volt) == pytest.approx(ratio, rel=0.04)


# The same list: K steps at 100, 250, 350 and 450 V.
@pytest.mark.parametrize(
    ("volt", "k"),
    [(100, 0.01), (101, 0.02), (250, 0.02), (251, 0.025), (350, 0.025), (351, 0.04), (450, 0.04)],
)
def test_the_old_rule_steps_with_the_voltage(volt, k):
    assert old_ampere(10e-6, volt) * 1000 == pytest.approx(k * 10 + 0.3)


def test_the_old_table_ends_at_450_volt():
    answer = leakage(LeakageIn(10e-6, 500, 0.001))

    assert old_ampere(10e-6, 451) is None
    assert answer.value.limits[0].ampere is None
    assert answer.value.limits[0].is_within is None
    assert answer.outcome is Outcome.WARN


# From memory: IEC 60384-4 long-life grade. It decides nothing and is marked.
def test_a_limit_from_memory_is_marked_so():
    limits = leakage(LeakageIn(100e-6, 50)).value.limits

    assert limits[2].status is Status.FROM_MEMORY
    assert limits[2].ampere == long_life_ampere(100e-6, 50) == pytest.approx(34e-6)
    assert limits[0].status is Status.SECOND_HAND


@pytest.mark.parametrize(
    ("ampere", "outcome", "said"),
    [
        (50e-6, Outcome.OK, "even for a new part"),
        (0.4e-3, Outcome.WARN, "an old part may stay"),
        (2e-3, Outcome.WARN, "Above the old limit too"),
    ],
)
def test_what_a_reading_says_under_each_limit(ampere, outcome, said):
    answer = leakage(LeakageIn(20e-6, 450, ampere))

    assert answer.outcome is outcome
    assert said in answer.text


def test_limits_are_shown_side_by_side_and_not_averaged():
    answer = leakage(LeakageIn(20e-6, 450))

    shown = " ".join(line.result for line in answer.working.lines)
    assert "1.1 mA" in shown
    assert "93 µA" in shown
    assert any("none is averaged" in text for text in answer.working.disagreements)


# MIL-C-62F 4.5.3 (verified at capacitors.emilspec.com/MIL-C-62/page12.html): read at 5 minutes.
def test_a_high_reading_taken_early_is_no_verdict():
    answer = leakage(LeakageIn(20e-6, 450, 2e-3, after_seconds=60))

    assert answer.outcome is Outcome.NO_ANSWER
    assert not answer.value.is_fair


@pytest.mark.parametrize(
    "sent", [{"applied_volt": 315}, {"celsius": 60}, {"after_seconds": 200}, {"applied_volt": 500}]
)
def test_other_conditions_are_named(sent):
    answer = leakage(LeakageIn(20e-6, 450, 0.4e-3, **sent))

    assert not answer.value.is_fair
    assert len(answer.working.cautions) == 3


@given(farads, st.floats(1, 450))
def test_the_old_limit_is_never_below_the_modern_one(farad, volt):
    # K C mA against 0.01 C U uA: 10 against 1 at 100 V, 40 against 4.5 at 450 V.
    assert old_ampere(farad, volt) >= modern_ampere(farad, volt)


@given(farads, volts, st.floats(1e-9, 1), st.floats(1e-9, 1))
def test_more_leakage_is_never_within_where_less_is_not(farad, volt, one, other):
    low, high = sorted((one, other))

    less = leakage(LeakageIn(farad, volt, low)).value.limits
    more = leakage(LeakageIn(farad, volt, high)).value.limits
    assert all(a.is_within or not b.is_within for a, b in zip(less, more, strict=True))
