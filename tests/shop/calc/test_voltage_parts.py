"""Voltage-rated parts across the mains, against published figures."""

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.voltage_parts.capacitors import impulse_volt, leakage_milliampere, varistor_class
from shop.calc.voltage_parts.fittings import neon_resistor
from shop.calc.working import BadInput, Outcome


def check(parts, nominal=230.0, hz=50.0, high=253.0, **more):
    given = {"nominal_volt": nominal, "hz": hz, "high_volt": high, "parts": parts, **more}
    return work_out("voltage_parts.check", given)


def one(part, **more):
    return check([part], **more).value.items[0]


# techoverflow.net/2019/08/07 (IEC 60384-14): X1 4.7 uF.
def test_a_large_x1_capacitor_has_the_published_impulse_voltage():
    assert impulse_volt("X1", 4.7e-6) == pytest.approx(1845, abs=1)
    assert impulse_volt("X1", 1e-7) == 4000
    assert impulse_volt("Y1", 4.7e-6) == 8000


# pe2bz.philpem.me.uk MOV: 220 V + 10 % = 242 V, next 250 V.
def test_the_varistor_for_220_volt_is_the_250_volt_type():
    assert varistor_class(220 * 1.1) == (250, 390)


def test_no_varistor_is_named_past_the_end_of_the_series():
    assert varistor_class(400) is None


# studylib.net/doc/25395895: 240 V, 60 V, 2 mA.
def test_a_neon_on_240_volt_needs_the_published_resistor():
    ohm, watt = neon_resistor(240, 60, 0.002)

    assert ohm == pytest.approx(90_000)
    assert watt == pytest.approx(0.36)


# Computed: 2 pi f C V.
@pytest.mark.parametrize(
    ("nanofarad", "at_230", "at_120"),
    [(2.2, 0.159, 0.100), (4.7, 0.340, 0.213), (10, 0.723, 0.452)],
)
def test_leakage_of_y_capacitors(nanofarad, at_230, at_120):
    farad = nanofarad * 1e-9

    assert leakage_milliampere(farad, 50, 230) == pytest.approx(at_230, abs=0.0006)
    assert leakage_milliampere(farad, 60, 120) == pytest.approx(at_120, abs=0.0006)


def test_10_nanofarad_to_the_chassis_of_an_unearthed_unit_is_too_much_at_230_volt():
    part = {"kind": "line_to_chassis_capacitor", "capacitance_farad": 1e-8}

    answer = check([part], protection_class="0")

    assert answer.value.leakage_sum_milliampere > 0.5
    assert not answer.value.leakage_within_limit
    assert answer.value.items[0].verdict == "replace"
    assert answer.outcome is Outcome.WARN


def test_currents_to_earth_are_summed_at_the_upper_limit():
    part = {"kind": "y_capacitor", "capacitance_farad": 2.2e-9, "rating_class": "Y2",
            "rated_volt": 300.0}  # fmt: skip

    value = check([part, part]).value

    assert value.leakage_sum_milliampere == pytest.approx(2 * leakage_milliampere(2.2e-9, 50, 253))
    assert value.touch_limit_milliampere == 3.5
    assert value.leakage_within_limit


@pytest.mark.parametrize(
    ("part", "verdict"),
    [
        ({"kind": "varistor", "rated_volt": 130.0}, "replace"),
        ({"kind": "varistor", "rated_volt": 275.0}, "keep"),
        ({"kind": "varistor"}, "check"),
        ({"kind": "x_capacitor", "rated_volt": 125.0, "rating_class": "X2"}, "replace"),
        ({"kind": "x_capacitor", "rated_volt": 275.0, "rating_class": "X2"}, "keep"),
        ({"kind": "x_capacitor", "rated_volt": 250.0, "rating_class": "X2"}, "check"),
        ({"kind": "y_capacitor", "rated_volt": 300.0, "rating_class": "Y4"}, "replace"),
        ({"kind": "y_capacitor", "rated_volt": 300.0, "rating_class": "Y2"}, "keep"),
        ({"kind": "y_capacitor"}, "check"),
        ({"kind": "fuse", "rated_volt": 125.0}, "replace"),
        ({"kind": "fuse", "rated_volt": 250.0}, "check"),
        ({"kind": "neon", "resistance_ohm": 47000.0}, "replace"),
        ({"kind": "neon", "resistance_ohm": 330000.0}, "keep"),
        ({"kind": "pilot_lamp", "rated_volt": 120.0}, "replace"),
        ({"kind": "pilot_lamp", "rated_volt": 240.0}, "keep"),
        ({"kind": "switch", "rated_volt": 125.0}, "replace"),
        ({"kind": "switch", "rated_volt": 250.0, "rated_ampere": 4.0}, "keep"),
        ({"kind": "plug", "plug_letter": "A"}, "replace"),
        ({"kind": "plug", "plug_letter": "F"}, "keep"),
        ({"kind": "rear_outlet"}, "replace"),
        ({"kind": "motor", "rated_volt": 230.0}, "replace"),
        ({"kind": "rating_plate"}, "replace"),
        ({"kind": "thermal_link"}, "check"),
    ],
)
def test_parts_going_from_120_to_230_volt_are_judged(part, verdict):
    item = one(part, old_nominal_volt=120.0, old_hz=60.0, plug_letters=["C", "F"], line_ampere=1.0)

    assert item.verdict == verdict
    assert item.reason


def test_a_synchronous_motor_runs_slow_on_50_hertz():
    item = one({"kind": "motor", "rated_volt": 230.0}, old_hz=60.0)

    assert item.numbers["speed_factor"] == pytest.approx(0.8333, abs=0.0001)


def test_a_cord_going_to_half_the_voltage_is_told_its_current_doubles():
    item = one({"kind": "cord"}, nominal=115.0, hz=60.0, high=126.0, old_nominal_volt=230.0)

    assert item.numbers["current_factor"] == 2
    assert item.verdict == "check"


def test_without_parts_one_of_each_kind_is_listed():
    value = check([]).value

    keys = [item.key for item in value.items]
    assert len(keys) == len(set(keys)) == 16
    assert {"varistor", "x_capacitor", "y_capacitor", "rear_outlet", "rating_plate"} <= set(keys)


def test_the_rating_plate_says_the_new_supply_and_fuse():
    value = check([], rated_va=150.0, fuse_mark="T800mAL250V").value

    assert value.plate_lines == ["230 V ~ 50 Hz", "150 VA", "Fuse T800mAL250V"]


def test_rules_that_disagree_are_both_shown():
    item = one({"kind": "varistor", "rated_volt": 275.0})
    said = " ".join(check([]).working.disagreements)

    assert item.numbers["other_margin_volt"] == pytest.approx(276)
    assert "20 to 30 %" in said
    assert "Y2" in said


@pytest.mark.parametrize(
    ("parts", "more", "field"),
    [
        ([{"kind": "x_capacitor", "capacitance_farad": nan}], {}, "parts[0].capacitance_farad"),
        ([{"kind": "x_capacitor", "capacitance_farad": 1.0}], {}, "parts[0].capacitance_farad"),
        ([{"kind": "neon", "resistance_ohm": -5.0}], {}, "parts[0].resistance_ohm"),
        ([{"kind": "neon", "maintain_volt": 120.0}], {"nominal": 120.0}, "parts[0].maintain_volt"),
        ([{"kind": "valve"}], {}, "parts[0].kind"),
        ([], {"high": 200.0}, "high_volt"),
        ([], {"high": inf}, "high_volt"),
        ([], {"nominal": nan}, "nominal_volt"),
        ([], {"fuse_mark": "T333mA"}, "fuse_mark"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(parts, more, field):
    with pytest.raises(BadInput) as refused:
        check(parts, **more)

    assert refused.value.field == field


@given(st.floats(1, 320))
def test_a_varistor_is_never_below_the_upper_limit(high):
    assert varistor_class(high)[0] >= high - 1e-6
