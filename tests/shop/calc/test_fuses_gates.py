"""When a fuse holds and opens, its breaking capacity, its ceilings and its writing."""

from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.fuses.gates import ul_breaking_ampere
from shop.calc.fuses.series import R10_MILLIAMPERE
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome, Status

SHEETS = ["1", "2", "3", "5", "6", "ul", "ul_time_delay"]


def gates(sheet, rated, **more):
    return work_out("fuses.gates", {"sheet": sheet, "rated_ampere": rated, **more})


def limits(answer):
    return [(p.times, p.holds_seconds, p.opens_seconds) for p in answer.value.points]


# IEC 60127-2 sheet 2 (second-hand, blog.csdn.net/weixin_39958911/article/details/111836789).
@pytest.mark.parametrize(
    ("rated", "rows"),
    [
        (0.1, [(1.5, 3600, None), (2.1, None, 1800), (2.75, 0.01, 0.5), (4, 0.003, 0.1),
               (10, None, 0.02)]),
        (1.6, [(1.5, 3600, None), (2.1, None, 1800), (2.75, 0.05, 2), (4, 0.01, 0.3),
               (10, None, 0.02)]),
    ],
)  # fmt: skip
def test_quick_fuses_of_sheet_2_open_between_its_limits(rated, rows):
    answer = gates("2", rated)

    assert limits(answer) == rows
    assert answer.outcome is Outcome.OK
    assert {point.status for point in answer.value.points} == {Status.SECOND_HAND}


# From memory: IEC 60127-2 sheets 1, 3, 5 and 6.
@pytest.mark.parametrize(
    ("sheet", "rated", "rows"),
    [
        ("1", 3.15, [1800, (0.01, 2), (0.003, 0.3), (None, 0.02)]),
        ("1", 5.0, [1800, (0.01, 3), (0.003, 0.3), (None, 0.02)]),
        ("1", 10.0, [1800, (0.04, 20), (0.01, 1), (None, 0.03)]),
        ("3", 0.08, [120, (0.2, 10), (0.04, 3), (0.01, 0.3)]),
        ("3", 2.0, [120, (0.6, 10), (0.15, 3), (0.02, 0.3)]),
        ("6", 2.0, [120, (0.6, 10), (0.15, 3), (0.02, 0.3)]),
        ("5", 2.0, [1800, (0.75, 80), (0.095, 5), (0.01, 0.1)]),
        ("5", 6.3, [1800, (0.75, 80), (0.15, 5), (0.01, 0.1)]),
    ],
)
def test_times_from_memory_are_given_with_a_warning(sheet, rated, rows):
    answer = gates(sheet, rated)

    assert limits(answer)[1:] == [
        (2.1, None, rows[0]), (2.75, *rows[1]), (4.0, *rows[2]), (10.0, *rows[3]),
    ]  # fmt: skip
    assert answer.outcome is Outcome.WARN
    assert any("from memory" in caution for caution in answer.working.cautions)


# UL 248-14 (second-hand): 135 % within an hour, 200 % within 2 minutes, so 4.05 A and 6 A.
def test_an_american_3_ampere_fuse_opens_by_an_hour_and_by_two_minutes():
    answer = gates("ul", 3.0)

    points = [(p.ampere, p.opens_seconds) for p in answer.value.points]
    assert points == [(pytest.approx(4.05), 3600), (6.0, 120)]


# UL 248-14 (second-hand): time-delay types hold 200 % for 5 s to 3 A, 12 s to 10 A.
@pytest.mark.parametrize(("rated", "holds"), [(3.0, 5.0), (3.15, 12.0), (10.0, 12.0)])
def test_american_time_delay_fuses_hold_twice_their_rating_for_seconds(rated, holds):
    assert gates("ul_time_delay", rated).value.points[1].holds_seconds == holds


# UL 248-14 (second-hand): interrupting ratings.
@pytest.mark.parametrize(
    ("rated", "breaks"),
    [(1.0, 35), (1.1, 100), (3.5, 100), (3.6, 200), (10.0, 200), (10.1, 750), (15.0, 750),
     (15.1, 1500), (30.0, 1500)],
)  # fmt: skip
def test_american_fuses_break_less_at_250_volt_than_at_125(rated, breaks):
    assert ul_breaking_ampere(rated, 250) == breaks
    assert ul_breaking_ampere(rated, 125) == 10000
    assert ul_breaking_ampere(rated, 300) is None


# IEC 60127-2 (second-hand): L 35 A or ten times, E 150 A, H 1500 A.
@pytest.mark.parametrize(
    ("sheet", "rated", "breaks"),
    [("3", 2.0, 35), ("3", 6.3, 63), ("6", 2.0, 150), ("5", 2.0, 1500)],
)
def test_breaking_capacity_goes_by_the_sheet(sheet, rated, breaks):
    assert gates(sheet, rated).value.breaking_capacity_ampere == pytest.approx(breaks)


def test_between_two_points_the_surer_limit_of_each_holds():
    little, much = (gates("2", 1.6, current_ampere=ampere).value for ampere in (4.0, 5.0))

    assert (little.holds_seconds, little.opens_seconds) == (0.05, 1800)
    assert (much.holds_seconds, much.opens_seconds) == (0.01, 2)


@given(st.sampled_from(SHEETS), st.sampled_from([0.1, 0.5, 1.0, 3.15, 6.3]),
       st.floats(0.1, 60), st.floats(1, 3))  # fmt: skip
def test_more_current_is_never_held_longer_nor_opened_later(sheet, rated, current, more):
    less = gates(sheet, rated, current_ampere=current).value
    much = gates(sheet, rated, current_ampere=current * more).value

    if less is not None:
        assert (much.holds_seconds or 0) <= (less.holds_seconds or 0)
        assert (much.opens_seconds or 1e9) <= (less.opens_seconds or 1e9)
        assert (less.holds_seconds or 0) <= (less.opens_seconds or 1e9)


@pytest.mark.parametrize(
    ("sheet", "rated"), [("5", 0.5), ("1", 0.032), ("3", 16.0), ("ul_time_delay", 15.0)]
)
def test_a_rating_that_the_sheet_does_not_have_is_no_answer(sheet, rated):
    answer = gates(sheet, rated)

    assert answer.outcome is Outcome.NO_ANSWER
    assert answer.value is None


# NEC table 450.3(B), lornmac.com/lowVoltageTransformers.html (second-hand).
@pytest.mark.parametrize(
    ("primary", "percent"), [(0.5, 300), (1.99, 300), (2.0, 167), (8.9, 167), (9.0, 125)]
)
def test_the_ceiling_of_a_primary_goes_by_its_current(primary, percent):
    value = work_out("fuses.ceiling", {"primary_ampere": primary}).value

    assert value.ceilings[0].percent == percent
    assert value.ceilings[0].ceiling_ampere == pytest.approx(primary * percent / 100)


# 300 VA on 600 V: 300 % is 1.5 A, 500 % in motor control 2.5 A (studylib.net/doc/18075878).
def test_a_300_va_transformer_on_600_volt_has_the_published_ceilings():
    value = work_out("fuses.ceiling", {"primary_ampere": 0.5, "secondary_ampere": 12.5}).value

    assert [one.ceiling_ampere for one in value.ceilings] == [1.5, 1.25, 15.625, 2.5]


@given(st.floats(0.02, 100))
def test_a_member_under_a_ceiling_never_lies_above_it(primary):
    for one in work_out("fuses.ceiling", {"primary_ampere": primary}).value.ceilings:
        assert one.member_ampere is None or one.member_ampere <= one.ceiling_ampere * (1 + 1e-9)


# IEC 60127-1 annex A, third colour from memory; orange, brown, brown, blue is T 315 mA.
@pytest.mark.parametrize(
    ("ampere", "kind", "mark", "bands"),
    [
        (0.315, "T", "T315mAL250V", ["orange", "brown", "brown", "blue"]),
        (0.063, "T", "T63mAL250V", ["blue", "orange", "black", "blue"]),
        (0.5, "F", "F500mAL250V", ["green", "black", "brown", "red"]),
        (3.15, "T", "T3.15AL250V", ["orange", "brown", "red", "blue"]),
        (10.0, "TT", "TT10AL250V", ["brown", "black", "orange", "grey"]),
        (1.25, "M", "M1.25AL250V", ["brown", "red", "red", "yellow"]),
    ],
)
def test_ratings_are_written_in_letters_and_in_colours(ampere, kind, mark, bands):
    given = {
        "rated_ampere": ampere, "characteristic": kind, "breaking_letter": "L", "rated_volt": 250,
    }  # fmt: skip

    value = work_out("fuses.write", given).value

    assert value.mark.mark == mark
    assert value.bands == bands
    assert work_out("fuses.parse", {"mark": mark}).value.fuse == value.mark.fuse
    assert work_out("fuses.bands", {"bands": bands}).value.fuse.current_milliampere == ampere * 1000


@pytest.mark.parametrize("ampere", [0.17, nan, 0.0])
def test_a_rating_in_no_series_is_not_written(ampere):
    with pytest.raises(BadInput) as refused:
        work_out("fuses.write", {"rated_ampere": ampere, "characteristic": "T"})

    assert refused.value.field == "rated_ampere"


# Computed: R10 is the powers of the tenth root of ten, rounded by at most 1.6 %.
def test_the_series_follows_the_tenth_root_of_ten():
    for place, member in enumerate(R10_MILLIAMPERE):
        assert member == pytest.approx(10 ** (1.5 + place / 10), rel=0.016)
