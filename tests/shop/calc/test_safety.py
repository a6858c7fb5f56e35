"""Limits of the safety check: each scheme's own figures, never another's."""

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome, Status

SCHEMES = ["en_50678", "iet_4", "iet_5", "asnzs_3760"]
KEYS = [
    "inspection", "protective_earth", "insulation", "protective_conductor_current",
    "touch_current", "polarity", "function",
]  # fmt: skip


def check(scheme, protection="I", **more):
    cord = {"cord_length_m": 3.0, "cord_mm2": 1.0} if protection == "I" else {}
    given = {"scheme": scheme, "protection_class": protection, **cord, **more}
    return work_out("safety.limits", given)


def by_key(answer):
    return {test.key: test for test in answer.value.tests}


def earth(scheme, metres, mm2):
    answer = check(scheme, cord_length_m=float(metres), cord_mm2=mm2)
    return by_key(answer)["protective_earth"].high


# userz.net/post/8a742dcf: 0.1 + 3 x 0.0195, printed 0.16 ohm.
def test_three_metres_of_one_square_millimetre_meet_the_published_iet_limit():
    assert earth("iet_4", 3, 1.0) == pytest.approx(0.1585, abs=0.0005)
    assert earth("iet_5", 3, 1.0) == pytest.approx(0.1585, abs=0.0005)


# EN 50678 / EN 50699 (second-hand: instrument manuals, manualsbrain.com 526744 p. 15).
def test_three_metres_of_1_5_square_millimetre_are_0_3_ohm_by_en():
    assert earth("en_50678", 3, 1.5) == 0.3


@pytest.mark.parametrize(
    ("metres", "ohm"),
    [(5, 0.3), (12.5, 0.4), (20, 0.5), (27.5, 0.6), (35, 0.7), (42.5, 0.8), (50, 0.9), (60, 1.0),
     (5.01, 0.4), (12.51, 0.5), (200, 1.0)],
)  # fmt: skip
def test_the_en_limit_follows_its_table(metres, ohm):
    assert earth("en_50678", metres, 1.5) == pytest.approx(ohm, abs=1e-12)


# EN 50699 (second-hand): computed cord resistance, smallest limit 0.1 ohm; IEC 60228 for r.
def test_thick_cords_have_the_computed_limit_by_en():
    assert earth("en_50678", 3, 2.5) == 0.1
    assert earth("en_50678", 25, 2.5) == pytest.approx(25 * 0.00798)


# Computed with IEC 60228 class 5.
@pytest.mark.parametrize(
    ("mm2", "ohms"),
    [
        (0.5, (0.139, 0.178, 0.217, 0.490)), (0.75, (0.126, 0.152, 0.178, 0.360)),
        (1.0, (0.120, 0.139, 0.159, 0.295)), (1.5, (0.113, 0.127, 0.140, 0.233)),
        (2.5, (0.108, 0.116, 0.124, 0.180)),
    ],
)  # fmt: skip
def test_the_iet_limit_follows_length_and_cross_section(mm2, ohms):
    found = [earth("iet_5", metres, mm2) for metres in (1, 2, 3, 10)]

    assert found == pytest.approx(ohms, abs=0.0006)


def test_asnzs_has_one_ohm_for_every_cord():
    assert {earth("asnzs_3760", metres, 0.75) for metres in (1, 20, 100)} == {1.0}


# EN 50678/50699, IET code of practice 4th and 5th edition, AS/NZS 3760 (all second-hand).
@pytest.mark.parametrize(
    ("scheme", "conductor", "touch"),
    [("en_50678", 3.5, 0.5), ("iet_4", 3.5, 0.25), ("iet_5", 5, 5), ("asnzs_3760", 5, 1)],
)
def test_currents_are_the_schemes_own(scheme, conductor, touch):
    found = by_key(check(scheme))

    assert found["protective_conductor_current"].high == conductor
    assert found["touch_current"].high == touch


@pytest.mark.parametrize(
    ("scheme", "kilowatt", "limit"),
    [("en_50678", 3.5, 3.5), ("en_50678", 6, 6), ("en_50678", 15, 10), ("iet_4", 0.5, 0.75),
     ("iet_4", 2, 1.5), ("iet_4", 10, 5), ("iet_5", 10, 5)],
)  # fmt: skip
def test_heating_units_have_limits_by_kilowatt(scheme, kilowatt, limit):
    found = by_key(check(scheme, heating_kw=float(kilowatt)))

    assert found["protective_conductor_current"].high == pytest.approx(limit)


def test_hand_held_units_are_stricter_by_the_fourth_edition_only():
    fourth = by_key(check("iet_4", is_hand_held=True))
    fifth = by_key(check("iet_5", is_hand_held=True))

    assert fourth["protective_conductor_current"].high == 0.75
    assert fifth["protective_conductor_current"].high == 5


@pytest.mark.parametrize(
    ("scheme", "protection", "kilowatt", "megohm"),
    [("iet_4", "I", 0, 1.0), ("iet_4", "I", 2, 0.3), ("iet_5", "II", 0, 2.0),
     ("iet_5", "III", 0, 0.25), ("en_50678", "I", 0, 1.0), ("en_50678", "I", 4, 0.3),
     ("en_50678", "II", 0, 2.0), ("asnzs_3760", "II", 0, 1.0), ("asnzs_3760", "I", 0, 1.0)],
)  # fmt: skip
def test_insulation_goes_by_scheme_class_and_heating(scheme, protection, kilowatt, megohm):
    found = by_key(check(scheme, protection, heating_kw=float(kilowatt)))

    assert found["insulation"].low == megohm
    assert found["insulation"].required


def test_figures_from_memory_say_so():
    found = by_key(check("en_50678"))

    assert found["insulation"].source.status is Status.FROM_MEMORY
    assert found["touch_current"].source.status is Status.SECOND_HAND


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("protection", ["0", "I", "II", "III"])
def test_every_class_lists_the_tests_in_the_order_they_are_made(scheme, protection):
    assert [test.key for test in check(scheme, protection).value.tests] == KEYS


@pytest.mark.parametrize("scheme", SCHEMES)
def test_no_limit_comes_from_another_scheme(scheme):
    names = {
        "en_50678": "EN 50",
        "iet_4": "edition 4",
        "iet_5": "edition 5",
        "asnzs_3760": "AS/NZS",
    }
    others = [name for key, name in names.items() if key != scheme]

    for protection in ("0", "I", "II", "III"):
        for test in check(scheme, protection).value.tests:
            assert not any(name in test.source.text for name in others)


def test_class_two_has_no_earth_and_no_protective_conductor_test():
    found = by_key(check("en_50678", "II"))

    assert not found["protective_earth"].required
    assert found["protective_earth"].high is None
    assert not found["protective_conductor_current"].required
    assert found["touch_current"].required


def test_class_zero_is_tested_by_touch_current_only_and_says_so():
    answer = check("en_50678", "0")
    measured = [
        test.key for test in answer.value.tests if test.required and test.quantity != "look"
    ]

    assert measured == ["touch_current"]
    assert answer.outcome is Outcome.WARN
    assert any("Class 0" in note for note in answer.value.notes)


def test_a_class_one_unit_with_a_two_pin_cord_is_told_to_be_class_zero():
    answer = check("iet_5", "I", two_pin_cord=True)

    assert answer.outcome is Outcome.WARN
    assert not by_key(answer)["protective_earth"].required


@pytest.mark.parametrize(
    ("plug", "ways"),
    [("C", 2), ("F", 2), ("A", 2), ("G", 1), ("B", 1), ("I", 1), (None, 2)],
)
def test_touch_current_is_taken_both_ways_round_where_the_plug_allows(plug, ways):
    found = by_key(check("en_50678", plug=plug))

    assert len(found["touch_current"].orientations) == ways
    assert len(found["protective_conductor_current"].orientations) == ways


def test_surge_parts_and_class_three_are_tested_with_250_volt():
    assert "500 V" in by_key(check("en_50678"))["insulation"].condition
    assert "250 V" in by_key(check("en_50678", has_surge_parts=True))["insulation"].condition
    assert "250 V" in by_key(check("en_50678", "III"))["insulation"].condition


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"scheme": "home_made"}, "scheme"),
        ({"scheme": ""}, "scheme"),
        ({"protection_class": "IV"}, "protection_class"),
        ({"cord_length_m": None}, "cord_length_m"),
        ({"cord_mm2": None}, "cord_mm2"),
        ({"cord_length_m": nan}, "cord_length_m"),
        ({"cord_length_m": -1.0}, "cord_length_m"),
        ({"heating_kw": inf}, "heating_kw"),
        ({"plug": "Z"}, "plug"),
    ],
)
def test_input_that_cannot_be_is_refused_at_its_field(change, field):
    given = {
        "scheme": "en_50678", "protection_class": "I", "cord_length_m": 3.0, "cord_mm2": 1.0,
        **change,
    }  # fmt: skip

    with pytest.raises(BadInput) as refused:
        work_out("safety.limits", given)

    assert refused.value.field == field


@given(st.sampled_from(SCHEMES), st.floats(0.1, 100), st.floats(0.1, 100))
def test_a_longer_cord_never_has_a_lower_earth_limit(scheme, one, other):
    short, long = sorted((one, other))

    assert earth(scheme, short, 1.5) <= earth(scheme, long, 1.5)
