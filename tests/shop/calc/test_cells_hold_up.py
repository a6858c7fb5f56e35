"""A capacitor that keeps the memory while the cell is changed."""

from math import exp, log1p, sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad

from shop.calc.cells.hold_up import (
    HoldUpIn,
    hold_up,
    hold_up_seconds,
    hold_up_seconds_at_power,
    hold_up_seconds_with_loss,
)
from shop.calc.working import BadInput, Outcome


# Computed from t = C (V1 - V2) / I.
@pytest.mark.parametrize(
    ("farad", "drop", "current", "seconds"),
    [(1e-3, 1.0, 10e-6, 100), (600e-6, 1.0, 10e-6, 60), (1875e-6, 0.8, 5e-6, 300)],
)
def test_hold_up_at_constant_current(farad, drop, current, seconds):
    assert hold_up_seconds(farad, 3.0, 3.0 - drop, current) == pytest.approx(seconds)


# rftools.io supercapacitor-backup, an older copy, prints 5346 J and 5091 s: wrong.
# Computed: 7560 J, 7200 s.
def test_the_published_supercapacitor_example_is_wrong():
    answer = hold_up(HoldUpIn(3000, 2.7, 1.5, 0.5))

    assert answer.value.joule == pytest.approx(7560)
    assert answer.value.seconds == pytest.approx(7200)


def test_series_resistance_and_constant_power_shorten_the_hold_up():
    assert hold_up_seconds(1.0, 5.0, 3.0, 0.1, 10.0) == pytest.approx(10.0)
    assert hold_up_seconds_at_power(1.0, 5.0, 3.0, 0.5) == pytest.approx(16.0)
    with pytest.raises(BadInput, match="to_volt"):
        hold_up(HoldUpIn(1.0, 3.0, 3.0, 0.1))


# With ESR the first drop is I ESR: 0.1 A through 20 ohm is the whole 2 V. Computed.
def test_a_first_drop_that_takes_it_all_leaves_no_time():
    answer = hold_up(HoldUpIn(1.0, 5.0, 3.0, 0.1, 20.0))

    assert answer.value.seconds == 0
    assert answer.outcome is Outcome.WARN


# rftools.io: t = C (V1^2 - V2^2) / (2 P). Second-hand; 1 F, 5 to 3 V, 0.5 W computed: 16 s.
def test_a_constant_power_comes_in_place_of_the_current():
    answer = hold_up(HoldUpIn(1.0, 5.0, 3.0, power_watt=0.5))

    assert answer.value.seconds == pytest.approx(16.0)


@given(
    st.floats(0.01, 10), st.floats(3, 12), st.floats(0.5, 2.9), st.floats(0.01, 2),
    st.floats(0.01, 5),
)  # fmt: skip
def test_constant_power_behind_esr_is_the_integral_of_its_current(farad, begin, end, watt, esr):
    assume(begin**2 > 4.2 * watt * esr)

    def ampere(inside):
        return (inside - sqrt(max(inside**2 - 4 * watt * esr, 0))) / (2 * esr)

    stop = max(end, sqrt(watt * esr))
    stop += watt * esr / stop
    seconds = hold_up_seconds_at_power(farad, begin, end, watt, esr)

    expected = quad(lambda x: farad / ampere(x), stop, begin)[0] if stop < begin else 0
    assert seconds == pytest.approx(expected, rel=1e-4, abs=1e-9)
    assert seconds <= hold_up_seconds_at_power(farad, begin, end, watt) * (1 + 1e-12)


# Computed: at t = (1/k) ln(...) the voltage of dV/dt = -I/C - kV has come down to the end.
@given(st.floats(1e-3, 1), st.floats(1e-7, 1e-4), st.floats(0.01, 0.6))
def test_a_capacitor_that_leaks_by_itself_is_down_at_the_time_found(farad, ampere, daily):
    seconds = hold_up_seconds_with_loss(farad, 5.0, 2.0, ampere, 0.0, daily)

    rate = -log1p(-daily) / 86_400
    down = (5.0 + ampere / (farad * rate)) * exp(-rate * seconds) - ampere / (farad * rate)
    assert down == pytest.approx(2.0, rel=1e-6)
    assert seconds < hold_up_seconds(farad, 5.0, 2.0, ampere)


# Computed from C = I t / dV: 600 uF hold 60 s at 10 uA with 1.0 V to lose; 1875 uF 300 s at 5 uA
# with 0.8 V.
@pytest.mark.parametrize(
    ("ampere", "drop", "wanted", "farad"), [(10e-6, 1.0, 60, 600e-6), (5e-6, 0.8, 300, 1875e-6)]
)
def test_the_least_capacitor_for_a_time(ampere, drop, wanted, farad):
    answer = hold_up(HoldUpIn(1e-3, 3.0, 3.0 - drop, ampere, wanted_seconds=wanted))

    assert answer.value.least_farad == pytest.approx(farad)
    assert answer.outcome is (Outcome.OK if farad <= 1e-3 else Outcome.WARN)


@given(st.floats(0.05, 0.6), st.floats(100, 200_000))
def test_the_least_capacitor_with_a_loss_just_holds(daily, wanted):
    given_ = HoldUpIn(0.1, 5.0, 2.0, 1e-6, daily_loss_percent=daily * 100, wanted_seconds=wanted)

    least = hold_up(given_).value.least_farad

    if least is not None:
        held = hold_up_seconds_with_loss(least, 5.0, 2.0, 1e-6, 0.0, daily)
        assert held == pytest.approx(wanted, rel=1e-6)


# A 5.5 V stack that loses 40 % a day cannot hold 2 V for a week, however large.
def test_no_capacitor_outlasts_its_own_loss():
    week = 7 * 86_400.0

    answer = hold_up(HoldUpIn(1, 5.5, 2, 1e-6, daily_loss_percent=40, wanted_seconds=week))

    assert answer.value.least_farad is None
    assert answer.outcome is Outcome.WARN


@pytest.mark.parametrize(
    ("given_", "field"),
    [
        (HoldUpIn(1.0, 5.0, 3.0), "current_a"),
        (HoldUpIn(1.0, 5.0, 3.0, 0.1, power_watt=0.5), "current_a"),
        (HoldUpIn(1.0, 5.0, 3.0, power_watt=0.5, daily_loss_percent=5), "daily_loss_percent"),
    ],
)
def test_a_hold_up_that_cannot_be_reckoned_is_refused(given_, field):
    with pytest.raises(BadInput) as refused:
        hold_up(given_)

    assert refused.value.field == field
