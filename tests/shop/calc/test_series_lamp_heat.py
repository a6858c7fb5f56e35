"""The filament by its heat, against tables, measured lamps and text-book examples."""

from math import hypot, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from shop.calc.series_lamp.answers import OperatingPointIn, operating_point
from shop.calc.series_lamp.lamp import Lamp, current_at, slope_at, volt_at
from shop.calc.series_lamp.loads import ConstantPower, Impedance, Mixed, Resistance
from shop.calc.series_lamp.points import operating_points
from shop.calc.series_lamp.thermal import (
    CONDUCTION_SPAN,
    GLOW_KELVIN,
    RESISTIVITY,
    ampere_share,
    curve,
    kelvin_at,
    kelvin_at_ratio,
    ratio_to_cold,
    volt_share,
)
from shop.calc.working import Outcome

W100 = Lamp(100, 230)

# Tungsten, table of 1925 as in the CRC Handbook, read in a stored copy (second-hand): R/R300.
RATIOS = {
    300: 1.00, 400: 1.43, 500: 1.87, 600: 2.34, 700: 2.85, 800: 3.36, 900: 3.88, 1000: 4.41,
    1100: 4.95, 1200: 5.48, 1300: 6.03, 1400: 6.58, 1500: 7.14, 1600: 7.71, 1700: 8.28,
    1800: 8.86, 1900: 9.44, 2000: 10.03, 2100: 10.63, 2200: 11.24, 2300: 11.84, 2400: 12.46,
    2500: 13.08, 2600: 13.72, 2700: 14.34, 2800: 14.99, 2900: 15.63, 3000: 16.29, 3200: 17.62,
    3600: 20.35,
}  # fmt: skip


@pytest.mark.parametrize(("kelvin", "ratio"), RATIOS.items())
def test_tungsten_has_the_ratios_of_the_table(kelvin, ratio):
    assert ratio_to_cold(kelvin) == pytest.approx(ratio, abs=6e-3)
    assert kelvin_at_ratio(ratio_to_cold(kelvin)) == pytest.approx(kelvin)


# Widely printed copies show 26.35 at 3600 K; 115.0 / 5.65 is 20.35, so that is a misprint. A set
# in a stored code file (5.44 at 300 K, 83.2 at 2500 K) is 13 % above this one: not used.
def test_known_misprints_of_the_table_are_not_in_it():
    assert ratio_to_cold(3600) == pytest.approx(20.35, abs=5e-3)
    assert 83.2 / RESISTIVITY[2500] == pytest.approx(1.13, abs=5e-3)


# Text-book example (stored copy): 40 W 120 V, 33 um x 0.381 m, rho0 5.51e-8, rho ~ T^1.2,
# emissivity 0.35. Computed: 360 ohm, rho 8.08e-7, 2747 K by resistance, 2681 K by radiation.
def test_a_text_book_filament_is_as_hot_by_the_table_as_by_its_power_law():
    area, surface = pi * (33e-6) ** 2 / 4, pi * 33e-6 * 0.381
    rho = 120**2 / 40 * area / 0.381

    assert rho == pytest.approx(8.08e-7, rel=1e-3)
    assert 293 * (rho / 5.51e-8) ** (1 / 1.2) == pytest.approx(2747, abs=5)
    assert (40 / (0.35 * 5.6e-8 * surface)) ** 0.25 == pytest.approx(2681, abs=2)
    assert kelvin_at_ratio(rho / 5.51e-8) == pytest.approx(2747, rel=0.01)


# Text-book example (FOSSEE Scilab-TBC-Uploads 3845, Ex20_6): 0.350 ohm, 4.5e-3 per kelvin, 2830 K
# up: 4.8 ohm (4.807). The straight line falls 20 % short of the table there.
def test_a_straight_line_of_temperature_falls_short_of_the_table():
    straight = 0.350 * (1 + 4.5e-3 * 2830)

    assert straight == pytest.approx(4.807, abs=1e-3)
    assert straight / 0.350 < 0.85 * ratio_to_cold(293 + 2830)


# V/V0, I/I0 by the law and for a share of 0.06, 0.15; kelvin at 0.15. Computed with another
# program from P = eA(T^4 - Ta^4) + k(T - Ta), 2800 K when rated.
MODEL = [
    (0.02, 0.116, 0.189, 0.229, 372),
    (0.05, 0.193, 0.263, 0.345, 564),
    (0.10, 0.282, 0.334, 0.409, 858),
    (0.20, 0.413, 0.447, 0.497, 1300),
    (0.30, 0.516, 0.542, 0.577, 1615),
    (0.50, 0.683, 0.699, 0.718, 2068),
    (0.70, 0.822, 0.831, 0.840, 2404),
    (0.90, 0.944, 0.947, 0.950, 2679),
    (1.00, 1.000, 1.000, 1.000, 2800),
    (1.10, 1.054, 1.051, 1.049, 2914),
]


@pytest.mark.parametrize("row", MODEL)
def test_the_model_has_the_currents_and_temperatures_of_its_table(row):
    volt, law, vacuum, gas, kelvin = row

    assert current_at(Lamp(230, 230), 230 * volt) == pytest.approx(law, abs=6e-4)
    assert ampere_share(0.06, volt) == pytest.approx(vacuum, abs=1.6e-3)
    assert ampere_share(0.15, volt) == pytest.approx(gas, abs=1.6e-3)
    assert kelvin_at(0.15, volt) == pytest.approx(kelvin, abs=3)


# The same for 0.20 and a filament of 2700 K when rated.
@pytest.mark.parametrize(
    ("volt", "ampere"),
    [(0.02, 0.234), (0.05, 0.373), (0.10, 0.446), (0.20, 0.526), (0.50, 0.729), (0.90, 0.951)],
)
def test_a_cooler_filament_with_more_gas_passes_more_while_dark(volt, ampere):
    found = curve(0.20, 2700.0)
    nearest = min(range(len(found.volts)), key=lambda index: abs(found.volts[index] - volt))
    along = (volt / found.volts[nearest]) ** found.slopes[min(nearest, len(found.slopes) - 1)]

    assert found.amperes[nearest] * along == pytest.approx(ampere, abs=3e-3)


# Above half voltage all models agree within 7 %; below a fifth they do not. Computed.
def test_models_agree_above_half_voltage_and_part_below_a_fifth():
    def spread(volt):
        found = [volt**0.55, *(ampere_share(share, volt) for share in CONDUCTION_SPAN)]
        return max(found) / min(found) - 1

    assert all(spread(n / 100) < 0.07 for n in range(50, 111))
    assert all(spread(n / 100) > 0.2 for n in range(2, 21))


# Measured 2.5 V 0.3 A lamp, New Phys. 2023;73:127, table 2 (second-hand). Small lamps lose much to
# the leads: the upper end of the span comes within 6 %, the law is 30 % short when dark.
@pytest.mark.parametrize(
    ("volt", "ampere"),
    [(0.262, 0.130), (0.449, 0.153), (1.016, 0.198), (1.527, 0.236), (2.012, 0.270),
     (2.464, 0.298), (2.948, 0.325)],
)  # fmt: skip
def test_a_measured_small_lamp_follows_the_model(volt, ampere):
    lamp = Lamp(2.5 * 0.3 * 10, 2.5, 1)

    by_model = current_at(lamp.by_heat(0.20), volt) / 10
    assert by_model == pytest.approx(ampere, rel=0.06)
    assert abs(by_model - ampere) <= abs(current_at(lamp, volt) / 10 - ampere) + 0.01


# Measured 28 V 40 mA vacuum lamp, 0.5 V 4.5 mA (second-hand, quoting a bench article): this one
# keeps to the law, and is shown as a disagreement.
def test_a_measured_vacuum_lamp_contradicts_the_model_and_the_answer_says_so():
    lamp = Lamp(28 * 0.04, 28)
    answer = operating_point(OperatingPointIn(230, W100, Resistance(1058)))

    assert current_at(lamp.by_heat(0.06), 0.5) > 1.5 * 4.5e-3
    assert any("28 V vacuum lamp" in said for said in answer.working.disagreements)


# No glow is seen below 798 K (from memory); V/V0 then 0.065 to 0.105. Computed.
def test_a_filament_begins_to_glow_between_a_fifteenth_and_a_tenth_of_its_volts():
    volts = [
        next(n / 1000 for n in range(1, 1000) if kelvin_at(share, n / 1000) > GLOW_KELVIN)
        for share in CONDUCTION_SPAN
    ]

    assert volts == pytest.approx([0.065, 0.105], abs=6e-3)


def heat(kelvin, share):
    """The model written out once more, in shares of the rated values."""
    power = (1 - share) * (kelvin**4 - 300**4) / (2800**4 - 300**4)
    return power + share * (kelvin - 300) / (2800 - 300)


@pytest.mark.parametrize(("kelvin", "share"), [(500, 0.06), (800, 0.2), (1300, 0.1), (2500, 0.06)])
def test_the_curve_meets_the_heat_balance_solved_by_brentq(kelvin, share):
    ohm = RESISTIVITY[kelvin] / RESISTIVITY[2800]
    volt = sqrt(heat(kelvin, share) * ohm)

    back = brentq(lambda t: heat(t, share) * ohm - volt**2, 300, 3600)
    assert kelvin_at(share, volt) == pytest.approx(back, rel=1e-6)
    assert ampere_share(share, volt) == pytest.approx(volt / ohm, rel=1e-9)


shares = st.floats(0.01, 0.5)
volts = st.floats(5, 260)
lamps = st.builds(
    Lamp, st.floats(15, 500), st.sampled_from([115.0, 230.0]), st.integers(1, 3), st.just(0.55),
    shares,
)  # fmt: skip
loads = st.builds(Resistance, st.floats(10, 5000)) | st.builds(
    Mixed, st.floats(1, 300), st.sampled_from([115.0, 230.0]), st.floats(-1, 4)
)


@given(shares, st.floats(1e-6, 2))
def test_the_curve_read_there_and_back_is_where_it_was(share, volt):
    assert volt_share(share, ampere_share(share, volt)) == pytest.approx(volt, rel=1e-9)


@given(shares, st.floats(1e-4, 2), st.floats(1.001, 3))
def test_more_volts_never_pass_less(share, volt, factor):
    assert ampere_share(share, volt * factor) > ampere_share(share, volt)


@given(lamps, loads, volts)
def test_every_point_by_heat_keeps_the_laws_of_the_circuit(lamp, load, supply):
    points = operating_points(lamp, load, supply)

    for point in points:
        assert point.lamp_volt + point.unit_volt == pytest.approx(supply, rel=1e-9)
        assert current_at(lamp, point.lamp_volt) == pytest.approx(point.current_a, rel=1e-9)
    assert [point.is_stable for point in points] in ([], [True], [True, False], [False])


@given(lamps, st.floats(0, 5000), st.floats(10, 5000), volts)
def test_a_reactive_load_by_heat_keeps_the_law_of_the_circuit(lamp, resistance, reactance, supply):
    (point,) = operating_points(lamp, Impedance(resistance, reactance), supply)

    real = point.lamp_volt + point.current_a * resistance
    assert hypot(real, point.current_a * reactance) == pytest.approx(supply, rel=1e-9)


@given(lamps, st.floats(10, 5000), st.floats(1.01, 5), volts)
def test_more_load_never_lowers_the_lamp_voltage_by_heat(lamp, ohm, factor, supply):
    light = operating_points(lamp, Resistance(ohm * factor), supply)[0]
    heavy = operating_points(lamp, Resistance(ohm), supply)[0]

    assert heavy.lamp_volt >= light.lamp_volt


@given(lamps, volts)
def test_constant_power_just_above_the_most_a_lamp_can_pass_has_no_point(lamp, supply):
    most = max(
        current_at(lamp, supply * n / 4000) * supply * (1 - n / 4000) for n in range(1, 4000)
    )

    assert not operating_points(lamp, ConstantPower(max(most * 1.001, 0.001)), supply)
    assert len(operating_points(lamp, ConstantPower(max(most * 0.99, 0.001)), supply)) == 2


def test_the_band_by_heat_stands_beside_the_law():
    value = operating_point(OperatingPointIn(230, W100, Resistance(1058))).value

    assert value.by_heat.unit_volt.low > 185.767
    assert value.by_heat.unit_volt.high <= 230
    assert GLOW_KELVIN < value.by_heat.filament_kelvin.low < value.by_heat.filament_kelvin.high


def test_where_the_lamp_is_bright_the_answer_does_not_doubt_the_law():
    bright = operating_point(OperatingPointIn(230, W100, Resistance(100)))
    dark = operating_point(OperatingPointIn(230, W100, Resistance(5000)))

    assert not any("fifth" in said for said in bright.working.disagreements)
    assert any("fifth" in said for said in dark.working.disagreements)


def test_a_load_that_no_filament_passes_has_no_band():
    answer = operating_point(OperatingPointIn(230, W100, ConstantPower(60)))

    assert answer.outcome is Outcome.NO_ANSWER
    assert (answer.value.by_heat, answer.value.models_with_point) == (None, 0)


# The most a lamp passes is 0.365 of its watts at a = 0.55, 0.347 at 0.60 (computed): with 36 W one
# law has a point and another none, and the answer must say so.
def test_a_load_near_the_most_a_lamp_can_pass_is_said_to_have_a_point_by_some_models_only():
    near = operating_point(OperatingPointIn(230, W100, ConstantPower(36)))
    past = operating_point(OperatingPointIn(230, W100, ConstantPower(37)))
    free = operating_point(OperatingPointIn(230, W100, ConstantPower(20)))

    assert near.outcome is Outcome.WARN
    assert any("3 of 4" in said for said in near.working.disagreements)
    assert past.outcome is Outcome.NO_ANSWER
    assert any("3 of 4" in said for said in past.working.disagreements)
    assert not any("of 4" in said for said in free.working.disagreements)


@given(st.floats(0.3, 0.9), st.floats(1e-4, 1.5))
def test_the_exponent_at_a_point_is_the_slope_of_the_law_there(exponent, share):
    lamp = Lamp(60, 230, 1, exponent)
    volt = 230 * share

    slope = (current_at(lamp, volt * 1.0001) / current_at(lamp, volt) - 1) / 1e-4
    assert slope == pytest.approx(slope_at(lamp, volt), abs=2e-3) or slope_at(
        lamp, volt * 1.0001
    ) != slope_at(lamp, volt)
    assert volt_at(lamp, current_at(lamp, volt)) == pytest.approx(volt, rel=1e-9)
