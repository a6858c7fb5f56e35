"""Levels against published tables; the constants of physics from another library."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome


def convert(number, scale, **fields):
    return work_out("levels.convert", {"number": number, "scale": scale, **fields}).value


@pytest.mark.parametrize(
    ("number", "scale", "key", "value", "within"),
    [
        # second-hand: sengpielaudio.com, page on levels
        (0, "dbu", "volt_rms", 0.77459667, 5e-9),
        (4, "dbu", "volt_rms", 1.228, 5e-4),
        (6, "dbu", "volt_rms", 1.55, 5e-3),
        (-10, "dbv", "volt_rms", 0.3162, 5e-5),
        (-10, "dbv", "dbu", -7.78, 5e-3),
        (230, "volt_rms", "volt_peak", 325, 0.5),
        (230, "volt_rms", "volt_peak_to_peak", 650, 1),
        # second-hand: homerecording.com, thread 89959: 0 dBm in 600 ohm 0.775 V
        (0, "dbm", "volt_rms", 0.775, 5e-4),
        (1, "volt_rms", "dbu", 2.2185, 1e-4),  # derived: 20 lg(1 / sqrt 0.6)
    ],
)
def test_levels_are_those_of_the_tables(number, scale, key, value, within):
    assert getattr(convert(number, scale), key) == pytest.approx(value, abs=within)


def test_no_dbm_in_50_ohm_is_224_millivolts():
    # second-hand: homerecording.com, thread 89959
    assert convert(0, "dbm", load_ohm=50).volt_rms == pytest.approx(0.224, abs=5e-4)


@given(st.floats(-120, 40))
def test_dbu_and_dbm_are_one_number_in_600_ohm(number):
    # second-hand: extract of an audio measurement handbook, emc-pstc list msg15011
    assert convert(number, "dbu", load_ohm=600).dbm == pytest.approx(number, abs=1e-9)


@given(st.floats(1e-6, 1000), st.floats(1, 1e5), st.floats(1, 10))
def test_every_scale_leads_back_to_the_same_volts(volt, ohm, crest):
    there = convert(volt, "volt_rms", load_ohm=ohm, crest_factor=crest)

    for scale in ("volt_peak", "volt_peak_to_peak", "dbu", "dbv", "dbm", "watt"):
        back = convert(getattr(there, scale), scale, load_ohm=ohm, crest_factor=crest)
        assert back.volt_rms == pytest.approx(volt, rel=1e-9)


@pytest.mark.parametrize(
    ("number", "scale", "field", "code"),
    [
        (0, "volt_rms", "number", "not_positive"),
        (-1, "watt", "number", "not_positive"),
        (1, "watt", "load_ohm", "missing"),
        (401, "dbu", "number", "out_of_range"),
        (-300, "dbu", "number", "out_of_range"),
    ],
)
def test_what_is_no_level_is_named(number, scale, field, code):
    with pytest.raises(BadInput) as refused:
        convert(number, scale)

    assert (refused.value.field, refused.value.code) == (field, code)


def gain(before, after):
    return work_out("levels.gain", {"before": before, "after": after}).value


def test_from_consumer_to_studio_level_are_11_78_decibels():
    # second-hand: sengpielaudio.com: -10 dBV is -7.78 dBu, so +4 dBu is 11.78 dB above it
    value = gain({"number": -10, "scale": "dbv"}, {"number": 4, "scale": "dbu"})

    assert value.gain_db == pytest.approx(11.78, abs=5e-3)


def test_the_power_gain_counts_the_loads():
    # derived: 1 V in 10 kohm is 0.1 mW, 10 V in 8 ohm is 12.5 W: 50.97 dB, of the volts 20 dB
    value = gain(
        {"number": 1, "scale": "volt_rms", "load_ohm": 1e4},
        {"number": 10, "scale": "volt_rms", "load_ohm": 8},
    )

    assert value.gain_db == pytest.approx(20)
    assert value.power_db == pytest.approx(50.97, abs=5e-3)


@given(st.floats(-100, 30), st.floats(-100, 30))
def test_a_gain_there_and_back_is_nothing(one, other):
    first, second = {"number": one, "scale": "dbu"}, {"number": other, "scale": "dbu"}

    assert gain(first, second).gain_db + gain(second, first).gain_db == pytest.approx(0, abs=1e-9)
    assert gain(first, second).gain_db == pytest.approx(other - one, abs=1e-9)


def test_the_field_at_fault_is_named_with_its_level():
    with pytest.raises(BadInput) as refused:
        gain({"number": 1, "scale": "volt_rms"}, {"number": 0, "scale": "volt_rms"})

    assert refused.value.field == "after.number"


def power(**fields):
    return work_out("levels.power", fields)


@pytest.mark.parametrize(
    ("volt", "ohm", "watt"),
    # second-hand: audioroundtable.com/ProSpeakers/messages/378.html
    [(1, 16, 0.0625), (1, 12, 0.083), (2, 8, 0.5), (2, 4, 1), (2, 2, 2), (2.83, 16, 0.5),
     (2.83, 12, 0.67), (2.83, 8, 1), (2.83, 4, 2), (2.83, 2, 4), (4, 12, 1.3), (4, 2, 8)],
)  # fmt: skip
def test_volts_make_the_watts_of_the_chart(volt, ohm, watt):
    assert power(volt=volt, load_ohm=ohm).value.watt == pytest.approx(watt, rel=0.03)


def test_100_watts_into_8_ohm_are_28_volts_and_1_4_volts_in_at_26_decibels():
    # second-hand: an exercise at forum.allaboutcircuits.com/threads/148851; derived: the answers
    out = power(watt=100, load_ohm=8).value

    assert out.volt == pytest.approx(sqrt(800))
    assert out.ampere == pytest.approx(3.536, abs=5e-4)
    assert out.dbu - 26 == pytest.approx(5.25, abs=0.01)


@given(st.floats(1e-3, 1e4), st.floats(0.1, 1e4))
def test_watts_there_and_back_are_the_same(watt, ohm):
    volt = power(watt=watt, load_ohm=ohm).value.volt

    assert power(volt=volt, load_ohm=ohm).value.watt == pytest.approx(watt)


def test_an_amplifier_two_decibels_short_is_looked_at():
    # derived: 63.1 W of 100 W is 2 dB
    answer = power(volt=sqrt(63.1 * 8), load_ohm=8, rated_watt=100)

    assert answer.value.short_db == pytest.approx(-2, abs=0.01)
    assert answer.outcome is Outcome.WARN


def noise(**fields):
    return work_out("levels.noise", fields)


def test_a_kilohm_in_ten_kilohertz_makes_400_nanovolts():
    # second-hand: studylib.net/doc/7522636, "400 nV at room temperature"
    value = noise(source_ohm=1000, bandwidth_hertz=10000).value

    assert value.source_volt == pytest.approx(400e-9, rel=0.01)


def test_150_ohm_in_20_kilohertz_make_131_dbu_below_nought():
    # from memory: the floor of a microphone input is given as -131 dBu
    assert noise(source_ohm=150).value.source_dbu == pytest.approx(-131, abs=0.15)


@given(st.floats(1, 1e6), st.floats(-20, 60), st.floats(10, 1e6))
def test_the_noise_is_that_of_the_constants_of_another_library(ohm, celsius, hertz):
    # oracle: scipy.constants (CODATA)
    kelvin = constants.convert_temperature(celsius, "Celsius", "Kelvin")
    wanted = sqrt(4 * constants.k * kelvin * ohm * hertz)

    value = noise(source_ohm=ohm, source_celsius=celsius, bandwidth_hertz=hertz).value

    assert value.source_volt == pytest.approx(wanted, rel=1e-12)


def test_twice_the_sources_noise_is_a_figure_of_six_decibels():
    # derived: 20 lg 2
    source = noise(source_ohm=150).value.source_volt
    value = noise(source_ohm=150, output_volt=2 * source * 1000, gain_db=60).value

    assert value.figure_db == pytest.approx(6.02, abs=5e-3)


def test_less_noise_than_the_source_makes_is_a_wrong_reading():
    with pytest.raises(BadInput) as refused:
        noise(source_ohm=1e5, output_volt=1e-9, gain_db=0)

    assert refused.value.field == "output_volt"
