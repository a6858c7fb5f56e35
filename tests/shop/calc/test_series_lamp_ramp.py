"""Series lamp: which unit, which lamp, the limits of the ramp, and reading back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.judging import band_at
from shop.calc.series_lamp.choose import ChooseLampIn, choose_lamp
from shop.calc.series_lamp.gate import GateIn, SupplyKind, gate
from shop.calc.series_lamp.lamp import Glow, Lamp, current_at, glow_at, volt_at
from shop.calc.series_lamp.loads import Mixed
from shop.calc.series_lamp.points import operating_points
from shop.calc.series_lamp.ramp import RampIn, ramp
from shop.calc.series_lamp.read_back import ReadBackIn, read_back
from shop.calc.working import BadInput, Outcome

W100 = Lamp(100, 230)
W60 = Lamp(60, 230)
lamps = st.builds(
    Lamp, st.floats(15, 500), st.sampled_from([115.0, 230.0]), st.integers(1, 3),
    st.floats(0.4, 0.65),
)  # fmt: skip


def test_a_switch_mode_supply_is_refused_with_the_reason():
    answer = gate(GateIn(SupplyKind.SWITCH_MODE))

    assert answer.outcome is Outcome.REFUSE
    assert "I = P / V" in answer.text
    assert gate(GateIn(SupplyKind.LINEAR)).value.may_ramp
    assert not gate(GateIn(SupplyKind.UNKNOWN)).value.may_ramp


# 100 W of constant power: 0.43 A at 230 V, 1.11 A at 90 V. Computed.
def test_the_gate_shows_how_a_constant_power_unit_takes_more_as_the_volts_fall():
    (line,) = gate(GateIn(SupplyKind.SWITCH_MODE)).working.lines

    assert line.result == f"{100 / 230:.2f} A at 230 V, {100 / 90:.2f} A at 90 V"


@given(st.floats(1, 200), st.floats(1.01, 5), st.just(0.0) | st.floats(-1, 4), st.floats(20, 250))
def test_a_unit_that_takes_more_never_lowers_the_lamp_voltage(watt, factor, m, supply):
    light = operating_points(W100, Mixed(watt, 230, m), supply)
    heavy = operating_points(W100, Mixed(watt * factor, 230, m), supply)

    assert bool(light) >= bool(heavy)
    if heavy:
        assert heavy[0].lamp_volt >= light[0].lamp_volt * (1 - 1e-9)


# Lamp watts over resistive unit watts for 80 % at the unit: 1.94. Computed.
@pytest.mark.parametrize(("idle", "watt"), [(12.8, 25), (13.0, 40), (30.0, 60), (50.0, 100)])
def test_the_smallest_lamp_that_leaves_eighty_per_cent_is_chosen(idle, watt):
    answer = choose_lamp(ChooseLampIn(230, 230, 230, idle))

    assert answer.value.watt == watt
    assert answer.outcome is Outcome.OK


def test_with_idle_power_unknown_the_smallest_lamp_is_chosen():
    assert choose_lamp(ChooseLampIn(230, 230, 230, lamp_watts=[100, 40])).value.watt == 40


def test_no_lamp_large_enough_is_said_and_the_smallest_stays_first():
    answer = choose_lamp(ChooseLampIn(230, 230, 230, 500.0))

    assert answer.outcome is Outcome.WARN
    assert answer.value.watt == 25


def test_a_lamp_of_no_watts_is_refused():
    with pytest.raises(BadInput, match=r"lamp_watts\[1\]"):
        choose_lamp(ChooseLampIn(230, 230, 230, 20.0, [25, 0]))


SETTINGS = [23.0 * n for n in range(1, 11)]


def test_the_ramp_has_limits_around_the_nominal_solution():
    answer = ramp(RampIn(25, 230, W60, SETTINGS, SupplyKind.LINEAR))

    assert answer.value is not None
    for step in answer.value.steps:
        # Below half its nominal volts the unit counts as a resistor.
        for m in (0.3, 1.0) if step.setting_volt > 150 else (1.0,):
            point = operating_points(W60, Mixed(25, 230, m), step.setting_volt)[0]
            assert step.unit_volt.low <= point.unit_volt <= step.unit_volt.high
            assert step.current_a.low <= point.current_a <= step.current_a.high
        assert step.current_a.high <= current_at(W60.by_heat(0.20), step.setting_volt)


@given(st.floats(2, 200), lamps, st.sampled_from([115.0, 230.0]), st.floats(0, 0.5))
def test_limits_of_the_ramp_are_in_order_and_never_above_the_setting(idle, lamp, volt, spread):
    settings = [volt * n / 10 for n in range(1, 11)]

    answer = ramp(RampIn(idle, volt, lamp, settings, SupplyKind.LINEAR, idle_spread=spread))

    for step in answer.value.steps:
        assert 0 <= step.unit_volt.low <= step.unit_volt.high <= step.setting_volt
        assert 0 <= step.current_a.low <= step.current_a.high
        assert 0 <= step.rail_share.low <= step.rail_share.high <= 1 + 1e-12


def test_a_rail_follows_the_unit_volts_and_a_negative_one_is_the_right_way_round():
    plus = ramp(RampIn(25, 230, W60, SETTINGS, SupplyKind.LINEAR, rail_volt=15.0)).value.steps[-1]
    minus = ramp(RampIn(25, 230, W60, SETTINGS, SupplyKind.LINEAR, rail_volt=-15.0)).value.steps[-1]

    assert plus.rail_volt.low == pytest.approx(15 * plus.unit_volt.low / 230)
    assert (minus.rail_volt.low, minus.rail_volt.high) == (
        -plus.rail_volt.high,
        -plus.rail_volt.low,
    )


def test_a_valve_rectifier_may_give_nothing_until_it_is_warm():
    steps = ramp(RampIn(25, 230, W60, SETTINGS, SupplyKind.VALVE_RECTIFIER)).value.steps

    assert [step.rail_share.low > 0 for step in steps] == [False] * 7 + [True] * 3


def test_at_half_and_below_the_current_has_no_lower_limit():
    steps = ramp(RampIn(25, 230, W60, SETTINGS, SupplyKind.LINEAR)).value.steps

    assert [step.current_a.low > 0 for step in steps] == [False] * 5 + [True] * 5
    assert all(step.unit_volt.high == step.setting_volt for step in steps[:5])


def test_a_short_leaves_the_limits_at_every_setting():
    answer = ramp(RampIn(25, 230, W60, SETTINGS, SupplyKind.LINEAR))

    for step in answer.value.steps[2:]:
        assert current_at(W60, step.setting_volt) > step.current_a.high


def test_the_band_of_the_ramp_can_be_looked_up_between_settings():
    value = ramp(RampIn(25, 230, W60, SETTINGS, SupplyKind.LINEAR)).value

    band = band_at(value.current_band, 150.0)

    assert band.low < operating_points(W60, Mixed(25, 230, 0.5), 150.0)[0].current_a < band.high
    assert band_at(value.current_band, 240.0) is None


def test_a_switch_mode_unit_gets_no_ramp():
    answer = ramp(RampIn(25, 230, W60, SETTINGS, SupplyKind.SWITCH_MODE))

    assert (answer.outcome, answer.value) == (Outcome.REFUSE, None)


def test_settings_that_do_not_rise_are_refused():
    with pytest.raises(BadInput, match=r"settings_volt\[1\]"):
        ramp(RampIn(25, 230, W60, [100, 100], SupplyKind.LINEAR))


# Inverting the law, computed: I/I0 0.3, 0.5, 0.7, 0.9 gives VL/V0 0.11, 0.28, 0.52, 0.83.
@pytest.mark.parametrize(("current", "volt"), [(0.3, 0.11), (0.5, 0.28), (0.7, 0.52), (0.9, 0.83)])
def test_the_law_read_backwards(current, volt):
    assert volt_at(Lamp(230, 230), current) / 230 == pytest.approx(volt, abs=5e-3)


@pytest.mark.parametrize(
    ("share", "glow"),
    [(0.05, Glow.DARK), (0.2, Glow.DIM), (0.5, Glow.HALF), (0.75, Glow.HALF), (0.95, Glow.FULL)],
)
def test_words_for_the_glow(share, glow):
    assert glow_at(W60, 230 * share) is glow


def test_reading_back_the_worked_case_finds_its_load():
    answer = read_back(ReadBackIn(W100, 230, unit_volt=185.767))

    assert answer.value.current_a.low < 0.17558 < answer.value.current_a.high
    assert answer.value.apparent_ohm.low < 1058 < answer.value.apparent_ohm.high
    assert answer.value.glow is Glow.DIM


def test_reading_back_from_the_current_spans_the_volts():
    answer = read_back(ReadBackIn(W100, 230, current_a=0.17558))

    assert answer.value.unit_volt == pytest.approx(185.77, abs=0.05)
    assert answer.value.apparent_va.low < 32.618 < answer.value.apparent_va.high


def test_a_current_the_lamp_does_not_explain_is_said():
    answer = read_back(ReadBackIn(W100, 230, unit_volt=185.767, current_a=0.05))

    assert answer.outcome is Outcome.WARN
    assert "another lamp" in answer.text


def test_a_dark_lamp_does_not_pass_for_a_good_unit():
    answer = read_back(ReadBackIn(W100, 230, unit_volt=230.0))

    assert answer.value.glow is Glow.DARK
    assert "dead" in answer.value.cannot_tell
    assert answer.value.apparent_ohm is None


@pytest.mark.parametrize(("volt", "current"), [(None, None), (231.0, None), (None, -0.1)])
def test_reading_back_needs_something_possible(volt, current):
    with pytest.raises(BadInput):
        read_back(ReadBackIn(W100, 230, volt, current))


# S7 (computed, a = 0.55): 2000 + j1500 ohm behind 60 W has 206.607 V and 82.643 mA on 230 V; its
# own power factor is 2000 / 2500 and its power 13.660 W.
def test_three_readings_tell_the_power_factor_of_a_reactive_unit():
    value = read_back(ReadBackIn(W60, 230, 206.607, 0.082643)).value

    assert value.power_factor.low < 0.8 < value.power_factor.high
    assert value.unit_watt.low < 13.660 < value.unit_watt.high


def test_a_resistor_reads_back_as_one():
    value = read_back(ReadBackIn(W100, 230, 185.767, 0.17558)).value

    assert value.power_factor.high == pytest.approx(1, abs=1e-3)


def test_readings_no_lamp_law_explains_give_no_power_factor():
    assert read_back(ReadBackIn(W100, 230, 185.767, 0.01)).value.power_factor is None
    assert read_back(ReadBackIn(W100, 230, 0.0, 0.43)).value.power_factor is None
