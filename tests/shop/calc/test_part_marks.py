"""Letters and digits on resistors and capacitors, against published marks."""

import eseries
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.marks import CapacitorMarkIn, ResistorMarkIn, capacitor, resistor
from shop.calc.marks.letters import EVEN_PERCENT, RATED_VOLT, UNEVEN_PERCENT
from shop.calc.working import BadInput, Outcome


def ohms(mark):
    return [(way.ohm, way.tolerance_percent) for way in resistor(ResistorMarkIn(mark)).value.ways]


# IEC 60062 as quoted at en.wikipedia.org/wiki/IEC/EN_60062 (R47 to 4M7), ngspice's RKM-R-1.cir (L),
# an encyclopaedia copy on resistors (8K2, 15M0, 1R2, 18R): all second-hand.
@pytest.mark.parametrize(
    ("mark", "ohm"),
    [
        ("R47", 0.47), ("4R7", 4.7), ("470R", 470), ("4K7", 4.7e3), ("47K", 47e3),
        ("47K3", 47.3e3), ("470K", 470e3), ("4M7", 4.7e6), ("4L7", 4.7e-3), ("470L", 0.47),
        ("8K2", 8.2e3), ("15M0", 15e6), ("1R2", 1.2), ("18R", 18),
    ],
)  # fmt: skip
def test_published_letter_marks_are_read(mark, ohm):
    assert (ohm, None) in ohms(mark)


# Metal_Film_Res_data.pdf (a film resistor sheet) and a table for parts lists, second-hand.
@pytest.mark.parametrize(
    ("letter", "percent"),
    [("B", 0.1), ("C", 0.25), ("D", 0.5), ("F", 1), ("G", 2), ("J", 5), ("K", 10), ("M", 20)],
)
def test_published_tolerance_letters_are_read(letter, percent):
    assert ohms(f"4K7{letter}") == [(4700, percent)]


# From memory: IEC 60062.
def test_the_other_tolerance_letters_are_as_remembered():
    rest = {letter: EVEN_PERCENT[letter] for letter in "WPLEN"}

    assert rest == {"W": 0.05, "P": 0.02, "L": 0.01, "E": 0.005, "N": 30}
    assert UNEVEN_PERCENT == {"Q": (10, 30), "T": (10, 50), "S": (20, 50), "Z": (20, 80)}


def test_m_is_mega_on_a_part_and_the_other_habit_is_told():
    answer = resistor(ResistorMarkIn("4M7"))

    assert answer.value.ohm == 4.7e6
    assert any("milli" in text for text in answer.working.disagreements)


def test_a_small_m_is_refused_with_its_reason():
    with pytest.raises(BadInput) as refused:
        resistor(ResistorMarkIn("4m7"))

    assert (refused.value.code, refused.value.field) == ("milli_or_mega", "mark")


# Common practice, no source: 472 is 4.7 kilohm, 1002 is 10 kilohm.
# The same page prints 470K as 470 kilohm; that K on 472 can be 10 % is common practice, no source.
def test_k_behind_a_preferred_value_is_kilo_and_behind_another_may_be_a_tolerance():
    assert ohms("470K") == [(470e3, None)]
    assert ohms("47K") == [(47e3, None)]
    assert sorted(ohms("472K")) == [(4700, 10), (472e3, None)]


@pytest.mark.parametrize(
    ("mark", "ohm", "percent"),
    [("4.7k 5%", 4700, 5), ("4K7 J", 4700, 5), ("150R 1%", 150, 1), ("0", 0, None),
     ("000", 0, None), ("470 ohm", 470, None), ("1M0 ±2 %", 1e6, 2), ("4,7 kΩ", 4700, None)],
)  # fmt: skip
def test_marks_are_read_as_people_write_them(mark, ohm, percent):
    assert ohms(mark) == [(ohm, percent)]


def test_digits_and_noughts_are_read_and_a_plain_reading_stands_beside():
    assert ohms("472") == [(4700, None)]
    assert ohms("1002F") == [(10_000, 1)]
    assert sorted(ohms("470")) == [(47, None), (470, None)]
    assert resistor(ResistorMarkIn("470")).outcome is Outcome.WARN
    assert resistor(ResistorMarkIn("470")).value.ohm is None


# From memory: EIA-96; the places themselves by the PyPI package eseries 1.2.1.
def test_a_place_in_e96_and_a_letter_is_read():
    e96 = sorted(eseries.series(eseries.E96))

    for place in (1, 2, 48, 68, 96):
        value = float(f"{e96[place - 1]:.0f}") * 100
        assert (value, 1) in ohms(f"{place:02d}C")


@given(st.sampled_from(sorted(eseries.series(eseries.E24))), st.integers(0, 6))
def test_a_preferred_value_written_as_code_or_with_a_letter_reads_the_same(member, power):
    digits = f"{member:.0f}"[:2]
    ohm = float(f"{digits}e{power}")
    letter = {0: f"{digits}R", 1: f"{digits}0R", 2: f"{digits[0]}K{digits[1]}", 3: f"{digits}K",
              4: f"{digits}0K", 5: f"{digits[0]}M{digits[1]}", 6: f"{digits}M"}[power]  # fmt: skip

    assert (ohm, None) in ohms(f"{digits}{power}")
    assert (ohm, None) in ohms(letter)


@pytest.mark.parametrize("mark", ["K", "4K7J5", "abc", "4K7Y", "٤K7", "-4K7", "1e3"])
def test_what_is_no_mark_is_refused_at_the_field(mark):
    with pytest.raises(BadInput) as refused:
        resistor(ResistorMarkIn(mark))

    assert refused.value.field == "mark"


def ways(mark, kind="unknown"):
    return capacitor(CapacitorMarkIn(mark, kind)).value.ways


# Encyclopaedia article on capacitors (second-hand): u47, 4u7, 47u, and "10K 25".
@pytest.mark.parametrize(("mark", "farad"), [("u47", 0.47e-6), ("4u7", 4.7e-6), ("47µ", 47e-6)])
def test_published_microfarad_marks_are_read(mark, farad):
    (way,) = ways(mark)

    assert way.farad == farad


def test_10k_25_is_ten_microfarad_ten_per_cent_25_volt():
    (way,) = ways("10K 25", "electrolytic")

    assert (way.farad, way.tolerance.high_percent, way.rated_volt) == (10e-6, 10, 25)
    assert sorted(way.farad for way in ways("10K 25")) == [10e-12, 10e-6]


# Common practice, no source: the three-digit code is in picofarad; 104 is 100 nF.
@pytest.mark.parametrize(
    ("mark", "farad"), [("104", 100e-9), ("473", 47e-9), ("222", 2.2e-9), ("105", 1e-6)]
)
def test_three_digits_are_picofarad_and_noughts(mark, farad):
    assert [way.farad for way in ways(mark)] == [farad]


# From memory: a third digit 9 is 0.1, 8 is 0.01.
def test_a_third_digit_of_8_or_9_divides():
    assert [way.farad for way in ways("229")] == [2.2e-12]
    assert [way.farad for way in ways("688")] == [0.68e-12]


# A table of marks for parts lists, second-hand.
@pytest.mark.parametrize(
    ("code", "volt"),
    [("0G", 4), ("0J", 6.3), ("1A", 10), ("1C", 16), ("1E", 25), ("1V", 35), ("1H", 50),
     ("1N", 75), ("2A", 100), ("2D", 200), ("2E", 250), ("2H", 500)],
)  # fmt: skip
def test_published_voltage_codes_are_read_before_and_after_the_value(code, volt):
    assert [way.rated_volt for way in ways(f"{code}104K")] == [volt]
    assert [way.rated_volt for way in ways(f"104K {code}")] == [volt]


# From memory.
def test_the_other_voltage_codes_are_as_remembered():
    rest = {code: RATED_VOLT[code] for code in ("1J", "2C", "2V", "2G", "2W")}

    assert rest == {"1J": 63, "2C": 160, "2V": 350, "2G": 400, "2W": 450}


# The same table: below 10 pF the letter is picofarad.
@pytest.mark.parametrize(("letter", "pf"), [("B", 0.1), ("C", 0.25), ("D", 0.5), ("F", 1)])
def test_below_ten_picofarad_the_letter_is_picofarad(letter, pf):
    small = next(way for way in ways(f"4p7{letter}") if way.farad == 4.7e-12)
    large = next(way for way in ways(f"104{letter}") if way.farad == 100e-9)

    assert small.tolerance.plus_minus_farad == pytest.approx(pf * 1e-12)
    assert large.tolerance.plus_minus_farad is None
    assert large.tolerance.high_percent == EVEN_PERCENT[letter]


def test_an_uneven_tolerance_has_two_sides():
    (way,) = ways("103Z")

    assert (way.tolerance.low_percent, way.tolerance.high_percent) == (20, 80)


@pytest.mark.parametrize(
    ("mark", "farad", "volt"),
    [
        (".047 400V", 47e-9, 400), ("0,1 250", 100e-9, 250), ("104K100", 100e-9, 100),
        ("0.1uF", 100e-9, None), ("100nF63", 100e-9, 63), ("4n7J 160", 4.7e-9, 160),
        ("102M 1KV", 1e-9, 1000), ("25V 100uF", 100e-6, 25), ("100uF/25V", 100e-6, 25),
        ("0.022M630", 22e-9, 630), ("1000uF 25V", 1e-3, 25),
    ],
)  # fmt: skip
def test_value_and_voltage_written_together_are_told_apart(mark, farad, volt):
    assert (farad, volt) in [(way.farad, way.rated_volt) for way in ways(mark)]


# Common practice, no source: on old parts MF is microfarad and MMF picofarad.
def test_the_units_of_old_parts_are_read_with_a_warning_about_millifarad():
    old, small = ways("8 MF 450V"), ways("250 MMF")
    both = capacitor(CapacitorMarkIn("10mF"))

    assert [(way.farad, way.rated_volt) for way in old] == [(8e-6, 450)]
    assert [way.farad for way in small] == [250e-12]
    assert sorted(way.farad for way in both.value.ways) == [10e-6, 10e-3]
    assert both.working.disagreements
    assert both.outcome is Outcome.WARN


def test_a_bare_number_means_what_its_kind_of_part_means():
    assert [way.farad for way in ways("47", "electrolytic")] == [47e-6]
    assert [way.farad for way in ways("47", "film_or_ceramic")] == [47e-12]
    assert len(ways("47")) == 2
    assert sorted(way.farad for way in ways("330", "film_or_ceramic")) == [33e-12, 330e-12]


@given(st.sampled_from(sorted(eseries.series(eseries.E12))), st.integers(0, 6))
def test_the_code_and_the_letter_form_of_a_preferred_value_agree(member, power):
    digits = f"{member:.0f}"[:2]
    farad = float(f"{digits}e{power - 12}")
    letter = {0: f"{digits}p", 1: f"{digits}0p", 2: f"{digits[0]}n{digits[1]}", 3: f"{digits}n",
              4: f"{digits}0n", 5: f"{digits[0]}u{digits[1]}", 6: f"{digits}u"}[power]  # fmt: skip

    assert farad in [way.farad for way in ways(f"{digits}{power}")]
    assert farad in [way.farad for way in ways(letter)]


@pytest.mark.parametrize("mark", ["abc", "047", "V25", "1,000", "-104", "0"])
def test_what_is_no_capacitor_mark_is_refused(mark):
    with pytest.raises(BadInput) as refused:
        ways(mark)

    assert (refused.value.field, refused.value.code) == ("mark", "not_a_mark")


def test_a_rated_direct_voltage_is_no_leave_for_the_mains():
    cautions = capacitor(CapacitorMarkIn("104K 400V")).working.cautions

    assert any("X or Y" in text for text in cautions)
