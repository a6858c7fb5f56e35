"""Series lamp and unit. The worked cases S1 to S10 were computed with another solver
(scipy.optimize.brentq, a = 0.55 unless stated) from the formulas at the head of `points.py`."""

from math import hypot, log, sqrt
from statistics import linear_regression

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from shop.calc.registry import work_out
from shop.calc.series_lamp.answers import OperatingPointIn, operating_point
from shop.calc.series_lamp.lamp import (
    Lamp,
    current_at,
    inrush_peak,
    volt_at,
)
from shop.calc.series_lamp.loads import ConstantPower, Impedance, Mixed, Resistance
from shop.calc.series_lamp.points import operating_points
from shop.calc.working import BadInput, Outcome

W100 = Lamp(100, 230)
W60 = Lamp(60, 230)

# id, supply V, lamp, load, then (lamp V, unit V, mA) of every point. Computed.
CASES = [
    ("S1", 230, W100, Resistance(1058), [(44.233, 185.767, 175.58)]),
    ("S1a", 230, Lamp(100, 230, 1, 0.50), Resistance(1058), [(39.462, 190.538, 180.09)]),
    ("S1b", 230, Lamp(100, 230, 1, 0.60), Resistance(1058), [(48.721, 181.279, 171.34)]),
    ("S2", 120, Lamp(60, 120), Resistance(240), [(47.729, 72.271, 301.13)]),
    ("S3", 230, W60, Resistance(0), [(230, 0, 260.87)]),
    ("S4", 230, W100, ConstantPower(20), [(13.795, 216.205, 92.50), (176.847, 53.153, 376.27)]),
    ("S4b", 230, W100, ConstantPower(30), [(34.682, 195.318, 153.60), (138.967, 91.033, 329.55)]),
    ("S4c", 230, W100, ConstantPower(36), [(67.512, 162.488, 221.55), (96.488, 133.512, 269.64)]),
    ("S5", 230, W100, ConstantPower(40), []),
    ("S6", 120, W100, Resistance(720), [(25.873, 94.127, 130.73)]),
    ("S6b", 120, Lamp(100, 120), Resistance(720), [(5.871, 114.129, 158.51)]),
    ("S7", 230, W60, Impedance(2000, 1500), [(28.449, 206.607, 82.643)]),
    ("S7b", 230, W60, Impedance(300, 3000), [(23.898, 226.389, 75.089)]),
    ("S8", 230, Lamp(60, 230, 2), Resistance(529), [(77.870, 152.130, 287.58)]),
    ("S9 m=1", 230, W100, Mixed(25, 230, 1), [(16.196, 213.804, 101.04)]),
    ("S9 m=0", 230, W100, Mixed(25, 230, 0), [(18.496, 211.504, 108.70)]),
    ("S9 m=-1", 230, W100, Mixed(25, 230, -1), [(22.255, 207.745, 120.34),
                                                (159.733, 70.267, 355.79)]),
]  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])
def test_worked_cases_have_exactly_these_points(case):
    _, supply, lamp, load, expected = case

    points = operating_points(lamp, load, supply)

    assert len(points) == len(expected)
    for point, (lamp_volt, unit_volt, milliampere) in zip(points, expected, strict=True):
        assert point.lamp_volt == pytest.approx(lamp_volt, abs=2e-3)
        assert point.unit_volt == pytest.approx(unit_volt, abs=2e-3)
        assert point.current_a * 1000 == pytest.approx(milliampere, abs=6e-3)
    assert [point.is_stable for point in points] == [True, False][: len(points)]


def test_power_and_power_factor_of_the_worked_cases():
    s1 = operating_points(W100, Resistance(1058), 230)[0]
    s7 = operating_points(W60, Impedance(2000, 1500), 230)[0]
    s7b = operating_points(W60, Impedance(300, 3000), 230)[0]

    assert (s1.lamp_watt, s1.unit_watt) == pytest.approx((7.767, 32.618), abs=2e-3)
    assert s1.light_share == pytest.approx(0.0037, abs=1e-4)
    assert (s7.lamp_watt, s7.unit_watt) == pytest.approx((2.351, 13.660), abs=2e-3)
    assert (s7b.lamp_watt, s7b.unit_watt) == pytest.approx((1.794, 1.691), abs=2e-3)
    # Of the whole circuit, lamp and unit together.
    assert (s7.lamp_watt + s7.unit_watt) / (230 * s7.current_a) == pytest.approx(0.842, abs=1e-3)
    assert (s7b.lamp_watt + s7b.unit_watt) / (230 * s7b.current_a) == pytest.approx(0.202, abs=1e-3)


# Lamp W, unit W and light in per cent of the same cases. Computed; light with exponent 3.4.
@pytest.mark.parametrize(
    ("name", "index", "lamp_watt", "unit_watt", "light"),
    [
        ("S1", 0, 7.767, 32.618, 0.37),
        ("S1a", 0, 7.107, 34.315, None),
        ("S1b", 0, 8.348, 31.061, None),
        ("S2", 0, 14.373, 21.763, 4.35),
        ("S3", 0, 60, 0, 100),
        ("S4", 0, 1.276, 20, 0.01),
        ("S4", 1, 66.542, 20, 40.9),
        ("S4c", 0, None, 36, 1.55),
        ("S4c", 1, None, 36, 5.22),
        ("S6", 0, 3.382, 12.306, None),
        ("S6b", 0, 0.931, 18.091, None),
        ("S8", 0, 22.394, 43.749, 2.52),
    ],
)
def test_watts_and_light_of_the_worked_cases(name, index, lamp_watt, unit_watt, light):
    supply, lamp, load = next(case[1:4] for case in CASES if case[0] == name)

    point = operating_points(lamp, load, supply)[index]

    assert point.unit_watt == pytest.approx(unit_watt, abs=2e-3)
    if lamp_watt is not None:
        assert point.lamp_watt == pytest.approx(lamp_watt, abs=2e-3)
    if light is not None:
        assert point.light_share * 100 == pytest.approx(light, rel=5e-3, abs=5e-3)


def test_with_exponent_one_half_the_closed_form_is_met():
    lamp = Lamp(100, 230, 1, 0.5)

    point = operating_points(lamp, Resistance(1058), 230)[0]

    k = 1058 * lamp.rated_current / sqrt(230)
    root = (-k + sqrt(k * k + 4 * 230)) / 2
    assert point.lamp_volt == pytest.approx(root * root, rel=1e-12)


# S10, computed: cold lamp into a short at the peak of the supply.
def test_the_cold_lamp_passes_a_high_peak():
    assert inrush_peak(W100, 230) == pytest.approx(7.993, abs=1e-3)
    assert inrush_peak(W100, 230, source_ohm=10) == pytest.approx(6.417, abs=5e-3)


# Rated and cold figures, computed with hot to cold 13: 60 W 230 V is 882 ohm hot, 68 cold.
def test_the_filament_is_never_below_its_cold_resistance():
    assert W60.cold_ohm == pytest.approx(67.8, abs=0.1)
    assert current_at(W60, 0.01) == pytest.approx(0.01 / W60.cold_ohm)
    assert volt_at(W60, current_at(W60, 0.01)) == pytest.approx(0.01)


# Measured 2.5 V 0.3 A lamp, New Phys. 2023;73:127. Fits computed: 0.377 over all points, 0.467 over
# the upper five.
def test_one_exponent_does_not_fit_a_measured_lamp_from_dark_to_bright():
    volt = [0.262, 0.449, 1.016, 1.527, 2.012, 2.464, 2.948]
    ampere = [0.130, 0.153, 0.198, 0.236, 0.270, 0.298, 0.325]

    def fitted(start):
        return linear_regression([log(v) for v in volt[start:]], [log(i) for i in ampere[start:]])

    assert fitted(0).slope == pytest.approx(0.377, abs=1e-3)
    assert fitted(2).slope == pytest.approx(0.467, abs=1e-3)


# Share of the supply at the unit against lamp watts over resistive and over constant-power watts,
# at equal voltages. Computed: u / (1 - u)^a and 1 / (u (1 - u)^a).
@pytest.mark.parametrize(
    ("share", "resistive", "constant"),
    [
        (0.50, 0.73, 2.93),
        (0.60, 0.99, 2.76),
        (0.70, 1.36, 2.77),
        (0.80, 1.94, 3.03),
        (0.85, 2.41, 3.34),
        (0.90, 3.19, 3.94),
        (0.95, 4.94, 5.47),
    ],
)
def test_lamp_watts_for_a_share_at_the_unit(share, resistive, constant):
    behind = operating_points(Lamp(resistive * 50, 230), Resistance(230**2 / 50), 230)[0]
    both = operating_points(Lamp(constant * 50 + 0.2, 230), ConstantPower(50), 230)

    assert behind.unit_volt / 230 == pytest.approx(share, abs=2e-3)
    assert min(abs(p.unit_volt / 230 - share) for p in both) < 0.02


# A 230 V 100 W lamp on 120 V limits a short to 0.304 A. Computed.
def test_a_lamp_of_the_other_voltage_limits_harder():
    assert current_at(W100, 120) == pytest.approx(0.304, abs=1e-3)


# Threshold: lamp watts must exceed 2.74 P (0.3649 P0 at a = 0.55). Computed.
def test_constant_power_has_no_point_above_its_threshold():
    assert operating_points(W100, ConstantPower(36.48), 230)
    assert not operating_points(W100, ConstantPower(36.50), 230)


# Sensitivity of S4's stable point to a, computed.
@pytest.mark.parametrize(
    ("a", "volt"), [(0.45, 6.883), (0.50, 10.061), (0.55, 13.795), (0.60, 18.024)]
)
def test_the_exponent_matters_more_than_the_arithmetic(a, volt):
    point = operating_points(Lamp(100, 230, 1, a), ConstantPower(20), 230)[0]

    assert point.lamp_volt == pytest.approx(volt, abs=2e-3)


volts = st.floats(5, 260)
lamps = st.builds(
    Lamp, st.floats(15, 500), st.sampled_from([115.0, 230.0]), st.integers(1, 3),
    st.floats(0.4, 0.65),
)  # fmt: skip
mixed = st.builds(
    Mixed,
    st.floats(1, 300),
    st.sampled_from([115.0, 230.0]),
    st.floats(-1, -0.05) | st.floats(0.05, 4) | st.just(0.0),
)


@given(lamps, mixed, volts)
def test_every_point_keeps_the_laws_of_the_circuit(lamp, load, supply):
    for point in operating_points(lamp, load, supply):
        unit = load.watt / load.volt * (point.unit_volt / load.volt) ** load.exponent

        assert point.lamp_volt + point.unit_volt == pytest.approx(supply, rel=1e-9)
        assert current_at(lamp, point.lamp_volt) == pytest.approx(point.current_a, rel=1e-9)
        assert unit == pytest.approx(point.current_a, rel=1e-9)


@given(lamps, st.floats(0, 5000), st.floats(-5000, 5000), volts)
def test_a_reactive_load_keeps_the_law_of_the_circuit(lamp, resistance, reactance, supply):
    assume(hypot(resistance, reactance) > 1)

    (point,) = operating_points(lamp, Impedance(resistance, reactance), supply)

    real = point.lamp_volt + point.current_a * resistance
    assert hypot(real, point.current_a * reactance) == pytest.approx(supply, rel=1e-9)


@given(lamps, st.floats(10, 5000), st.floats(1.01, 5), volts)
def test_more_load_never_lowers_the_lamp_voltage(lamp, ohm, factor, supply):
    light = operating_points(lamp, Resistance(ohm * factor), supply)[0]
    heavy = operating_points(lamp, Resistance(ohm), supply)[0]

    assert heavy.lamp_volt >= light.lamp_volt
    assert heavy.unit_volt <= light.unit_volt


@given(st.floats(10, 5000), volts)
def test_the_solver_agrees_with_brentq(ohm, supply):
    ours = operating_points(W100, Resistance(ohm), supply)[0].lamp_volt

    theirs = brentq(lambda v: v + ohm * current_at(W100, v) - supply, 0, supply, xtol=1e-12)
    assert ours == pytest.approx(theirs, rel=1e-8, abs=1e-9)


def test_no_operating_point_is_an_answer():
    answer = operating_point(OperatingPointIn(230, W100, ConstantPower(40)))

    assert answer.outcome is Outcome.NO_ANSWER
    assert answer.value is not None
    assert answer.value.points == []
    assert "No operating point" in answer.text


def test_the_span_of_the_lamp_law_is_given_with_the_point():
    answer = operating_point(OperatingPointIn(230, W100, Resistance(1058)))

    assert answer.value is not None
    assert answer.value.unit_volt.low == pytest.approx(181.279, abs=2e-3)
    assert answer.value.unit_volt.high > 190.538


def test_loads_come_in_as_plain_values():
    answer = work_out(
        "series_lamp.operating_point",
        {
            "supply_volt": 230,
            "lamp": {"watt": 100, "volt": 230},
            "load": {"kind": "constant_power", "watt": 20},
        },
    )

    assert answer.outcome is Outcome.WARN


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"supply_volt": 0}, "supply_volt"),
        ({"supply_volt": "230"}, "supply_volt"),
        ({"lamp": {"watt": -1, "volt": 230}}, "lamp.watt"),
        ({"load": {"kind": "resistance", "ohm": -5}}, "load.ohm"),
        ({"supply_volt": float("nan")}, "supply_volt"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(change, field):
    good = {
        "supply_volt": 230,
        "lamp": {"watt": 100, "volt": 230},
        "load": {"kind": "resistance", "ohm": 5},
    }

    with pytest.raises(BadInput) as refused:
        work_out("series_lamp.operating_point", good | change)

    assert refused.value.field == field
