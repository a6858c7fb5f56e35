"""Where a series lamp does not protect: too high a supply, a burnt-out lamp, a load it cannot suit.

Common practice, no source, for what is a danger; the figures beside are by hand.
"""

import pytest

from shop.calc.registry import work_out
from shop.calc.working import Outcome

W60 = {"watt": 60, "volt": 230}
W100 = {"watt": 100, "volt": 230}


def choose(**given):
    usual = {"supply_volt": 230, "unit_volt": 230, "lamp_volt": 230, "idle_watt": 8}
    return work_out("series_lamp.choose_lamp", usual | given)


def test_a_unit_of_120_volts_on_the_full_230_volts_is_a_warning():
    # By hand: 8 W at 120 V is 1800 ohm; behind 100 W at 230 V it gets 215 V, nearly twice its own.
    answer = choose(unit_volt=120)

    assert answer.outcome is Outcome.WARN
    assert "never turn the variable transformer above 120 V" in answer.text


def test_ten_percent_above_what_the_unit_is_set_for_is_the_mains_as_it_comes():
    assert choose(supply_volt=253).outcome is Outcome.OK


def test_a_lamp_of_120_volts_on_230_volts_is_a_warning():
    # By hand: a short leaves 230 V on it, (230 / 120)^3.4 or 9 times its light, not for long.
    answer = choose(lamp_volt=120)

    assert answer.outcome is Outcome.WARN
    assert "A short would put 230 V on a 120 V lamp" in answer.text


def test_a_load_like_a_switch_mode_supply_is_never_simply_ok():
    assert choose(exponent=-1).outcome is Outcome.WARN
    assert "switch-mode" in choose(exponent=-1).text


def test_settings_far_above_the_unit_are_a_warning_with_their_limits():
    given = {
        "idle_watt": 25,
        "unit_volt": 120,
        "lamp": W60,
        "settings_volt": [60, 120, 230],
        "kind": "linear",
    }

    answer = work_out("series_lamp.ramp", given)

    assert answer.outcome is Outcome.WARN
    assert len(answer.value.steps) == 3
    assert "230 V is far above the 120 V" in answer.text


def test_settings_up_to_what_the_unit_is_set_for_are_ok():
    given = {"idle_watt": 25, "unit_volt": 120, "lamp": W60, "settings_volt": [60, 120]}

    assert work_out("series_lamp.ramp", given | {"kind": "linear"}).outcome is Outcome.OK


@pytest.mark.parametrize(
    ("lamp", "ohm"),
    [(W100, 0), (W100, 20), ({"watt": 100, "volt": 120}, 1058)],
)
def test_a_near_short_or_a_lamp_beyond_its_volts_is_no_ok(lamp, ohm):
    given = {"supply_volt": 230, "lamp": lamp, "load": {"kind": "resistance", "ohm": ohm}}

    assert work_out("series_lamp.operating_point", given).outcome is Outcome.WARN


def test_a_burnt_out_lamp_is_not_called_a_short():
    given = {"lamp": W100, "supply_volt": 230, "unit_volt": 0, "current_a": 0}

    answer = work_out("series_lamp.read_back", given)

    assert answer.outcome is Outcome.WARN
    assert "burnt out" in answer.text
    assert "short" not in answer.text


def test_half_bright_is_the_same_warning_by_meter_as_by_eye():
    by_meter = {"lamp": W100, "supply_volt": 230, "unit_volt": 110}
    by_eye = {"lamp": W100, "supply_volt": 230, "sight": "half"}

    assert work_out("series_lamp.read_back", by_meter).outcome is Outcome.WARN
    assert work_out("series_lamp.seen", by_eye).outcome is Outcome.WARN


def test_a_valve_rectifier_long_idle_has_high_voltage_parts_whether_ticked_or_not():
    answer = work_out(
        "series_lamp.schedule", {"unit_volt": 230, "idle_years": 30, "kind": "valve_rectifier"}
    )

    assert answer.value.is_reforming_outside_advised
    assert answer.outcome is Outcome.WARN
