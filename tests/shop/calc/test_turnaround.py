"""Turnaround against published survival data."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.turnaround import (
    Stay,
    SummaryIn,
    clock,
    done_by,
    kaplan_meier,
    median_days_left,
    percentile,
    summary,
)
from shop.calc.working import BadInput, Outcome


def stays(text):
    """`13+` is still open."""
    return [Stay(float(t.rstrip("+")), t.endswith("+")) for t in text.split()]


# AML maintained group (Miller), as printed in github.com/cran/survival, tests/doaml.Rout.save.
AML = stays("9 13 13+ 18 23 28+ 31 34 45+ 48 161+")
# Gehan/Freireich 6-MP data, as in lifelines' gehan.dat; curve from memory, recomputed.
SIX_MP = stays("6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+")
PLACEBO = stays("1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23")


def test_the_curve_of_the_aml_group_comes_out():
    curve = kaplan_meier(AML)

    assert [p.days for p in curve] == [9, 13, 18, 23, 31, 34, 48]
    shares = [p.share_left for p in curve]
    assert shares == pytest.approx([0.909, 0.818, 0.716, 0.614, 0.491, 0.368, 0.184], abs=5e-4)
    errors = [p.standard_error for p in curve]
    assert errors == pytest.approx(
        [0.0867, 0.1163, 0.1397, 0.1526, 0.1642, 0.1627, 0.1535], abs=5e-5
    )
    assert done_by(curve, 0.5).days == 31


def test_leaving_out_the_open_ones_would_look_too_good():
    closed = [stay for stay in AML if not stay.is_open]

    assert done_by(kaplan_meier(closed), 0.5).days == 23
    assert sum(s.days for s in closed) / len(closed) == pytest.approx(25.1, abs=0.05)


def test_a_high_share_that_is_not_reached_is_more_than_the_last_time():
    answer = summary(SummaryIn(AML))

    assert (answer.value.most.days, answer.value.most.more_than_days) == (None, 48)
    assert "more than 48 days" in answer.text
    assert (answer.value.closed, answer.value.still_open) == (7, 4)


def test_the_rest_of_an_open_repair_is_told_from_its_age():
    assert median_days_left(kaplan_meier(AML), 20) == 28
    assert median_days_left(kaplan_meier(AML), 50) is None


def test_the_6_mp_groups_come_out():
    curve = kaplan_meier(SIX_MP)

    shares = {p.days: p.share_left for p in curve}
    assert list(shares) == [6, 7, 10, 13, 16, 22, 23]
    assert list(shares.values()) == pytest.approx(
        [0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448], abs=5e-4
    )
    assert done_by(curve, 0.5).days == 23
    assert done_by(kaplan_meier(PLACEBO), 0.5).days == 8


def test_with_nothing_finished_nothing_can_be_told():
    answer = summary(SummaryIn(stays("3+ 5+")))

    assert answer.outcome is Outcome.NO_ANSWER
    assert (answer.value.median.days, answer.value.median.more_than_days) == (None, None)
    assert summary(SummaryIn([])).outcome is Outcome.NO_ANSWER


@given(st.lists(st.builds(Stay, st.integers(0, 40).map(float), st.booleans()), max_size=60))
def test_the_curve_falls_from_one_and_closed_ones_alone_give_the_plain_share(listed):
    curve = kaplan_meier(listed)

    shares = [p.share_left for p in curve]
    assert all(0 <= b <= a <= 1 for a, b in zip([1.0, *shares], shares, strict=False))
    if listed and not any(stay.is_open for stay in listed):
        for point in curve:
            left = sum(stay.days > point.days for stay in listed) / len(listed)
            assert point.share_left == pytest.approx(left, abs=1e-9)


@given(
    st.lists(st.builds(Stay, st.integers(1, 40).map(float), st.booleans()), min_size=1, max_size=40)
)
def test_counting_an_open_repair_as_finished_never_lengthens_the_median(listed):
    with_open = done_by(kaplan_meier(listed), 0.5).days
    as_closed = done_by(kaplan_meier([Stay(s.days, False) for s in listed]), 0.5).days

    assert with_open is None or as_closed <= with_open


# Textbook nearest-rank example, from memory: 15 20 35 40 50 at 5, 30, 40, 50 and 100 %.
def test_percentiles_by_nearest_rank():
    values = [15.0, 20.0, 35.0, 40.0, 50.0]

    found = [percentile(values, share) for share in (0.05, 0.30, 0.40, 0.50, 1.0)]

    assert found == [15, 20, 20, 35, 50]
    with pytest.raises(BadInput):
        percentile([], 0.5)


# Computed: over the change to summer time 65 h pass where the wall clock says 66.
def test_elapsed_time_is_told_by_instants_not_by_the_wall():
    london = ZoneInfo("Europe/London")

    found = clock(
        datetime(2026, 3, 27, 16, tzinfo=london), datetime(2026, 3, 30, 10, tzinfo=london), []
    )

    assert found.elapsed == found.working == timedelta(hours=65)


def at(hour):
    return datetime(2026, 5, 4, tzinfo=UTC) + timedelta(hours=hour)


@pytest.mark.parametrize(
    ("pauses", "working"),
    [
        ([], 10),
        ([(at(2), at(4))], 8),
        ([(at(2), at(5)), (at(3), at(4)), (at(4), at(6))], 6),
        ([(at(-5), at(1)), (at(9), at(20))], 8),
        ([(at(7), None)], 7),
        ([(at(12), None)], 10),
        ([(at(-9), at(-2))], 10),
        ([(at(8), at(9)), (at(1), at(2))], 8),
    ],
)
def test_pauses_are_counted_once_and_only_within(pauses, working):
    found = clock(at(0), at(10), pauses)

    assert found.elapsed == timedelta(hours=10)
    assert found.working == timedelta(hours=working)


@pytest.mark.parametrize(
    ("begun", "ended", "pauses"),
    [
        (at(5), at(1), []),
        (datetime(2026, 5, 4), datetime(2026, 5, 5), []),  # noqa: DTZ001 - what is refused
        (at(0), at(9), [(at(5), at(4))]),
        (at(0), at(9), [(datetime(2026, 5, 4), None)]),  # noqa: DTZ001 - what is refused
    ],
)
def test_times_without_a_zone_or_the_wrong_way_round_are_refused(begun, ended, pauses):
    with pytest.raises(BadInput):
        clock(begun, ended, pauses)
