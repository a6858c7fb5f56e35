"""Supplies by country against the PyPI package fluids (MIT), whose table is only used here."""

from math import nan

import pytest
from fluids.pump import residential_power

from shop.calc.registry import work_out
from shop.calc.supplies.bands import BANDS
from shop.calc.supplies.differences import DIFFERENCES
from shop.calc.supplies.places import PLACES
from shop.calc.working import BadInput, Outcome, Status

PACKAGE = {code.upper(): row for code, row in residential_power.items() if row.voltage}
SHARED = sorted(set(PLACES) & set(PACKAGE))


def country(code, **more):
    return work_out("supplies.country", {"country": code, **more})


def strictly_equal(code):
    ours, theirs = PLACES[code], PACKAGE[code]
    return (
        ours.volts == (float(theirs.voltage),)
        and ours.hertz == (float(theirs.freq),)
        and set(ours.plugs) == {letter.upper() for letter in theirs.plugs}
    )


def test_the_table_has_137_places():
    assert len(PLACES) == 137


@pytest.mark.parametrize("code", SHARED)
def test_the_package_lies_within_our_lists(code):
    ours, theirs = PLACES[code], PACKAGE[code]

    assert any(abs(volt - theirs.voltage) <= 10 for volt in ours.volts)
    assert theirs.freq in ours.hertz
    assert {letter.upper() for letter in theirs.plugs} & set(ours.plugs)


# Of the 25 places where the two data sets differ, seven carry the package's own value here.
PACKAGE_TAKEN = {"AZ", "BY", "LT", "PA", "RU", "TR", "UA"}


def test_exactly_the_places_said_to_differ_are_exceptions_to_strict_equality():
    unequal = {code for code in SHARED if not strictly_equal(code)}
    said = {place for place, _field, _one, _other in DIFFERENCES}

    assert len(said) == 25
    assert unequal == said - PACKAGE_TAKEN
    assert {code for code, place in PLACES.items() if place.agreement == "differ"} == said


def test_every_difference_names_the_packages_own_value():
    for code, field, one, _other in DIFFERENCES:
        theirs = PACKAGE[code]
        value = {
            "volt": f"{theirs.voltage:g}",
            "hertz": f"{theirs.freq:g}",
            "plugs": "".join(sorted(letter.upper() for letter in theirs.plugs)),
        }[field]
        assert value == one, code


def test_places_of_a_single_data_set_are_not_in_the_package():
    alone = {code for code, place in PLACES.items() if place.agreement == "one"}

    assert alone == set(PLACES) - set(PACKAGE)


# IEC 60038 (second-hand), ESQCR 2002, AS 60038:2000, Electrical (Safety) Regulations 2010 (NZ),
# Electricity Business Act enforcement regulation (JP), ANSI C84.1 range A (COMAR 20.50.07.02).
@pytest.mark.parametrize(
    ("code", "nominal", "low", "high"),
    [("DE", 230, 207, 253), ("GB", 230, 216.2, 253), ("AU", 230, 216.2, 253),
     ("NZ", 230, 216.2, 243.8), ("JP", 100, 95, 107), ("US", 120, 114, 126)],
)  # fmt: skip
def test_national_limits(code, nominal, low, high):
    value = country(code).value

    assert value.nominal_volt == nominal
    assert (value.low_volt, value.high_volt) == pytest.approx((low, high), abs=0.1)


# dev-www.diynot.com/diy/threads/supply-voltage-irregular-cyprus.31268 (prints 254.5):
# 240 V ± 6 %; ESQCR 2002; IEC 60038.
def test_ranges_follow_from_their_percentages():
    old, new, wide = BANDS["UK_BEFORE_1995"], BANDS["UK"], BANDS["EU"]

    assert (old.low_volt, old.high_volt) == pytest.approx((240 * 0.94, 240 * 1.06), abs=0.1)
    assert (new.low_volt, new.high_volt) == pytest.approx((230 * 0.94, 230 * 1.10), abs=0.1)
    assert (wide.low_volt, wide.high_volt) == pytest.approx((230 * 0.9, 230 * 1.1), abs=0.1)


def test_a_country_without_a_known_band_has_a_proposed_one_and_says_so():
    value = country("AR").value

    assert (value.low_volt, value.high_volt) == (198, 242)
    assert value.supplies[0].source.status is Status.PROPOSED


def test_barbados_is_115_volt_at_50_hertz_and_warns_about_flux():
    answer = country("BB")

    assert answer.outcome is Outcome.WARN
    assert (answer.value.nominal_volt, answer.value.hz) == (115, 50)
    assert any("flux" in caution for caution in answer.working.cautions)


def test_a_country_with_two_voltages_needs_a_choice():
    open_answer = country("BR")
    chosen = country("BR", nominal_volt=220.0)

    assert open_answer.value.nominal_volt is None
    assert (open_answer.value.low_volt, open_answer.value.high_volt) == pytest.approx((114.3, 242))
    assert chosen.value.nominal_volt == 220
    assert chosen.value.low_volt == 198


@pytest.mark.parametrize("called", [110.0, 115.0, 117.0])
def test_an_everyday_name_finds_its_nominal_voltage_and_says_so(called):
    answer = country("US", nominal_volt=called)

    assert answer.outcome is Outcome.WARN
    assert answer.value.nominal_volt == 120
    assert answer.value.high_volt == 126
    assert any(f"Called {called:g} V" in caution for caution in answer.working.cautions)


def test_japan_has_two_frequencies_and_a_disagreement_about_its_tolerance():
    answer = country("jp")

    assert answer.value.hz is None
    assert answer.value.frequencies == [50, 60]
    assert any("101 ± 6 V" in said for said in answer.working.disagreements)
    assert country("JP", hz=60.0).value.hz == 60


def test_australia_and_new_zealand_disagree_and_it_is_said():
    assert country("AU").working.disagreements == country("NZ").working.disagreements
    assert country("AU").value.high_volt != country("NZ").value.high_volt


def test_plugs_are_described():
    plugs = {plug.letter: plug for plug in country("CH").value.plugs}

    assert set(plugs) == {"C", "J"}
    assert plugs["C"].fits_both_ways
    assert plugs["C"].is_earthed is False


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"country": "XX"}, "country"),
        ({"country": "Germany"}, "country"),
        ({"country": ""}, "country"),
        ({"country": "DE", "nominal_volt": 120.0}, "nominal_volt"),
        ({"country": "DE", "nominal_volt": nan}, "nominal_volt"),
        ({"country": "DE", "hz": 60.0}, "hz"),
        ({"country": "JP", "nominal_volt": 108.0}, "nominal_volt"),
    ],
)
def test_what_a_country_does_not_have_is_refused_at_its_field(given, field):
    with pytest.raises(BadInput) as refused:
        work_out("supplies.country", given)

    assert refused.value.field == field


def test_every_place_answers_with_finite_limits_around_its_voltages():
    for code, place in PLACES.items():
        value = country(code).value
        assert 0 < value.low_volt < min(place.volts) <= max(place.volts) < value.high_volt
