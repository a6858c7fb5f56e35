"""Readings that must not pass as good news, and sentences a tired tech could misread."""

import pytest

from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome

PART = {"farad": 20e-6, "rated_volt": 450}


def leakage(**more):
    return work_out("capacitors.leakage", PART | more)


def test_leakage_read_far_below_the_rated_volts_is_no_pass():
    # At 100 V a 450 V part leaks a fraction; 50 µA there say nothing of 450 V (common practice).
    answer = leakage(measured_ampere=50e-6, applied_volt=100)

    assert answer.outcome is Outcome.NO_ANSWER
    assert "Read it at 450 V" in answer.text


def test_leakage_too_high_even_below_the_rated_volts_stays_bad():
    answer = leakage(measured_ampere=1.5e-3, applied_volt=100)

    assert answer.outcome is Outcome.WARN
    assert "Above the old limit" in answer.text


def test_a_part_above_its_rated_volts_is_taken_down_not_judged():
    assert leakage(measured_ampere=50e-6, applied_volt=500).outcome is Outcome.REFUSE


def test_a_low_reading_in_the_cold_is_no_plain_pass():
    assert leakage(measured_ampere=90e-6, celsius=2).outcome is Outcome.WARN


def test_leakage_at_the_rated_volts_and_room_temperature_passes():
    assert leakage(measured_ampere=50e-6, applied_volt=450).outcome is Outcome.OK


def test_reforming_above_the_rated_volts_is_refused_before_anything_is_read():
    with pytest.raises(BadInput) as refused:
        work_out("capacitors.reform", PART | {"idle_years": 30, "supply_volt": 500})

    assert (refused.value.field, refused.value.code) == ("supply_volt", "above_rated")


@pytest.mark.parametrize(("hot", "outcome"), [(11.5, Outcome.OK), (16, Outcome.WARN)])
def test_a_winding_without_a_class_is_ok_only_if_it_would_do_for_the_lowest(hot, outcome):
    # By hand: 1.15 x 254.5 - 234.5 = 58.2 °C, 33.2 K; 40 + 33.2 + 10 = 83 °C, below 105.
    # 1.6 x 254.5 - 234.5 = 172.7 °C; 40 + 147.7 + 10 = 198 °C, 93 K above 105.
    given = {"cold_ohm": 10, "cold_celsius": 20, "hot_ohm": hot, "room_celsius": 25}

    answer = work_out("rails.winding_rise", given)

    assert answer.outcome is outcome
    assert ("93 K" in answer.text) == (hot == 16)


@pytest.mark.parametrize("rule", ["guarded", "non_binary"])
def test_a_guarded_pass_without_an_accuracy_is_no_ok(rule):
    answer = work_out("judging.judge", {"value": 0.29, "rule": rule, "high": 0.3})

    assert answer.outcome is Outcome.WARN
    assert "no guard band was kept" in answer.text
    assert "risk" not in answer.text


def test_a_simple_pass_without_an_accuracy_tells_no_risk():
    answer = work_out("judging.judge", {"value": 0.29, "rule": "simple", "high": 0.3})

    assert answer.outcome is Outcome.OK
    assert answer.text == "pass; no accuracy was given, so the risk is not known"


def test_a_tiny_risk_is_not_told_as_none():
    given = {"value": 0.2, "rule": "guarded", "high": 0.3, "expanded_uncertainty": 0.039}

    assert "below 0.1%" in work_out("judging.judge", given).text


@pytest.mark.parametrize(
    ("typed", "outcome"),
    [("47", Outcome.WARN), ("2200", Outcome.WARN), ("47u", Outcome.OK), ("0.1", Outcome.OK)],
)
def test_a_capacitor_of_whole_farads_is_likely_a_missing_prefix(typed, outcome):
    given = {"quantity": "capacitance", "typed": typed}

    assert work_out("readings.parse", given).outcome is outcome


@pytest.mark.parametrize(
    ("name", "given", "text"),
    [
        (
            "valves.bias",
            {"cathode_volt": 1.5, "cathode_ohm": 1500},
            "1.5 V across 1.5 kΩ: 1 mA in the valve.",
        ),
        (
            "valves.bias",
            {"cathode_volt": 11, "cathode_ohm": 130, "sharing": 2},
            "11 V across 130 Ω: 42.3 mA in each valve.",
        ),
        (
            "discharge.resistor",
            {"farad": 47e-6, "from_volt": 450},
            "47 kΩ; measure again after 60 s.",
        ),
    ],
)
def test_values_stand_as_techs_write_them(name, given, text):
    assert work_out(name, given).text == text
