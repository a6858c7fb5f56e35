"""Tolerance bands by standard, plug letters, and country names, each beside its source."""

import pycountry
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.supplies.names import name_of
from shop.calc.supplies.places import PLACES
from shop.calc.supplies.plugs import PLUGS
from shop.calc.supplies.standards import RULES, nominals_of
from shop.calc.working import BadInput, Outcome, Status

STANDARDS = sorted({rule.standard for rule in RULES})


def band(nominal, **more):
    return work_out("supplies.band", {"nominal_volt": nominal, **more})


def spans(nominal, standard, at="supply"):
    rows = band(nominal, standard=standard).value.rows
    return [(row.low_volt, row.high_volt) for row in rows if row.measured_at == at]


@pytest.mark.parametrize(
    ("nominal", "standard", "low", "high"),
    [
        # second hand: IEC 60038, en.wikipedia.org/wiki/IEC_60038
        (230, "iec_60038", 207, 253),
        # second hand: IEC 60038 amendment 2 (1997), same page
        (230, "former_220", 207, 243.8),
        (230, "former_240", 216.2, 253),
        # verified: ESQCR 2002 in a government letter, emc-pstc@listserv.ieee.org/msg57189
        (230, "uk", 216.2, 253),
        # second hand: Electricity Supply Regulations, claudelyons.co.uk article 130
        (240, "uk_before_1995", 225.6, 254.4),
        # second hand: AS 60038:2000 and Electrical (Safety) Regulations 2010 (NZ), scribd 352323801
        (230, "australia", 216.2, 253),
        (230, "new_zealand", 216.2, 243.8),
        # second hand: Electricity Business Act enforcement regulation, nikkeibp 20090408
        (100, "japan", 95, 107),
        (200, "japan", 182, 222),
        # verified: ANSI C84.1 range A in COMAR 20.50.07.02
        (120, "ansi_a", 114, 126),
        (240, "ansi_a", 228, 252),
        # from memory: ANSI C84.1 range B; IEC 60038:2009 annex A; RMA M8-210 (1940)
        (120, "ansi_b", 110, 127),
        (120, "iec_60038", 108, 132),
    ],
)
def test_the_supply_lies_between_the_limits_of_its_standard(nominal, standard, low, high):
    assert spans(nominal, standard) == [(low, high)]


# second hand: EN 50160, electrical-contractor.net/forums/ubbthreads.php/posts/135752.html
def test_the_european_network_has_a_wider_band_for_the_rest_of_the_week():
    rows = band(230, standard="en_50160").value.rows

    assert [(row.share_of_time, row.low_volt, row.high_volt) for row in rows] == [
        ("95 %", 207, 253),
        ("100 %", 195.5, 253),
    ]


# from memory: IEC 60038:2009 annex A (198 and 103 V), ANSI C84.1 utilization ranges
@pytest.mark.parametrize(
    ("nominal", "standard", "low", "high"),
    [(230, "iec_60038", 198, 253), (120, "iec_60038", 103, 132), (120, "ansi_a", 108, 126),
     (120, "ansi_b", 104, 127), (117, "rma_1940", 105.3, 128.7)],
)  # fmt: skip
def test_at_the_outlet_the_limits_are_lower_and_said_to_be_from_memory(
    nominal, standard, low, high
):
    answer = band(nominal, standard=standard)

    row = next(one for one in answer.value.rows if one.measured_at == "outlet")
    assert (row.low_volt, row.high_volt) == (low, high)
    assert row.source.status is Status.FROM_MEMORY


# derived: the limits are the percentages of the nominal value
@pytest.mark.parametrize(
    ("nominal", "standard", "low", "high"),
    [(230, "uk", -6, 10), (240, "uk_before_1995", -6, 6), (230, "iec_60038", -10, 10),
     (230, "new_zealand", -6, 6), (117, "rma_1940", -10, 10)],
)  # fmt: skip
def test_limits_stand_beside_their_percentages(nominal, standard, low, high):
    row = band(nominal, standard=standard).value.rows[0]

    assert (row.low_percent, row.high_percent) == pytest.approx((low, high), abs=0.01)


def test_without_a_standard_all_that_know_the_voltage_stand_side_by_side():
    answer = band(230)

    assert {"iec_60038", "uk", "australia", "new_zealand"} <= {
        row.standard for row in answer.value.rows
    }
    assert (answer.value.low_volt, answer.value.high_volt) == (195.5, 253)
    assert any("New Zealand 243.8 V" in said for said in answer.working.disagreements)


@pytest.mark.parametrize(
    ("measured", "outcome"),
    [(244.5, Outcome.OK), (253.0, Outcome.OK), (253.1, Outcome.WARN), (216.1, Outcome.WARN)],
)
def test_a_measured_value_is_compared_and_a_limit_lies_inside(measured, outcome):
    assert band(230, standard="uk", measured_volt=measured).outcome is outcome


def test_a_voltage_no_rule_knows_gets_a_proposed_band_and_says_so():
    answer = band(127)

    assert answer.outcome is Outcome.WARN
    assert (answer.value.low_volt, answer.value.high_volt) == pytest.approx((114.3, 139.7))
    assert answer.value.rows[0].source.status is Status.PROPOSED


def test_a_standard_asked_for_another_voltage_says_which_it_knows():
    with pytest.raises(BadInput, match="100 / 200 V") as refused:
        band(230, standard="japan")

    assert (refused.value.field, refused.value.code) == ("nominal_volt", "not_in_standard")


def test_laws_that_differ_are_named_beside_the_standard():
    american = " ".join(band(120, standard="ansi_a").working.disagreements)
    japanese = " ".join(band(100, standard="japan").working.disagreements)

    assert "113 to 127 V" in american
    assert "100 V ± 10 %" in japanese
    assert "216 to 252 V" in " ".join(band(240, standard="ansi_a").working.disagreements)


@given(st.sampled_from(STANDARDS), st.data())
def test_every_band_holds_its_nominal_value_and_its_crest_lies_above(standard, data):
    nominal = data.draw(st.sampled_from(nominals_of(standard)))

    value = band(nominal, standard=standard, measured_volt=nominal).value

    assert value.low_volt < nominal < value.high_volt < value.crest_volt
    assert all(row.contains_measured for row in value.rows)


# second hand: shapes and earth of A to D, M, cncords.com/3830; the rest from memory
@pytest.mark.parametrize(
    ("letter", "ampere", "volt", "earthed", "word"),
    [("A", 15, 125, False, "NEMA 1-15"), ("B", 15, 125, True, "NEMA 5-15"),
     ("C", 2.5, 250, False, "CEE 7/16"), ("D", 5, 250, True, "BS 546"),
     ("E", 16, 250, True, "CEE 7/5"), ("F", 16, 250, True, "CEE 7/4"),
     ("G", 13, 250, True, "BS 1363"), ("H", 16, 250, True, "SI 32"),
     ("I", 10, 250, None, "AS/NZS 3112"), ("J", 10, 250, True, "SEV 1011"),
     ("K", 16, 250, True, "DS 60884"), ("L", 10, 250, True, "CEI 23-50"),
     ("M", 15, 250, True, "BS 546"), ("N", 10, 250, True, "IEC 60906-1"),
     ("O", 16, 250, True, "TIS 166")],
)  # fmt: skip
def test_each_letter_is_described(letter, ampere, volt, earthed, word):
    plug = work_out("supplies.plug", {"letter": letter}).value.plug

    assert (plug.ampere, plug.volt, plug.is_earthed) == (ampere, volt, earthed)
    assert word in plug.text


def test_a_plug_foreign_to_a_country_is_warned_of():
    foreign = work_out("supplies.plug", {"letter": "G", "country": "US"})
    at_home = work_out("supplies.plug", {"letter": "G", "country": "gb"})

    assert (foreign.outcome, foreign.value.is_used_there) == (Outcome.WARN, False)
    assert "United States has other sockets" in foreign.text
    assert (at_home.outcome, at_home.value.is_used_there) == (Outcome.OK, True)


def test_a_plug_that_fits_both_ways_warns_about_the_neutral():
    said = " ".join(work_out("supplies.plug", {"letter": "F"}).working.cautions)

    assert "both ways round" in said


@pytest.mark.parametrize("letter", PLUGS)
def test_the_countries_of_a_letter_are_those_of_the_table(letter):
    found = work_out("supplies.plug", {"letter": letter}).value.places

    assert found == sorted(code for code in PLACES if letter in PLACES[code].plugs)


# verified: ISO 3166-1 as packaged by PyPI pycountry
def test_every_place_has_a_code_and_a_name_of_iso_3166():
    codes = {country.alpha_2 for country in pycountry.countries}

    assert set(PLACES) <= codes
    assert all(name_of(code) for code in PLACES)
    assert name_of("BO") == "Bolivia"
    assert name_of("XX") is None


@pytest.mark.parametrize(("code", "why"), [("XX", "unknown_country"), ("NR", "not_in_table")])
def test_no_country_and_a_country_without_figures_are_told_apart(code, why):
    with pytest.raises(BadInput) as refused:
        work_out("supplies.country", {"country": code})

    assert (refused.value.field, refused.value.code) == ("country", why)
