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


@pytest.mark.parametrize(
    ("mark", "first"), [("47E", "47 Ω"), ("E47", "470 mΩ"), ("4E7", "4.7 Ω"), ("100E", "100 Ω")]
)
def test_e_stands_for_ohm_on_old_parts(mark, first):
    # Common practice, no source.
    answer = work_out("marks.resistor", {"mark": mark})

    assert (answer.value.ways[0].shown, answer.value.ways[0].tolerance_percent) == (first, None)


def test_a_rail_of_a_120_volt_unit_is_not_simply_told_at_230():
    given = {"rail_volt": 15, "rated_volt": 120, "settings_volt": [60, 120, 230]}

    answer = work_out("rails.expected", given)

    assert answer.outcome is Outcome.WARN
    assert "230 V is far above the 120 V" in answer.text


def test_a_meter_without_category_is_asked_for_the_volts_not_for_a_row_of_the_categories():
    given = {
        "place": "behind_transformer",
        "to_earth_volt": 450,
        "meter_category": "none",
        "meter_volt": 500,
    }

    answer = work_out("readings.category", given)

    assert (answer.outcome, answer.value.needed_volt) == (Outcome.OK, 450)


def test_a_250_volt_meter_on_230_volt_mains_is_a_warning():
    given = {
        "place": "socket_or_appliance",
        "to_earth_volt": 230,
        "meter_category": "cat_ii",
        "meter_volt": 250,
    }

    assert work_out("readings.category", given).outcome is Outcome.WARN


def test_a_large_charge_at_a_low_voltage_has_the_caution_of_the_arc():
    # By hand: 0.02 F x 40^2 / 2 is 16 J, 0.8 C.
    working = work_out("discharge.stored_charge", {"farad": 0.02, "peak_volt": 40}).working

    assert any("arc" in said for said in working.cautions)
    assert {"0.8 C", "16 J"} <= {line.result for line in working.lines}


def test_a_shorted_capacitor_is_not_praised_for_its_esr():
    # Common practice, no source: a short reads as a low ESR. Guides for 100 µF 25 V: 0.32, 1.4 ohm.
    given = {"farad": 100e-6, "rated_volt": 25}

    short = work_out("capacitors.esr", given | {"measured_ohm": 0.01})
    sound = work_out("capacitors.esr", given | {"measured_ohm": 0.1})

    assert (short.outcome, sound.outcome) == (Outcome.WARN, Outcome.OK)
    assert "rule out a short" in short.text


def test_an_esr_above_the_low_frequency_figure_is_bad_at_any_higher_frequency():
    # By hand: 0.16 / (2 pi x 120 Hz x 1000 µF) is 0.212 ohm.
    given = {"tan_delta": 0.16, "farad": 1e-3}

    high = work_out("capacitors.esr_from_loss", given | {"measured_ohm": 0.5})
    low = work_out("capacitors.esr_from_loss", given | {"measured_ohm": 0.08})

    assert "even at a higher frequency" in high.text
    assert "not judged" in low.text


def test_guide_tables_of_esr_are_not_called_verified():
    sources = work_out("capacitors.esr", {"farad": 100e-6, "rated_volt": 25}).working.sources

    assert "verified" not in {source.status.value for source in sources}


@pytest.mark.parametrize(
    ("volt", "ampere", "outcome"),
    [(450, None, Outcome.WARN), (450, 20e-6, Outcome.OK), (25, None, Outcome.OK)],
)
def test_a_high_voltage_part_does_not_pass_before_its_leakage_was_read(volt, ampere, outcome):
    given = {
        "farad": 16e-6,
        "rated_volt": volt,
        "measured_farad": 17e-6,
        "measured_ohm": 0.5,
        "good_ohm": 1.0,
        "measured_ampere": ampere,
    }

    assert work_out("capacitors.verdict", given).outcome is outcome
