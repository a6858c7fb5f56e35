"""Fuse markings, colour bands, breaking capacity and time gates."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.fuses.bands import read_bands, write_bands
from shop.calc.fuses.gates import breaking_capacity_ampere, gate_for, ul_must_open
from shop.calc.fuses.marking import FuseMark, read_mark
from shop.calc.fuses.series import ANY_IEC
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome, Status


@pytest.mark.parametrize(
    ("mark", "current", "kind", "letter", "volt"),
    [
        # IEC 60127-2 clause 6.1 for the order; `T315L250V` is its form below 1 A.
        ("T160mAL250V", 160, "T", "L", 250),
        ("T315L250V", 315, "T", "L", 250),
        ("T2AL250V", 2000, "T", "L", 250),
        ("F1.6A", 1600, "F", None, None),
        ("T2A5", 2500, "T", None, None),
        ("t 3,15 A h 250 V", 3150, "T", "H", 250),
        ("FF63mA", 63, "FF", None, None),
        ("TT10AH", 10000, "TT", "H", None),
        ("T2A5L250V", 2500, "T", "L", 250),
        ("T1A/250V", 1000, "T", None, 250),
    ],
)
def test_markings_are_taken_apart(mark, current, kind, letter, volt):
    found = read_mark(mark)

    assert found == FuseMark(current, kind, letter, volt, unit_assumed=found.unit_assumed)
    assert read_mark(found.text()) == FuseMark(current, kind, letter, volt)


def test_a_marking_without_unit_says_what_was_taken():
    answer = work_out("fuses.parse", {"mark": "T2L250V"})

    assert answer.value.fuse.unit_assumed
    assert any("taken as 2 A" in caution for caution in answer.working.cautions)


def test_the_standard_form_below_one_ampere_needs_no_caution():
    answer = work_out("fuses.parse", {"mark": "T315L250V"})

    assert answer.outcome is Outcome.OK
    assert answer.value.breaking_capacity_ampere == 35
    assert answer.value.gate.sheet == 3


@pytest.mark.parametrize("mark", ["T170mAL250V", "T3A", "T0.17A", "T81L250V"])
def test_a_fuse_in_no_series_is_refused_with_its_neighbours(mark):
    with pytest.raises(BadInput) as refused:
        work_out("fuses.parse", {"mark": mark})

    assert refused.value.field == "mark"
    assert "nearest" in refused.value.reason


def test_the_refusal_of_170_milliampere_names_160_and_200():
    with pytest.raises(BadInput) as refused:
        work_out("fuses.parse", {"mark": "T170mA"})

    assert "160 mA" in refused.value.reason
    assert "200 mA" in refused.value.reason


@pytest.mark.parametrize(
    "mark", ["", "   ", "banana", "T", "250V", "T-1A", "T1.234A", "TnanA", "T2A5250V", "T0A",
             "T1.5A5", "T2AL9999V", "T2AX250V", "1e3mA", "x" * 41]
)  # fmt: skip
def test_what_is_no_marking_is_refused_at_the_field(mark):
    with pytest.raises(BadInput) as refused:
        work_out("fuses.parse", {"mark": mark})

    assert refused.value.field == "mark"


@given(st.text(max_size=50))
def test_any_text_is_read_or_refused_and_never_breaks(text):
    found = None
    with suppress(BadInput):
        found = read_mark(text)

    assert found is None or found.current_milliampere in ANY_IEC


# IEC 60127-1 annex A table A.1 for the digits; 315 mA reads orange, brown, brown (multiplier
# colours from memory).
@pytest.mark.parametrize(
    ("milliampere", "kind", "colours"),
    [
        (315, "T", ["orange", "brown", "brown", "blue"]),
        (63, "T", ["blue", "orange", "black", "blue"]),
        (500, "F", ["green", "black", "brown", "red"]),
        (3150, "T", ["orange", "brown", "red", "blue"]),
        (10000, "TT", ["brown", "black", "orange", "grey"]),
    ],
)
def test_colour_bands_are_read_and_written(milliampere, kind, colours):
    assert read_bands(colours) == FuseMark(float(milliampere), kind)
    assert write_bands(FuseMark(float(milliampere), kind)) == colours


def test_bands_are_read_by_name():
    answer = work_out("fuses.bands", {"bands": ["orange", "brown", "brown", "blue"]})

    assert (answer.value.current_text, answer.value.fuse.characteristic) == ("315 mA", "T")


def test_bands_that_fit_no_member_are_refused():
    with pytest.raises(BadInput) as refused:
        read_bands(["white", "white", "brown", "blue"])

    assert refused.value.field == "bands"


# IEC 60127-2: 35 A or ten times, 150 A, 1500 A (second-hand).
def test_breaking_capacity_goes_by_letter():
    assert breaking_capacity_ampere("L", 1) == 35
    assert breaking_capacity_ampere("L", 6.3) == 63
    assert breaking_capacity_ampere("E", 6.3) == 150
    assert breaking_capacity_ampere("H", 1) == 1500


# IEC 60127-2 sheet 2 (second-hand); sheet 3 from memory.
def test_time_gates_carry_their_status():
    quick, slow = gate_for("F", "L", 500), gate_for("T", "L", 500)

    assert (quick.at_2_75, quick.status) == ((0.050, 2), Status.SECOND_HAND)
    assert (slow.at_10, slow.status) == ((0.020, 0.3), Status.FROM_MEMORY)
    assert gate_for("M", "L", 500) is None


# UL 248-14: 135 % within an hour, 200 % within two minutes (second-hand).
def test_an_american_3_ampere_fuse_opens_at_4_05_and_6_ampere():
    assert ul_must_open(3) == pytest.approx((4.05, 6.0))
