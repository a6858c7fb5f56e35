"""Flux, heaters and the window between them, against computed tables and published figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.working import Outcome
from tests.shop.calc.test_windings import section


# Computed: V_rated V_mains / V_tap, heater power with its square.
@pytest.mark.parametrize(
    ("tap", "mains", "percent", "five", "six", "twelve", "power", "verdict"),
    [
        (115, 120, 4.35, 5.217, 6.574, 13.148, 8.9, Outcome.OK),
        (117, 120, 2.56, 5.128, 6.462, 12.923, 5.2, Outcome.OK),
        (117, 125, 6.84, 5.342, 6.731, 13.462, 14.1, Outcome.WARN),
        (117, 126, 7.69, 5.385, 6.785, 13.569, 16.0, Outcome.WARN),
        (110, 120, 9.09, 5.455, 6.873, 13.745, 19.0, Outcome.WARN),
        (220, 230, 4.55, 5.227, 6.586, 13.173, 9.3, Outcome.OK),
        (230, 240, 4.35, 5.217, 6.574, 13.148, 8.9, Outcome.OK),
        (220, 240, 9.09, 5.455, 6.873, 13.745, 19.0, Outcome.WARN),
        (220, 253, 15.00, 5.750, 7.245, 14.490, 32.2, Outcome.REFUSE),
        (240, 230, -4.17, 4.792, 6.037, 12.075, -8.2, Outcome.OK),
        (100, 120, 20.0, 6.000, 7.560, 15.120, 44.0, Outcome.REFUSE),
        (120, 100, -16.7, 4.167, 5.250, 10.500, -30.6, Outcome.REFUSE),
    ],
)
def test_secondaries_follow_the_line(tap, mains, percent, five, six, twelve, power, verdict):
    windings = [
        {"name": str(volt), "rated_volt": volt, "is_heater": True} for volt in (5.0, 6.3, 12.6)
    ]
    given = {"tap_volt": float(tap), "mains_volt": float(mains), "secondaries": windings}

    answer = work_out("windings.secondaries", given)

    assert answer.outcome is verdict
    assert answer.value.change_percent == pytest.approx(percent, abs=0.05)
    volts = [one.loaded_volt for one in answer.value.secondaries]
    assert volts == pytest.approx([five, six, twelve], abs=0.0006)
    assert answer.value.secondaries[0].heater_power_percent == pytest.approx(power, abs=0.06)


# Mailing-list comment on period advice (classiccmp.org, see the working): 5 % and no more.
def test_thoriated_tungsten_is_refused_where_oxide_cathodes_are_only_warned_of():
    heater = {"name": "h", "rated_volt": 6.3, "is_heater": True}
    given = {"tap_volt": 117.0, "mains_volt": 125.0}

    oxide = work_out("windings.secondaries", {**given, "secondaries": [heater]})
    tungsten = work_out(
        "windings.secondaries", {**given, "secondaries": [{**heater, "cathode": "thoriated"}]}
    )

    assert (oxide.outcome, tungsten.outcome) == (Outcome.WARN, Outcome.REFUSE)


# electricalengineering.xyz: +20 % flux; core loss by its square +44 % (computed).
def test_a_fifth_more_flux_is_said_to_be_nearly_half_more_core_loss():
    given = {"plate_volt": 120.0, "plate_hz": [60.0], "target_volt": 120.0, "target_hz": 50.0}

    lines = work_out("windings.flux", given).working.lines

    assert [line.result for line in lines] == ["1.2000", "100 V", "+44 %"]


# physicsforums.com/threads/954052: a 50 Hz transformer on 60 Hz has 83 % of its flux.
def test_a_50_hertz_transformer_on_60_hertz_is_relieved():
    given = {"plate_volt": 230.0, "plate_hz": [50.0], "target_volt": 230.0, "target_hz": 60.0}

    answer = work_out("windings.flux", given)

    assert answer.value.flux_ratio == pytest.approx(0.8333, abs=0.0001)
    assert answer.outcome is Outcome.OK


# Computed: 0.90 x 120 V for the heaters, 1.10 x 120 V x 50 / 60 for the core.
def test_a_120_volt_60_hertz_unit_on_50_hertz_has_two_volts_to_live_in():
    given = {"plate_volt": 120.0, "plate_hz": [60.0], "target_hz": 50.0}

    answer = work_out("windings.window", given)

    assert answer.outcome is Outcome.WARN
    assert answer.value.good is None
    assert answer.value.tolerable.low_volt == pytest.approx(108)
    assert answer.value.tolerable.high_volt == pytest.approx(110)


@pytest.mark.parametrize(
    ("supply", "outcome"), [(109.0, Outcome.WARN), (107.0, Outcome.REFUSE), (111.0, Outcome.REFUSE)]
)
def test_a_supply_is_judged_by_that_window(supply, outcome):
    given = {"plate_volt": 120.0, "plate_hz": [60.0], "target_hz": 50.0, "supply_volt": supply}

    assert work_out("windings.window", given).outcome is outcome


def test_at_a_quarter_less_frequency_there_is_no_window_at_all():
    given = {"plate_volt": 120.0, "plate_hz": [60.0], "target_hz": 45.0}

    answer = work_out("windings.window", given)

    assert answer.outcome is Outcome.REFUSE
    assert answer.value.tolerable is None


def test_at_its_own_frequency_the_core_is_the_upper_bound_only_beyond_the_heaters():
    given = {"plate_volt": 230.0, "plate_hz": [50.0, 60.0], "target_hz": 50.0}

    value = work_out("windings.window", given).value

    assert (value.good.low_volt, value.good.high_volt) == pytest.approx((218.5, 241.5))


@given(st.floats(90, 260), st.sampled_from([50.0, 60.0]), st.floats(40, 70))
def test_what_lies_in_the_window_is_refused_by_neither_flux_nor_heaters(plate, plate_hz, hertz):
    given = {"plate_volt": plate, "plate_hz": [plate_hz], "target_hz": hertz}
    band = work_out("windings.window", given).value.tolerable

    for volt in [band.low_volt, band.high_volt] if band else []:
        flux = work_out("windings.flux", {**given, "target_volt": volt})
        heater = {"name": "h", "rated_volt": 6.3, "is_heater": True}
        heaters = work_out(
            "windings.secondaries",
            {"tap_volt": plate, "mains_volt": volt, "secondaries": [heater]},
        )
        assert flux.outcome is not Outcome.REFUSE
        assert heaters.outcome is not Outcome.REFUSE


def test_a_setting_for_a_lower_frequency_names_its_window():
    given = {
        "sections": [section("A", 120)], "target_volt": 120.0, "target_hz": 50.0,
        "plate_hz": [60.0],
    }  # fmt: skip

    answer = work_out("windings.for_supply", given)

    assert answer.outcome is Outcome.REFUSE
    assert answer.value.tolerable_volts.high_volt == pytest.approx(110)
    assert any("108 V to 110 V" in caution for caution in answer.working.cautions)


# Computed: heaters by the 120 V of the sections, the core by the 115 V of the plate.
def test_the_window_takes_the_plates_volts_for_the_core_and_the_sections_for_heaters():
    given = {
        "sections": [section("A", 120)], "target_volt": 115.0, "target_hz": 55.0,
        "plate_hz": [60.0], "plate_volt": 115.0,
    }  # fmt: skip

    band = work_out("windings.for_supply", given).value.tolerable_volts

    assert (band.low_volt, band.high_volt) == pytest.approx((108.0, 1.1 * 115 * 55 / 60))


def test_a_setting_says_which_links_to_break_and_which_to_make():
    given = {
        "sections": [section("A", 115), section("B", 115)], "target_volt": 120.0,
        "target_hz": 60.0, "plate_hz": [50.0, 60.0], "links_now": [["A1", "B0"]],
    }  # fmt: skip

    lines = {
        line.label: line.result for line in work_out("windings.for_supply", given).working.lines
    }

    assert lines["links to break"] == "A1–B0"
    assert lines["links to make"] == "A0–B0, A1–B1"
