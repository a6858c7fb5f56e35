"""Rails against published cases, and the ripple formula against the rectifier solved exactly."""

from math import cos, pi, sqrt

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome


def ripple(**fields):
    return work_out("rails.ripple", fields)


def exact_ripple(ampere, farad, hertz, crest):
    """Peak to peak of a full-wave reservoir with a constant current, crest to meeting point.

    Solved numerically, not by the formula under test: the reservoir leaves the sine where the sine
    falls faster than I / C and meets the next half-wave.
    """
    omega = 2 * pi * hertz
    leave = brentq(lambda t: crest * omega * cos(pi / 2 - omega * t) - ampere / farad,
                   0, 0.25 / hertz)  # fmt: skip
    start = crest * cos(omega * leave)

    def above(t):
        return start - ampere / farad * (t - leave) + crest * cos(omega * t)

    meet = brentq(above, 0.25 / hertz, 0.5 / hertz)
    return crest - (start - ampere / farad * (meet - leave))


def test_two_amperes_from_1000_microfarad_ripple_16_7_volts_on_60_hz():
    # second-hand: calculator.7search.cc ripple page, 2 A, 60 Hz, 1000 uF, full wave: 16.67 V
    at_60 = ripple(load_ampere=2, reservoir_farad=0.001).value.at[1]

    assert at_60.peak_to_peak_volt == pytest.approx(16.67, abs=0.005)
    assert at_60.ripple_hertz == 120


def test_half_wave_ripples_twice_as_much_at_half_the_frequency():
    # second-hand: electrical-engineering.app/qa/7829, I / (f C) against I / (2 f C)
    full = ripple(load_ampere=0.1, reservoir_farad=1e-4).value.at[0]
    half = ripple(load_ampere=0.1, reservoir_farad=1e-4, rectifier="half_wave").value.at[0]

    assert half.peak_to_peak_volt == pytest.approx(2 * full.peak_to_peak_volt)
    assert (full.ripple_hertz, half.ripple_hertz) == (100, 50)


def test_fifty_hertz_ripples_a_fifth_more_than_sixty():
    # derived: Vpp goes by 1 / f
    at_50, at_60 = ripple(load_ampere=1, reservoir_farad=0.01).value.at

    assert at_50.peak_to_peak_volt / at_60.peak_to_peak_volt == pytest.approx(1.2)


def test_a_sawtooth_of_one_volt_is_289_millivolts_rms():
    # derived: integral of a ramp from -1/2 to 1/2 squared is 1/12
    at_50 = ripple(load_ampere=1, reservoir_farad=0.01).value.at[0]

    assert at_50.peak_to_peak_volt == pytest.approx(1.0)
    assert at_50.rms_volt == pytest.approx(1 / sqrt(12))


@settings(max_examples=60, deadline=None)
@given(st.floats(0.01, 3), st.floats(5e-4, 0.02), st.sampled_from([50.0, 60.0]),
       st.floats(10, 400))  # fmt: skip
def test_the_formula_is_never_below_the_exact_ripple_and_close_where_it_is_small(
    ampere, farad, hertz, crest
):
    approximate = ampere / (2 * hertz * farad)
    assume(approximate < 0.05 * crest)
    answer = ripple(load_ampere=ampere, reservoir_farad=farad, supply_hertz=hertz)
    ours = next(at for at in answer.value.at if at.supply_hertz == hertz).peak_to_peak_volt

    exact = exact_ripple(ampere, farad, hertz, crest)

    assert exact <= ours * (1 + 1e-9)
    assert ours <= exact * 1.15


def test_twice_the_ripple_is_half_the_capacitance():
    # derived: the formula read the other way
    answer = ripple(load_ampere=1, reservoir_farad=0.01, measured_volt=2 / sqrt(12))

    assert answer.value.acts_like_percent == pytest.approx(50)
    assert answer.outcome is Outcome.WARN


def test_a_ripple_of_most_of_the_rail_is_said_to_be_less_in_truth():
    answer = ripple(load_ampere=2, reservoir_farad=0.001, rail_volt=20)

    assert answer.outcome is Outcome.WARN
    assert "well below" in answer.text


def regulator(**fields):
    plain = {
        "reservoir_volt": 12, "line_volt": 230, "output_volt": 5, "load_ampere": 1,
        "high_line_volt": 230,
    }  # fmt: skip
    return work_out("rails.regulator", {**plain, **fields})


def test_a_five_volt_regulator_on_twelve_volts_reaches_137_degrees():
    # second-hand: ip331.com linear regulator page: 12 V to 5 V, 1 A: 7 W; 25 °C, 16 K/W: 137 °C
    value = regulator(thermal_kelvin_per_watt=16, air_celsius=25).value

    assert value.heat_watt == pytest.approx(7)
    assert value.junction_celsius == pytest.approx(137)


def test_above_the_junctions_limit_it_is_refused():
    answer = regulator(thermal_kelvin_per_watt=16, air_celsius=25, most_junction_celsius=125)

    assert answer.outcome is Outcome.REFUSE
    assert "Too hot" in answer.text


def test_five_watts_from_25_to_125_degrees_leave_20_kelvin_per_watt():
    # second-hand: the same page: (125 - 25) / 5 W = 20 K/W, 14 K/W of it for the heat sink
    value = regulator(reservoir_volt=10, air_celsius=25).value

    assert value.heat_watt == pytest.approx(5)
    assert value.most_kelvin_per_watt - 5 - 1 == pytest.approx(14)


def test_headroom_is_what_low_line_ripple_and_dropout_leave():
    # derived by hand: 1 A, 4700 uF, 50 Hz: 2.128 V; crest 13.064 V and 1.4 V of diodes make
    # 14.464 V at 230 V, 13.017 V at 207 V; valley 13.017 - 1.4 - 2.128 = 9.490 V; less 5, less 2
    value = regulator(reservoir_farad=0.0047, low_line_volt=207).value

    assert value.headroom_volt == pytest.approx(2.490, abs=0.001)


def test_at_the_line_where_it_drops_out_no_headroom_is_left():
    first = regulator(reservoir_farad=0.0047).value

    again = regulator(reservoir_farad=0.0047, low_line_volt=first.least_line_volt).value

    assert again.headroom_volt == pytest.approx(0, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.05, 2), st.floats(2e-3, 0.02), st.floats(12, 60), st.floats(0.85, 1.0))
def test_the_headroom_is_never_more_than_that_of_the_rectifier_solved_exactly(
    ampere, farad, crest, line
):
    assume(ampere / (100 * farad) < 0.1 * crest)
    nominal, low_crest = exact_ripple(ampere, farad, 50, crest), (crest + 1.4) * line - 1.4
    mean = crest - nominal / 2
    valley = low_crest - exact_ripple(ampere, farad, 50, low_crest)

    value = regulator(
        reservoir_volt=mean, output_volt=5, load_ampere=ampere, reservoir_farad=farad,
        low_line_volt=230 * line,
    ).value  # fmt: skip

    assert value.low_valley_volt <= valley + 1e-9
    assert value.low_valley_volt == pytest.approx(valley, abs=0.25 * value.peak_to_peak_volt)


def test_a_regulator_that_drops_out_at_low_line_hums():
    answer = regulator(reservoir_volt=7.5, reservoir_farad=0.0022)

    assert answer.outcome is Outcome.WARN
    assert "hums" in answer.text


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"output_volt": 12}, "output_volt"),
        ({"low_line_volt": 240, "high_line_volt": 230}, "low_line_volt"),
    ],
)
def test_crossed_readings_of_a_regulator_name_their_field(fields, field):
    with pytest.raises(BadInput) as refused:
        regulator(**fields)

    assert refused.value.field == field


def rise(**fields):
    plain = {"cold_ohm": 80, "cold_celsius": 20, "hot_ohm": 100, "room_celsius": 20}
    return work_out("rails.winding_rise", {**plain, **fields})


def test_80_ohm_that_become_100_are_64_kelvin_warmer():
    # second-hand: physicsforums.com/threads/381286: 80 ohm at 20 °C, 100 ohm hot: 63.63 K
    value = rise().value

    assert value.rise_kelvin == pytest.approx(63.63, abs=0.01)
    assert value.mean_celsius == pytest.approx(83.63, abs=0.01)


def test_one_kelvin_is_0_393_per_cent_of_copper_at_20_degrees():
    # second-hand: electrical-engineering-portal.com temperature-rise: 1 / 254.5 = 0.00393
    assert rise(cold_ohm=100, hot_ohm=100.393).value.rise_kelvin == pytest.approx(1, abs=0.001)


def test_a_room_that_warmed_up_meanwhile_is_taken_off():
    # derived: rise = (R2 - R1)/R1 (k + t1) - (t2 - t1), the form of IEC 60335-1, 11.3 (from memory)
    value = rise(room_celsius=26).value

    assert value.rise_kelvin == pytest.approx(0.25 * 254.5 - 6)


@pytest.mark.parametrize(
    ("letter", "limit"),
    # second-hand: croylek.com/pages/temperature-classes-of-electrical-insulation
    [("A", 105), ("E", 120), ("B", 130), ("F", 155), ("H", 180)],
)
def test_the_classes_have_the_limits_of_the_table(letter, limit):
    assert rise(insulation_class=letter).value.limit_celsius == limit


@pytest.mark.parametrize(
    ("letter", "outcome"),
    # derived: mean 103.6 °C and hot spot 113.6 °C in a room of 40 °C
    [("A", Outcome.WARN), ("E", Outcome.OK)],
)
def test_the_verdict_looks_at_mean_and_hot_spot(letter, outcome):
    assert rise(insulation_class=letter).outcome is outcome


def test_a_winding_beyond_its_class_on_the_mean_is_refused():
    assert rise(hot_ohm=105, insulation_class="A").outcome is Outcome.REFUSE


@pytest.mark.parametrize("hot", [79.9, 200.0])
def test_resistances_that_no_winding_has_are_sent_back(hot):
    with pytest.raises(BadInput) as refused:
        rise(hot_ohm=hot)

    assert refused.value.field == "hot_ohm"


def test_a_winding_cooler_than_its_room_is_sent_back():
    with pytest.raises(BadInput) as refused:
        rise(hot_ohm=80, room_celsius=30)

    assert refused.value.field == "room_celsius"


@given(st.floats(0.1, 1000), st.floats(0, 40), st.floats(0, 150))
def test_a_rise_made_from_copper_is_read_back(ohm, cold, kelvin):
    hot = ohm * (234.5 + cold + kelvin) / (234.5 + cold)
    assume(hot >= ohm)

    value = rise(cold_ohm=ohm, cold_celsius=cold, hot_ohm=hot, room_celsius=cold).value

    assert value.rise_kelvin == pytest.approx(kelvin, abs=1e-6)
