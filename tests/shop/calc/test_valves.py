"""Valves against worked cases of published pages, and one rule against another."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.windings.verdicts import judge_heater
from shop.calc.working import BadInput, Outcome


def bias(**fields):
    return work_out("valves.bias", fields)


@pytest.mark.parametrize(
    ("fields", "key", "value", "within"),
    [
        # second-hand: tubes.nekhbet.com/math.shtml, three worked cases. It rounds .0577 to .0576.
        ({"cathode_volt": 22.5, "cathode_ohm": 390}, "ampere", 0.0577, 1e-4),
        ({"cathode_volt": 20, "cathode_ampere": 0.04}, "cathode_ohm", 500, 1e-9),
        ({"cathode_ohm": 140, "cathode_ampere": 0.048}, "cathode_volt", 6.72, 1e-9),
    ],
)
def test_two_of_the_three_give_the_third(fields, key, value, within):
    assert getattr(bias(**fields).value, key) == pytest.approx(value, abs=within)


def test_two_valves_on_one_resistor_share_its_current():
    # derived: Kirchhoff
    one, two = (bias(cathode_volt=20, cathode_ohm=250, sharing=n).value for n in (1, 2))

    assert two.ampere == pytest.approx(one.ampere / 2)
    assert two.total_ampere == one.total_ampere == pytest.approx(0.08)
    assert two.resistor_watt == pytest.approx(1.6)


@pytest.mark.parametrize(
    "fields", [{"cathode_volt": 20}, {"cathode_volt": 20, "cathode_ohm": 5, "cathode_ampere": 4}]
)
def test_one_or_all_three_are_sent_back(fields):
    with pytest.raises(BadInput) as refused:
        bias(**fields)

    assert refused.value.code == "two_of_three"


def dissipation(**fields):
    plain = {"plate_volt": 450, "most_plate_watt": 25}
    return work_out("valves.dissipation", {**plain, **fields})


def test_450_volts_and_50_milliamperes_are_90_per_cent_of_25_watts():
    # second-hand: tubes.nekhbet.com/math.shtml
    value = dissipation(plate_ampere=0.05).value

    assert value.plate_watt == pytest.approx(22.5)
    assert value.plate_percent == pytest.approx(90)


@pytest.mark.parametrize(
    ("operation", "outcome"),
    # second-hand: an amplifier builder's page on biasing, class AB at no more than 70 %
    [("fixed_bias", Outcome.WARN), ("cathode_bias", Outcome.OK)],
)
def test_ninety_per_cent_is_too_much_for_fixed_bias_only(operation, outcome):
    assert dissipation(plate_ampere=0.05, operation=operation).outcome is outcome


def test_seventy_per_cent_is_still_right_with_fixed_bias():
    answer = dissipation(plate_ampere=0.7 * 25 / 450)

    assert answer.outcome is Outcome.OK
    assert answer.value.usual_plate_ampere == pytest.approx(answer.value.plate_ampere)


def test_the_cathodes_volts_are_not_across_the_valve():
    # second-hand: robrobinette.com bias page, plate to cathode, not plate to chassis
    value = dissipation(plate_volt=300, cathode_volt=20, plate_ampere=0.04).value

    assert value.plate_watt == pytest.approx(280 * 0.04)


def test_the_screens_current_comes_off_the_cathodes():
    # derived: the currents of all electrodes add up to the cathode's
    value = dissipation(
        cathode_ampere=0.05, screen_ampere=0.005, screen_volt=400, most_screen_watt=8
    ).value

    assert value.plate_ampere == pytest.approx(0.045)
    assert value.screen_watt == pytest.approx(2)
    assert value.screen_percent == pytest.approx(25)
    assert not value.is_upper_bound


def test_without_the_screens_current_it_is_the_most_there_can_be():
    bound = dissipation(cathode_ampere=0.05).value
    exact = dissipation(cathode_ampere=0.05, screen_ampere=0.004).value

    assert bound.is_upper_bound
    assert bound.plate_watt > exact.plate_watt


def test_beyond_the_maximum_it_is_switched_off():
    assert dissipation(plate_ampere=0.06).outcome is Outcome.REFUSE
    assert "measure the screen" in dissipation(cathode_ampere=0.06).text


def test_a_screen_beyond_its_maximum_is_refused_whatever_the_plate_does():
    answer = dissipation(plate_ampere=0.01, screen_ampere=0.03, screen_volt=400, most_screen_watt=8)

    assert answer.outcome is Outcome.REFUSE


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({}, "plate_ampere"),
        ({"plate_ampere": 0.05, "cathode_ampere": 0.05}, "plate_ampere"),
        ({"cathode_ampere": 0.05, "screen_ampere": 0.06}, "screen_ampere"),
        ({"plate_ampere": 0.05, "cathode_volt": 460}, "cathode_volt"),
        (
            {"plate_ampere": 0.05, "cathode_volt": 20, "screen_ampere": 0.01, "screen_volt": 10},
            "screen_volt",
        ),
    ],
)
def test_readings_that_cannot_be_are_named(fields, field):
    with pytest.raises(BadInput) as refused:
        dissipation(**fields)

    assert refused.value.field == field


def test_every_answer_of_a_valve_warns_of_the_high_voltage():
    for answer in (dissipation(plate_ampere=0.05), bias(cathode_volt=20, cathode_ohm=250)):
        assert any("kill" in caution for caution in answer.working.cautions)


def heater(**fields):
    return work_out("valves.heater", {"rated_volt": 6.3, **fields})


def test_a_220_volt_tap_on_240_volts_overheats_by_nine_per_cent():
    # second-hand: dms-audio.com/bucking-transformer-diy, 6.85 V as measured; derived: 6.873 V
    answer = heater(measured_volt=6.3 * 240 / 220)

    assert answer.value.deviation_percent == pytest.approx(9.09, abs=0.01)
    assert answer.value.power_percent == pytest.approx(19.0, abs=0.05)
    assert answer.outcome is Outcome.WARN


@given(st.floats(1, 60))
def test_the_verdict_is_that_of_the_windings(volt):
    answer = heater(measured_volt=volt)

    assert answer.outcome is judge_heater(answer.value.deviation_percent)


def test_a_thoriated_filament_is_held_to_five_per_cent():
    # second-hand: classiccmp.org mailing list on period advice
    assert heater(measured_volt=6.7, cathode="thoriated").outcome is Outcome.REFUSE
    assert heater(measured_volt=6.6, cathode="thoriated").outcome is Outcome.OK


def test_the_resistor_in_series_leaves_the_rated_volts():
    # derived: Ohm's law
    value = heater(measured_volt=6.9, rated_ampere=2).value

    assert value.dropping_ohm == pytest.approx(0.3)
    assert value.dropping_watt == pytest.approx(1.2)
    assert 6.9 - 2 * value.dropping_ohm == pytest.approx(6.3)


def test_a_heater_too_low_gets_no_resistor():
    assert heater(measured_volt=6.0, rated_ampere=2).value.dropping_ohm is None
