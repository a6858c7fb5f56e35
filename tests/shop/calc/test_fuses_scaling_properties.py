"""What holds for every scaled fuse, whatever the rating and the supplies."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.fuses.marking import FuseMark
from shop.calc.fuses.scale import scale_current
from shop.calc.fuses.series import ANY_IEC, R10_MILLIAMPERE, nearest
from shop.calc.working import BadInput
from tests.shop.calc.test_fuses import scaled

volts = st.sampled_from([100.0, 110.0, 115.0, 117.0, 120.0, 127.0, 220.0, 230.0, 240.0])
inner_r10 = st.sampled_from([m for m in R10_MILLIAMPERE if 125 <= m <= 4000])


@given(inner_r10, volts, volts)
def test_scaling_there_and_back_returns_within_one_step(milliampere, here, there):
    old = FuseMark(float(milliampere), "T", "L", 250)

    away = scale_current(old, here / there)
    back = scale_current(FuseMark(away.pick, "T", "L", 250), there / here)

    places = R10_MILLIAMPERE.index
    assert abs(places(int(back.pick)) - places(milliampere)) <= 1


@given(st.sampled_from(ANY_IEC), volts, volts)
def test_a_proposal_is_never_more_permissive_than_the_old_rating_scaled(current, here, there):
    mark = FuseMark(float(current), "T", "L", 250)
    found = scale_current(mark, here / there)

    if found is not None:
        assert found.pick == nearest(current * here / there)
        assert found.pick <= current * here / there * 10**0.05 * 1.01


@given(st.sampled_from(ANY_IEC), st.sampled_from(["iec", "ul"]), volts, volts)
def test_where_a_pick_lies_above_the_exact_value_the_next_lower_stands_beside_it(
    current, standard, here, there
):
    mark = FuseMark(float(current), "T", "L", 250).text()
    try:
        answer = scaled(mark, here, there, old_standard=standard)
    except BadInput:
        return
    value = answer.value

    if value is not None:
        assert value.current_milliampere <= nearest(value.exact_milliampere)
        if value.current_milliampere > value.exact_milliampere * (1 + 1e-9):
            assert standard == "iec"
            assert value.show_lower
            assert value.lower_milliampere is None or (
                value.lower_milliampere < value.exact_milliampere
            )


@given(st.sampled_from(ANY_IEC), st.sampled_from(["F", "T", "M"]), st.sampled_from(["L", "H", "E"]),
       volts, volts)  # fmt: skip
def test_characteristic_breaking_capacity_and_volts_are_kept_or_raised(
    current, kind, letter, here, there
):
    mark = FuseMark(float(current), kind, letter, 250).text()
    value = scaled(mark, here, there).value

    if value is not None:
        assert value.characteristic == kind
        assert value.breaking_letter == letter
        assert value.rated_volt >= 250


@given(st.floats(32, 20000))
def test_a_current_snaps_by_ratio(milliampere):
    pick = nearest(milliampere)

    ratios = [max(m / milliampere, milliampere / m) for m in R10_MILLIAMPERE]
    assert max(pick / milliampere, milliampere / pick) == pytest.approx(min(ratios))
