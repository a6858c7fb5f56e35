"""Whether a fuse survives switching a transformer on."""

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.fuses.series import R10_MILLIAMPERE
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome


def inrush(**given):
    return work_out("fuses.inrush", given)


# Fuse-maker's guide for control transformers: 0.5 A, 20 A at 0.01 s (studylib.net/doc/18075878).
def test_a_300_va_transformer_on_600_volt_meets_the_published_surge():
    value = inrush(load_va=300.0, mains_volt=600.0, inrush_times=40.0).value

    assert value.load_ampere == 0.5
    assert value.surge_ampere == 20
    assert value.surge_ampere2_seconds == pytest.approx(4)


# Computed: In >= k I sqrt(0.01 / 2).
@pytest.mark.parametrize(("times", "least"), [(15, 1.06), (25, 1.77), (40, 2.83)])
def test_the_least_rating_follows_the_surge(times, least):
    value = inrush(load_ampere=1.0, inrush_times=float(times)).value

    assert value.least_ampere == pytest.approx(least, abs=0.005)


# Computed: 10 In for 20 ms is 2 In^2 (T L row from memory).
def test_a_time_lag_fuse_is_sure_by_its_sheet():
    value = inrush(load_ampere=0.5, mark="T1.6AL250V").value

    assert value.guaranteed_ampere2_seconds == pytest.approx(2 * 1.6**2)
    assert value.survives is True


def test_a_small_time_lag_fuse_holds_half_as_long():
    value = inrush(load_ampere=0.01, mark="T100mAL250V").value

    assert value.guaranteed_ampere2_seconds == pytest.approx(0.1**2)


def test_the_least_member_survives_and_the_next_lower_is_not_sure_to():
    least = inrush(load_ampere=0.5).value.least_member_ampere
    lower = R10_MILLIAMPERE[R10_MILLIAMPERE.index(round(least * 1000)) - 1] / 1000

    assert inrush(load_ampere=0.5, mark=f"T{least:g}AL250V").value.survives is True
    assert inrush(load_ampere=0.5, mark=f"T{lower * 1000:g}mAL250V").value.survives is False


@pytest.mark.parametrize("mark", ["F2AL250V", "T2A", "2A"])
def test_nothing_is_sure_of_a_quick_or_half_known_fuse(mark):
    answer = inrush(load_ampere=0.5, mark=mark)

    assert answer.value.survives is None
    assert answer.outcome is Outcome.WARN


def test_the_makers_integral_goes_before_the_sheet():
    given = {"load_ampere": 0.5, "mark": "F2AL250V"}

    weak = inrush(**given, melting_ampere2_seconds=1.0)
    strong = inrush(**given, melting_ampere2_seconds=1.6)

    assert (weak.value.survives, strong.value.survives) == (False, True)
    assert any("own marking" in caution for caution in strong.working.cautions)


# Collected maker data for 1 A types (changpuak.ch).
@pytest.mark.parametrize(
    ("kind", "integral"), [("FF", 0.18), ("F", 1.045), ("M", 6.0), ("T", 6.73), ("TT", 9.0)]
)
def test_typical_integrals_grow_with_the_square_of_the_rating(kind, integral):
    value = inrush(load_ampere=0.5, mark=f"{kind}2AL250V").value

    assert value.typical_ampere2_seconds == pytest.approx(4 * integral)


@given(st.floats(0.01, 5), st.floats(1, 100), st.floats(1, 3))
def test_a_harder_surge_never_needs_a_smaller_fuse(load, times, more):
    mild = inrush(load_ampere=load, inrush_times=times).value
    hard = inrush(load_ampere=load, inrush_times=min(100.0, times * more)).value

    assert hard.least_ampere >= mild.least_ampere
    assert (hard.least_member_ampere or 99) >= (mild.least_member_ampere or 99)


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({}, "load_ampere"),
        ({"load_va": 100.0}, "mains_volt"),
        ({"load_ampere": 1.0, "load_va": 100.0}, "load_va"),
        ({"load_ampere": nan}, "load_ampere"),
        ({"load_ampere": 1.0, "inrush_times": 0.0}, "inrush_times"),
        ({"load_ampere": 1.0, "pulse_seconds": inf}, "pulse_seconds"),
        ({"load_ampere": 1.0, "mark": "T333mA"}, "mark"),
        ({"load_ampere": 1.0, "melting_ampere2_seconds": 1.0}, "mark"),
        ({"load_ampere": 1.0, "mark": "T1A", "melting_ampere2_seconds": -1.0},
         "melting_ampere2_seconds"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_at_its_field(given, field):
    with pytest.raises(BadInput) as refused:
        inrush(**given)

    assert refused.value.field == field
