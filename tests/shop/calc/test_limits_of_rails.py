"""Limits of rails, soaks and valves against figures from outside and against their counterparts."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.judging import band_at
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome


def rail(**fields):
    return work_out("rails.limits", {"rail_volt": 5, **fields})


def test_a_five_volt_rail_without_limits_is_that_of_a_three_pin_regulator():
    # from memory: data sheets of 5 V three-pin regulators, 4.75 to 5.25 V over line and load
    value = rail().value

    assert (value.low_volt, value.high_volt) == (pytest.approx(4.75), pytest.approx(5.25))


def test_the_sheets_limits_and_ripple_win():
    value = rail(low_volt=4.9, high_volt=5.2, ripple_millivolt=20, load_ampere=1,
                 reservoir_farad=0.001).value  # fmt: skip

    assert (value.low_volt, value.high_volt, value.most_ripple_volt) == (4.9, 5.2, 0.02)


def test_ripple_of_a_raw_rail_is_that_of_its_reservoir_as_r_m_s():
    # second-hand: electrical-engineering.app/qa/7829, 2 A, 1000 uF, 60 Hz: 16.7 V peak to peak
    value = rail(rail_volt=40, load_ampere=2, reservoir_farad=0.001, supply_hertz=60).value

    assert value.most_ripple_volt == pytest.approx(16.67 / (2 * math.sqrt(3)), rel=1e-3)


def test_ripple_that_nothing_tells_is_not_limited_and_the_answer_says_so():
    answer = rail()

    assert answer.value.most_ripple_volt is None
    assert "not known" in answer.text


def test_a_negative_rail_keeps_its_sign_and_its_open_side():
    value = rail(rail_volt=-15, low_volt=-15.75, high_volt=-14.25).value

    assert (value.low_volt, value.high_volt) == (-15.75, -14.25)
    assert value.before_low_volt is None
    assert value.before_high_volt == pytest.approx(-value.least_before_volt)


@given(
    volt=st.floats(1, 400),
    ampere=st.floats(0.01, 5),
    farad=st.floats(1e-3, 0.1),
    share=st.floats(0.8, 1),
)
def test_the_least_before_a_regulator_is_what_leaves_it_no_headroom(volt, ampere, farad, share):
    # the counterpart: rails.regulator at these very volts
    line = {"line_volt": 230, "low_line_volt": 230 * share}
    part = {"load_ampere": ampere, "reservoir_farad": farad}

    least = rail(rail_volt=volt, **line, **part).value.least_before_volt
    found = work_out(
        "rails.regulator", {"reservoir_volt": least, "output_volt": volt, **line, **part}
    )

    assert found.value.headroom_volt == pytest.approx(0, abs=1e-6)


def test_without_current_and_reservoir_a_tenth_of_ripple_is_taken():
    # by hand: 8.4 V at the valley; crest 8.4 x 230 / 207 - 1.4 = 7.933 V and V = crest - 0.05 V
    # with the ripple 0.1 V in both: V (1.05 - 0.1111) = 7.9333
    assert rail().value.least_before_volt == pytest.approx(8.449, abs=1e-3)


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"rail_volt": 0}, "nought"),
        ({"low_volt": 5.1}, "limits_crossed"),
        ({"rail_volt": -15, "low_volt": 14}, "limits_crossed"),
        ({"low_line_volt": 240}, "above_line"),
    ],
)
def test_a_rail_that_cannot_be_is_sent_back(fields, code):
    with pytest.raises(BadInput) as refused:
        rail(**fields)

    assert refused.value.code == code


def soak(**fields):
    return work_out("rails.soak", {"room_celsius": 20, **fields})


def test_a_winding_of_class_b_may_gain_what_copper_gains_in_80_kelvin():
    # second-hand: copper 0.393 % per kelvin at 20 °C; by hand: 130 - 10 - (40 - 20) = 100 °C
    value = soak(insulation_class="B").value

    assert value.most_winding_celsius == 100
    assert value.winding_factor == pytest.approx(1 + 0.00393 * 80, abs=2e-4)


@given(cold=st.floats(0.5, 5000), room=st.floats(5, 39))
def test_the_hottest_ohms_leave_the_class_nothing(cold, room):
    # the counterpart: rails.winding_rise at these very ohms
    points = soak(room_celsius=room, insulation_class="E").value.winding_points
    hot = band_at(points, cold).high

    found = work_out("rails.winding_rise", {
        "cold_ohm": cold, "cold_celsius": room, "hot_ohm": hot, "room_celsius": room,
        "insulation_class": "E",
    })  # fmt: skip

    assert found.value.margin_kelvin == pytest.approx(0, abs=1e-6)


def test_a_transformer_without_a_class_is_taken_as_a():
    assert soak().value.winding_factor == soak(insulation_class="A").value.winding_factor


def test_a_soak_of_four_hours_is_read_every_half_hour():
    assert soak().value.readings == 8
    assert soak(seconds=3600).value.readings == 2
    assert soak(seconds=1200).value.readings == 1


def test_a_room_may_drift_by_5_kelvin_and_the_case_rise_by_40():
    # from memory: IEC 60065, 40 K on a metal case and 30 K on knobs of metal; 5 K is proposed
    value = soak(room_celsius=21).value

    assert (value.room_low_celsius, value.room_high_celsius) == (16, 26)
    assert (value.case_celsius, value.held_celsius) == (61, 51)


def test_idle_power_is_the_sheets_and_never_above_the_rating_plate():
    value = soak(idle_watt=95, rated_watt=100).value

    assert (value.idle_low_watt, value.idle_high_watt) == (pytest.approx(76), 100)
    assert soak().value.idle_high_watt is None


def test_a_room_that_leaves_no_rise_is_sent_back():
    with pytest.raises(BadInput) as refused:
        soak(room_celsius=100)

    assert refused.value.code == "too_warm"


def valve(**fields):
    return work_out("valves.limits", {"heater_volt": 6.3, **fields})


def test_a_heater_works_within_a_tenth_of_its_volts():
    # second-hand: tubecad.com/october2000/page26, about 10 %
    value = valve().value

    assert value.heater_low_volt == pytest.approx(5.67)
    assert value.heater_high_volt == pytest.approx(6.93)


def test_a_heater_at_its_limit_is_where_the_heater_calculator_begins_to_refuse():
    limit = valve().value.heater_high_volt

    assert heater(limit) is Outcome.WARN
    assert heater(limit * 1.001) is Outcome.REFUSE


def heater(volt):
    return work_out("valves.heater", {"rated_volt": 6.3, "measured_volt": volt}).outcome


def test_thoriated_tungsten_is_held_to_5_per_cent():
    # second-hand: comment on period advice, classiccmp.org/mailman3
    value = valve(heater_volt=10, cathode="thoriated").value

    assert (value.heater_low_volt, value.heater_high_volt) == (9.5, 10.5)


def test_50_milliamperes_at_450_volts_burn_the_whole_of_22_5_watts():
    # second-hand: tubes.nekhbet.com/math.shtml; 50 mA over 10 ohm is 0.5 V
    value = valve(plate_volt=450, most_plate_watt=22.5, cathode_ohm=10).value

    assert value.full_plate_volt == pytest.approx(0.5, rel=2e-3)


@given(plate=st.floats(100, 800), watt=st.floats(1, 60), ohm=st.floats(1, 300))
def test_the_highest_cathode_volts_burn_no_more_than_the_maximum(plate, watt, ohm):
    points = valve(plate_volt=plate, most_plate_watt=watt, cathode_ohm=ohm).value.cathode_points
    for at, low, high in points:
        if high is None:
            continue
        found = work_out("valves.dissipation", {
            "plate_volt": at, "most_plate_watt": watt, "cathode_ampere": high / ohm,
            "cathode_volt": high,
        })  # fmt: skip

        assert low is None
        assert found.value.plate_percent == pytest.approx(100, rel=1e-6)


def test_between_two_points_the_limit_is_a_quarter_of_a_per_cent_off_at_most():
    value = valve(plate_volt=400, most_plate_watt=12, cathode_ohm=10).value
    for (x, _low, high), (y, _same, next_high) in zip(
        value.cathode_points, value.cathode_points[1:], strict=False
    ):
        middle = (x + y) / 2
        exact = valve(plate_volt=middle, most_plate_watt=12, cathode_ohm=10).value.full_plate_volt

        assert (high + next_high) / 2 == pytest.approx(exact, rel=2.6e-3)


def test_the_sheets_cathode_volts_win_below_the_maximum():
    limits = {"cathode_low_volt": 0.28, "cathode_high_volt": 0.38}
    value = valve(plate_volt=430, most_plate_watt=19, cathode_ohm=10, **limits).value

    band = band_at(value.cathode_points, 430.0)
    assert (band.low, band.high) == (0.28, 0.38)
    # by hand: 19 W / 600 V = 31.7 mA, 0.317 V over 10 ohm
    assert band_at(value.cathode_points, 602.0).high == pytest.approx(0.316, abs=1e-3)


def test_without_plate_volts_nothing_runs_along_them():
    assert valve(cathode_ohm=10).value.cathode_points == []


def test_crossed_cathode_limits_are_sent_back():
    with pytest.raises(BadInput) as refused:
        valve(cathode_low_volt=14, cathode_high_volt=11)

    assert refused.value.code == "limits_crossed"
