"""Designations of IEC 60086 and the cell table's fit to them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.cells.cell import OPEN_VOLT
from shop.calc.cells.designation import DesignationIn, designation, round_size
from shop.calc.cells.systems import DIAMETERS, SYSTEMS, TRADE_NAMES
from shop.calc.cells.table import (
    CELLS,
    STANDARD_TESTS,
    cell_named,
    disagreements_of,
    standard_minimum_mah,
)
from shop.calc.working import BadInput, Outcome


def read(mark, volt=None):
    return designation(DesignationIn(mark, volt))


# Letters of IEC 60086-1: nominal and highest open-circuit volts. From memory, but 3.0 V for C
# (en.wikipedia.org/wiki/CR2032_battery), 1.55 for S and 1.35 for M (eudic.net, SR44), 1.2 for
# nickel (wikiwand.com, 21700_battery), second-hand.
LETTERS = [
    ("", 1.5, 1.73), ("B", 3.0, 3.7), ("C", 3.0, 3.7), ("E", 3.6, 3.9), ("F", 1.5, 1.83),
    ("L", 1.5, 1.68), ("P", 1.4, 1.68), ("S", 1.55, 1.63), ("M", 1.35, None), ("N", 1.4, None),
    ("H", 1.2, None), ("K", 1.2, None),
]  # fmt: skip


@pytest.mark.parametrize(("letter", "nominal", "most"), LETTERS)
def test_each_letter_tells_its_volts(letter, nominal, most):
    value = read(f"{letter}R44").value

    assert (value.letter, value.nominal_volt, value.open_volt) == (letter, nominal, most)
    assert set(SYSTEMS) == {row[0] for row in LETTERS}


# mark, cells in series, letter, volts, diameter, height. LR44 and SR44 11.6 x 5.4
# (wiki-gateway.eudic.net/wikipedia_en/SR44.html), CR2450 24.5 x 5.0 (m.maimaib2b.com, a maker's
# sheet), 9 for 9.5 mm (business03.blogspot.com) second-hand; LR6 14.5 x 50.5 (manualspro.net
# 383997) second-hand; the others from memory of IEC 60086-2.
MARKS = [
    ("LR6", 1, "L", 1.5, 14.5, 50.5),
    ("R6", 1, "", 1.5, 14.5, 50.5),
    ("FR6", 1, "F", 1.5, 14.5, 50.5),
    ("LR03", 1, "L", 1.5, 10.5, 44.5),
    ("6LR61", 6, "L", 9.0, 7.8, 39.0),
    ("4LR44", 4, "L", 6.0, 11.6, 5.4),
    ("LR44", 1, "L", 1.5, 11.6, 5.4),
    ("SR44", 1, "S", 1.55, 11.6, 5.4),
    ("CR2025", 1, "C", 3.0, 20.0, 2.5),
    ("CR2032", 1, "C", 3.0, 20.0, 3.2),
    ("BR2032", 1, "B", 3.0, 20.0, 3.2),
    ("CR2430", 1, "C", 3.0, 24.5, 3.0),
    ("CR2450", 1, "C", 3.0, 24.5, 5.0),
    ("CR2450N", 1, "C", 3.0, 24.5, 5.0),
    ("CR927", 1, "C", 3.0, 9.5, 2.7),
    ("SR621", 1, "S", 1.55, 6.8, 2.1),
    ("CR11108", 1, "C", 3.0, 11.6, 10.8),
    ("CR14250", 1, "C", 3.0, 14.5, 25.0),
    ("ER14250", 1, "E", 3.6, 14.5, 25.0),
    ("CR17345", 1, "C", 3.0, 17.0, 34.5),
    ("2CR5", 2, "C", 6.0, None, None),
    ("6F22", 6, "", 9.0, None, None),
    ("HR6", 1, "H", 1.2, 14.5, 50.5),
]


@pytest.mark.parametrize("row", MARKS, ids=lambda row: row[0])
def test_designations_are_read_letter_by_letter(row):
    mark, series, letter, volt, diameter, height = row

    value = read(mark).value

    assert (value.series, value.letter, value.nominal_volt) == (series, letter, volt)
    assert (value.diameter_millimetre, value.height_millimetre) == (diameter, height)


def test_small_letters_blanks_and_hyphens_do_not_matter():
    assert read(" cr-2032 ").value == read("CR2032").value


# The 24 is 24.5 mm; popular pages decode it as 24.0. Second-hand: m.maimaib2b.com.
def test_a_diameter_code_is_rounded_down_and_the_popular_reading_shown_as_wrong():
    answer = read("CR2450")

    assert answer.value.diameter_millimetre == 24.5
    assert any("24.0" in said for said in answer.working.disagreements)
    assert all(code <= real < code + 1 for code, real in DIAMETERS.items())


# The same pages differ about BR2032: 2.8 V (en.wikipedia.org/wiki/CR2032_battery) and 3.0 V.
def test_the_two_nominal_volts_of_letter_b_are_shown():
    assert any("2.8 V" in said for said in read("BR2032").working.disagreements)


# batterytools.net/button-cell-battery-chart lists a 3 V "LR2016" and 225 to 270 mAh for CR2025:
# both contradict all others (negative case).
def test_the_widely_copied_wrong_chart_is_caught():
    answer = read("LR2016", 3)

    assert answer.outcome is Outcome.WARN
    assert "contradicts" in answer.text
    assert "CR2016" in answer.text
    assert read("LR2016").outcome is Outcome.WARN
    assert any("225 to 270" in said for said in read("CR2025").working.disagreements)


@pytest.mark.parametrize(("mark", "volt"), [("CR2032", 3), ("6LR61", 9), ("SR44", 1.5)])
def test_printed_volts_that_fit_raise_no_doubt(mark, volt):
    assert read(mark, volt).outcome is Outcome.OK


def test_a_mercury_cell_is_said_to_be_withdrawn():
    assert "withdrawn" in read("MR44").text


@pytest.mark.parametrize("name", TRADE_NAMES)
def test_a_trade_name_is_refused_with_designations_that_are_read(name):
    with pytest.raises(BadInput) as refused:
        read(name)

    assert refused.value.code == "trade_name"
    assert all(read(mark).value.series for mark in TRADE_NAMES[name].split(", "))


@pytest.mark.parametrize("mark", ["AG13", "XR44", "CR", "R", "357", "0LR6", "99LR6", "LR6-LONGER"])
def test_what_is_no_designation_is_refused_at_its_field(mark):
    with pytest.raises(BadInput) as refused:
        read(mark)

    assert refused.value.field == "mark"


@given(st.sampled_from(sorted(DIAMETERS)), st.integers(10, 99))
def test_a_round_size_is_read_back_from_its_code(code, height):
    assert round_size(f"{code}{height}") == (DIAMETERS[code], height / 10)


@given(st.text(alphabet="CRLSEF0123456789 -NX", max_size=9))
def test_any_text_is_read_or_refused_at_its_field(text):
    try:
        value = read(text).value
    except BadInput as refused:
        value, field = None, refused.field
    else:
        field = "mark"

    assert field == "mark"
    assert value is None or value.nominal_volt > 0


def test_every_cell_of_the_table_with_a_designation_is_found_by_it():
    named = [cell for cell in CELLS if not cell.name.startswith("Ni")]

    for cell in named:
        value = read(cell.name.rpartition("x")[2]).value
        assert cell.name in value.in_table
        assert cell.nominal_volt == pytest.approx(cell.series * value.nominal_volt)
        assert OPEN_VOLT[cell.chemistry] == value.open_volt


# IEC 60086-2 least durations at 20 degrees (from memory): 15 kohm to 2.0 V 540, 920, 1300 h;
# 7.5 kohm 1200 h. Computed at a mean of 2.85 V: 103, 175, 247, 456 mAh.
@pytest.mark.parametrize(
    ("name", "least"), [("CR2025", 103), ("CR2032", 175), ("CR2430", 247), ("CR2450", 456)]
)
def test_the_standards_least_lies_well_under_the_printed_capacity_and_is_shown(name, least):
    assert standard_minimum_mah(name) == pytest.approx(least, abs=0.5)
    assert least < cell_named(name).capacity_mah[0]
    assert any(f"{least} mAh" in said for said in disagreements_of(cell_named(name)))
    assert set(STANDARD_TESTS) <= {cell.name for cell in CELLS}


# Lowest, typical and highest capacity seen, mAh, with the end volts of one cell. Second-hand unless
# marked: what-when-how.com p. 971, en.wikipedia.org/wiki/CR2032_battery, encyc.org/wiki/CR2032,
# components101.com, lr44batteryequivalents.com, batteryequivalents.com, aussiebattery.com,
# eudic.net SR44, classiccmp.org cctech 2016-February/015022; LR03 and FR6 from memory.
CAPACITIES = {
    "CR2025": (160, 165, 165, 2.0), "CR2032": (220, 225, 235, 2.0), "BR2032": (180, 190, 190, 2.25),
    "CR2430": (270, 280, 320, 2.0), "CR2450": (550, 600, 700, 2.0),
    "CR14250": (800, 900, 1000, 2.0), "2xLR6": (1800, 2500, 3200, 0.9),
    "2xLR03": (850, 1100, 1200, 0.9), "2xLR44": (110, 120, 160, 0.9),
    "2xSR44": (150, 165, 200, 1.2),
}  # fmt: skip


@pytest.mark.parametrize("name", CAPACITIES)
def test_the_cell_table_holds_the_ranges_seen(name):
    cell = cell_named(name)

    assert (*cell.capacity_mah, cell.end_volt) == CAPACITIES[name]
    assert cell.celsius is not None
