"""Limits of controls and channels against figures from outside."""

import pytest

from shop.calc.judging import band_at
from shop.calc.registry import work_out
from shop.calc.working import Outcome


def encoder(**fields):
    return work_out("controls.encoder", fields)


@pytest.mark.parametrize("detents", [1, 20, 24, 30, 255])
def test_whole_detents_have_whole_limits(detents):
    # derived: a line through nought and a power of two keeps whole numbers whole
    band = band_at(encoder(positions_per_detent=3).value.points, float(detents))

    assert (band.low, band.high) == (3 * detents, 3 * detents)


@pytest.mark.parametrize(
    ("counted", "outcome", "word"),
    [(24, Outcome.OK, "24 positions"), (57, Outcome.WARN, "worn"), (22, Outcome.WARN, "dirty")],
)
def test_a_count_over_a_whole_turn_says_what_is_wrong(counted, outcome, word):
    # common practice, no source: a worn encoder jumps two or three positions for each detent
    answer = encoder(detents=24, counted=counted)

    assert answer.outcome is outcome
    assert word in answer.text


def test_a_worn_encoder_of_24_detents_counts_48_to_72():
    # common practice, no source: two or three for each detent
    value = encoder(detents=24).value

    assert (value.positions, value.worn_from, value.worn_to) == (24, 48, 72)


def potentiometer(**fields):
    return work_out("controls.potentiometer", fields).value


def test_a_carbon_track_of_10_kilohm_has_8_to_12():
    # second-hand: precisionelectronics.com/0-40a-010c, classes of 10 % and 20 %
    value = potentiometer(track_ohm=10_000)

    assert (value.low_ohm, value.high_ohm) == (pytest.approx(8000), pytest.approx(12_000))
    assert (value.most_end_ohm, potentiometer(track_ohm=500).most_end_ohm) == (100, 20)


def test_24_millivolts_on_a_wiper_make_70_dbu_of_crackle():
    # by hand: 0.7746 V x 10^(-70 / 20) = 0.2449 mV, a hundredth of 24.49 mV
    assert potentiometer().most_wiper_volt == pytest.approx(0.02449, abs=1e-5)
    assert potentiometer().low_ohm is None


def channel(**fields):
    return work_out("levels.channel", fields)


def test_noise_is_never_better_than_150_ohm_allow():
    # from memory: -131 dBu of 150 ohm in 20 kHz, in every text on microphone amplifiers; 60 dB of
    # gain and 1 dB for the meter
    value = channel(input_dbu=-60, output_dbu=0, source_ohm=150).value

    assert value.least_noise_dbu == pytest.approx(-131 + 60 - 1, abs=0.1)


def test_where_the_sheet_is_silent_din_45500_speaks():
    # second-hand: extract of 1977, dl4cs.de/audio/others/hifi
    value = channel(input_dbu=0, output_dbu=0).value

    assert (value.most_noise_dbu, value.most_hum_dbu, value.most_crosstalk_db) == (-50, -50, -40)
    assert (value.response_low_db, value.response_high_db) == (-1.5, 1.5)
    assert (value.low_hertz, value.high_hertz) == (40, 16_000)
    assert value.high_dbu - value.low_dbu == pytest.approx(3)


def test_the_sheets_figures_win():
    value = channel(input_dbu=4, output_dbu=4, noise_dbu=-88, hum_dbu=-92, crosstalk_db=-70).value

    assert (value.most_noise_dbu, value.most_hum_dbu, value.most_crosstalk_db) == (-88, -92, -70)


def test_noise_of_another_gain_sets_no_floor_and_is_warned_of():
    answer = channel(input_dbu=-60, output_dbu=4, source_ohm=150, noise_dbu=-84)

    assert answer.outcome is Outcome.WARN
    assert answer.value.least_noise_dbu is None
    assert "another gain" in answer.text


def test_a_channel_that_nobody_knows_has_crosstalk_alone():
    answer = channel()

    assert answer.value.low_dbu is None
    assert answer.value.most_noise_dbu is None
    assert "cannot be judged" in answer.text
