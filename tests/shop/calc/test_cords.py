"""Cords, conductors and couplers against published tables."""

from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.conductors import AWG_SIZES, ohm_per_metre
from shop.calc.cords.core_colours import CORE_COLOURS
from shop.calc.cords.couplers import inlets_for, may_feed
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome


def cord(ampere, length=1.8, **more):
    return work_out("cords.required", {"rated_ampere": ampere, "length_m": length, **more})


# IEC 60335-1 table 11 (manualslib.mx 604986 p. 87) and the clause for cords up to 2 m
# (second-hand).
def test_7_5_ampere_over_1_8_metre_shows_both_rules():
    value = cord(7.5).value

    assert value.iec_mm2 == 1.0
    assert value.iec_short_mm2 == 0.75


def test_a_long_cord_has_no_short_clause():
    value = cord(7.5, length=3.0).value

    assert value.iec_mm2 == 1.0
    assert value.iec_short_mm2 is None


@pytest.mark.parametrize(
    ("ampere", "iec", "uk", "awg"),
    [(3.0, 0.75, 0.5, 18), (6.0, 0.75, 0.75, 18), (6.1, 1.0, 1.0, 18), (10.0, 1.0, 1.0, 18),
     (12.5, 1.5, 1.25, 16), (16.0, 1.5, 2.5, 14), (25.0, 2.5, 4.0, 12)],
)  # fmt: skip
def test_cross_sections_by_each_rule(ampere, iec, uk, awg):
    value = cord(ampere, length=5.0).value

    assert (value.iec_mm2, value.uk_mm2, value.awg_two_cores) == (iec, uk, awg)


def test_the_plugs_fuse_counts_when_it_is_larger_than_the_unit():
    value = cord(1.0, length=5.0, plug_fuse_ampere=13.0).value

    assert value.current_ampere == 13
    assert value.iec_mm2 == 1.5


def test_past_the_table_there_is_no_answer():
    assert cord(33.0).outcome is Outcome.NO_ANSWER


# IEC 60228 class 5 at 20 C (mycableengineering.com); correction of uecables.com/471: 0.833 at 70 C.
def test_conductor_resistance_and_its_rise_with_temperature():
    assert ohm_per_metre(1.5) == pytest.approx(0.0133)
    assert ohm_per_metre(1.0, 70) == pytest.approx(0.0195 / 0.833, rel=0.005)


# Computed: d = 0.127 mm x 92^((36 - n) / 39), r = 17.241 / area.
@pytest.mark.parametrize("size", AWG_SIZES, ids=lambda size: f"AWG {size.awg}")
def test_awg_sizes_follow_their_formula(size):
    area = 3.14159265 / 4 * (0.127 * 92 ** ((36 - size.awg) / 39)) ** 2

    assert size.square_millimetre == pytest.approx(area, rel=0.005)
    assert size.milliohm_per_metre == pytest.approx(17.241 / area, rel=0.005)


# IEC 60320-1 as AS/NZS 60320.1:2004 (accesscomms.com.au/reference/IEC320.htm): C14 ends at 70 C.
def test_a_class_one_unit_with_a_hot_inlet_needs_c16():
    assert inlets_for("I", 10, 90)[0].inlet == "C16"
    assert inlets_for("I", 10, 70)[0].inlet == "C14"


# netipedia.com IEC connector: C15 fits C14, C13 must not fit C16.
def test_a_hot_connector_may_feed_a_cool_inlet_and_never_the_reverse():
    assert may_feed("C15", "C14")
    assert not may_feed("C13", "C16")
    assert not may_feed("C7", "C14")


def test_a_class_two_unit_has_no_earth_core():
    value = cord(2.0, protection_class="II").value

    assert value.earth_core_mm2 is None
    assert value.inlets[0].inlet == "C8"


def test_old_colours_stand_beside_a_warning_to_measure():
    answer = cord(2.0)

    assert {"Germany, old", "North America"} <= {row.where for row in answer.value.core_colours}
    assert "Measure, never trust the colour" in answer.working.cautions[0]
    assert any(row.earth == "red" for row in CORE_COLOURS)


@pytest.mark.parametrize(
    ("change", "field"),
    [({"rated_ampere": nan}, "rated_ampere"), ({"rated_ampere": 0.0}, "rated_ampere"),
     ({"length_m": -1.0}, "length_m"), ({"protection_class": "V"}, "protection_class")],
)  # fmt: skip
def test_what_cannot_be_is_refused_at_its_field(change, field):
    with pytest.raises(BadInput) as refused:
        work_out("cords.required", {"rated_ampere": 1.0, "length_m": 2.0, **change})

    assert refused.value.field == field


@given(st.floats(0.01, 32), st.floats(0.01, 32))
def test_more_current_never_needs_a_thinner_cord(one, other):
    less, more = sorted((one, other))

    assert cord(less).value.iec_mm2 <= cord(more).value.iec_mm2
