"""Wire gauge, core colours and appliance couplers, each figure beside its source."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.conductors import awg_of_mm2, mm2_of_awg
from shop.calc.cords.core_colours import WORDS
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome


def gauge(**given):
    return work_out("cords.gauge", given)


def coupler(protection, ampere, celsius=70.0, **more):
    given = {"protection_class": protection, "rated_ampere": ampere, "pin_celsius": celsius, **more}
    return work_out("cords.coupler", given)


def colours(*cores):
    return work_out("cords.colours", {"cores": list(cores)})


# derived: d = 0.127 mm x 92^((36 - n) / 39), r = 17.241 / area.
# NEC table 400.5(A): two cores verified (bbs.angui.org/thread-1137-2-1.html), three from memory
@pytest.mark.parametrize(
    ("awg", "mm2", "milliohm", "two", "three"),
    [(18, 0.823, 20.95, 10, 7), (17, 1.04, 16.61, 12, 9), (16, 1.31, 13.17, 13, 10),
     (14, 2.08, 8.29, 18, 15), (12, 3.31, 5.21, 25, 20)],
)  # fmt: skip
def test_north_american_gauges_have_their_area_resistance_and_current(
    awg, mm2, milliohm, two, three
):
    value = gauge(awg=awg).value

    assert value.area_mm2 == pytest.approx(mm2, rel=0.005)
    assert value.milliohm_solid == pytest.approx(milliohm, rel=0.002)
    assert (value.nec_two_ampere, value.nec_three_ampere) == (two, three)


# second hand: IEC 60228 class 5 plain and tinned, mycableengineering.com; 1.25 mm² from memory
@pytest.mark.parametrize(
    ("mm2", "plain", "tinned"),
    [(0.5, 39.0, 40.1), (0.75, 26.0, 26.7), (1.0, 19.5, 20.0), (1.25, 15.6, None),
     (1.5, 13.3, 13.7), (2.5, 7.98, 8.21), (4.0, 4.95, None), (6.0, 3.30, None)],
)  # fmt: skip
def test_cords_have_the_resistance_of_their_table(mm2, plain, tinned):
    value = gauge(area_mm2=mm2).value

    assert value.milliohm_class_5 == pytest.approx(plain)
    assert value.milliohm_tinned == (None if tinned is None else pytest.approx(tinned))


# second hand: uecables.com/471, divisors at 30, 40, 50 and 70 °C
@pytest.mark.parametrize(
    ("celsius", "divisor"), [(30, 0.962), (40, 0.926), (50, 0.893), (70, 0.833)]
)
def test_warm_copper_has_more_resistance_as_published(celsius, divisor):
    value = gauge(area_mm2=1.5, core_celsius=float(celsius)).value

    assert value.milliohm_class_5 == pytest.approx(13.3 / divisor, rel=0.005)


# second hand: diynot.com/pages/el/el003.php (UK); darshancable.com/Y_flexible (maker).
# verified: IEC 60335-1 table 11 (manualslib.mx 604986 p. 87); up to 2 m second hand
@pytest.mark.parametrize(
    ("mm2", "uk", "iec", "short", "maker"),
    [(0.5, 3, None, 3, 4), (0.75, 6, 6, 10, 7), (1.0, 10, 10, 16, 12), (1.25, 13, None, None, None),
     (1.5, 15, 16, 16, 15), (2.5, 20, 25, 25, 20), (4.0, 25, 32, 32, 27)],
)  # fmt: skip
def test_each_table_allows_its_own_current_for_a_size(mm2, uk, iec, short, maker):
    value = gauge(area_mm2=mm2).value

    found = (value.uk_ampere, value.iec_ampere, value.iec_short_ampere, value.maker_ampere)
    assert found == (uk, iec, short, maker)


def test_a_size_between_two_rows_carries_what_the_thinner_does():
    value = gauge(area_mm2=0.9).value

    assert (value.uk_ampere, value.nec_two_ampere) == (6, 10)
    assert value.next_mm2 == 1.0


def test_a_load_beyond_every_table_is_warned_of_first():
    answer = gauge(awg=18, load_ampere=12.0)

    assert answer.outcome is Outcome.WARN
    assert "12 A is more than any" in answer.working.cautions[0]


def test_a_load_beyond_one_of_the_tables_is_warned_of():
    answer = gauge(area_mm2=0.75, load_ampere=8.0)

    assert answer.outcome is Outcome.WARN
    assert "8 A is more than some" in answer.working.cautions[0]


@pytest.mark.parametrize("given", [{}, {"awg": 18, "area_mm2": 0.75}])
def test_gauge_and_area_are_one_of_two(given):
    with pytest.raises(BadInput) as refused:
        gauge(**given)

    assert (refused.value.field, refused.value.code) == ("awg", "one_of_two")


@given(st.floats(0, 40))
def test_gauge_to_area_and_back_is_the_same(awg):
    assert awg_of_mm2(mm2_of_awg(awg)) == pytest.approx(awg, abs=1e-9)


@given(st.integers(0, 37))
def test_three_gauges_thicker_is_about_twice_the_area(awg):
    assert mm2_of_awg(awg) / mm2_of_awg(awg + 3) == pytest.approx(2.0, abs=0.01)


# second hand: IEC 60320-1 as AS/NZS 60320.1:2004, accesscomms.com.au/reference/IEC320.htm
@pytest.mark.parametrize(
    ("protection", "ampere", "celsius", "inlet"),
    [("II", 0.2, 70, "C2"), ("I", 2.5, 70, "C6"), ("II", 2.5, 70, "C8"), ("II", 6.0, 70, "C10"),
     ("I", 10.0, 70, "C14"), ("I", 10.0, 90, "C16"), ("I", 10.0, 120, "C16"),
     ("I", 10.0, 125, "C16A"), ("II", 10.0, 70, "C18"), ("I", 16.0, 70, "C20"),
     ("I", 16.0, 121, "C22"), ("II", 16.0, 70, "C24")],
)  # fmt: skip
def test_the_closest_inlet_is_wanted(protection, ampere, celsius, inlet):
    assert coupler(protection, ampere, celsius).value.wanted_inlet == inlet


def test_no_coupler_carries_more_than_16_ampere():
    assert coupler("I", 20.0).outcome is Outcome.NO_ANSWER
    assert coupler("II", 2.0, 90).outcome is Outcome.NO_ANSWER


# second hand: netipedia.com IEC connector
def test_a_cool_connector_must_not_feed_a_hot_inlet():
    hot = coupler("I", 10.0, inlet="C16", connector="C13")
    cool = coupler("I", 10.0, inlet="C14", connector="C15")

    assert (hot.outcome, hot.value.may_mate) == (Outcome.WARN, False)
    assert (cool.outcome, cool.value.may_mate) == (Outcome.OK, True)


def test_a_fitted_inlet_that_gets_too_hot_does_not_suffice():
    answer = coupler("I", 10.0, 90, inlet="C14")

    assert (answer.outcome, answer.value.inlet_suffices) == (Outcome.WARN, False)


def test_an_inlet_of_the_other_class_is_refused():
    with pytest.raises(BadInput) as refused:
        coupler("II", 1.0, inlet="C14")

    assert (refused.value.field, refused.value.code) == ("inlet", "other_class")


# second hand: C5, C7 7 A at 125 V, blog.stayonline.com; from memory: C13 15 A, C19 20 A
@pytest.mark.parametrize(
    ("protection", "ampere", "said"),
    [("I", 2.0, "C5: 2.5 A by IEC, 7 A"), ("II", 2.0, "C7: 2.5 A by IEC, 7 A"),
     ("I", 10.0, "C13: 10 A by IEC, 15 A"), ("I", 16.0, "C19: 16 A by IEC, 20 A")],
)  # fmt: skip
def test_north_american_ratings_stand_beside_those_of_iec(protection, ampere, said):
    assert any(said in one for one in coupler(protection, ampere).working.disagreements)


# second hand: electrical-contractor.net/forums/ubbthreads.php/posts/133586.html and
# mail-archive.com/emc-pstc@listserv.ieee.org/msg05030
@pytest.mark.parametrize(
    ("cores", "where", "line", "neutral", "earth"),
    [
        (("brown", "light_blue", "green_yellow"), "IEC", "brown", "light blue", "green/yellow"),
        (("black", "white", "green"), "North America", "black", "white", "green"),
        (("red", "black", "green"), "UK", "red", "black", "green"),
        (("grey", "black", "red"), "Germany", "grey", "black", "red"),
        (("blue", "grey", "black"), "Belgium", "blue", "grey", "black"),
        (("brown", "red", "grey"), "Netherlands", "brown", "red", "grey"),
        (("red", "grey", "black"), "Russia", "red", "grey", "black"),
        (("red", "grey", "yellow"), "Switzerland", "red", "grey", "yellow"),
    ],
)
def test_each_countrys_colours_are_read_as_it_meant_them(cores, where, line, neutral, earth):
    found = colours(*reversed(cores)).value.readings

    meant = [(one.line, one.neutral, one.earth) for one in found if one.where.startswith(where)]
    assert (line, neutral, earth) in meant


@pytest.mark.parametrize("where", ["Sweden", "Germany"])
def test_red_was_earth_in_some_countries(where):
    found = colours("red", "black", "grey").value

    assert any(one.earth == "red" and one.where.startswith(where) for one in found.readings)
    assert found.line_and_earth_unsure


def test_grey_was_earth_in_poland():
    found = colours("black", "white", "grey").value.readings

    assert any(one.earth == "grey" and one.where.startswith("Poland") for one in found)


def test_old_german_line_and_neutral_are_told_in_both_orders():
    answer = colours("black", "grey", "red")

    german = {one.line for one in answer.value.readings if one.where.startswith("Germany")}
    assert german == {"black", "grey"}
    assert any("Old German" in said for said in answer.working.disagreements)


PLAIN = [
    {"brown", "blue"}, {"brown", "light_blue"}, {"black", "white"},
    {"brown", "blue", "green_yellow"}, {"brown", "light_blue", "green_yellow"},
    {"black", "white", "green"}, {"black", "white", "green_yellow"},
]  # fmt: skip


@pytest.mark.parametrize("count", [2, 3])
def test_every_set_but_the_two_present_ones_must_be_measured(count):
    for cores in combinations(WORDS, count):
        answer = colours(*cores)

        assert answer.value.must_measure is (set(cores) not in PLAIN)
        assert (answer.outcome is Outcome.OK) is (set(cores) in PLAIN)
        assert any("never trust the colour" in said for said in answer.working.cautions)


def test_a_colour_named_twice_is_refused():
    with pytest.raises(BadInput, match="each colour once"):
        colours("black", "black")
