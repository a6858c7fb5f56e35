"""Markings, parts and plugs that a tired tech misreads: each of these was answered wrongly once."""

import pytest

from shop.calc.fuses.marking import read_mark
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome, Status


@pytest.mark.parametrize(
    ("mark", "milliampere"),
    [
        # common practice, no source: how North American caps are stamped.
        ("1/2A250V", 500),
        ("F1/2", 500),
        ("1-1/2A 125V", 1500),
        ("1 1/2 A 250V", 1500),
        ("6/10A", 600),
        ("3-2/10A125V", 3200),
        # derived: 187.5, 62.5 and 31.25 mA, never rounded up.
        ("3/16A", 187),
        ("1/16 A", 62),
        ("1/32A", 31),
    ],
)
def test_fractions_of_an_ampere_are_no_dozens_of_amperes(mark, milliampere):
    found = read_mark(mark, standard="ul")

    assert found.current_milliampere == milliampere


@pytest.mark.parametrize("mark", ["8/3A", "T2/250", "2/250", "12/12A"])
def test_a_slash_that_is_no_fraction_is_refused(mark):
    with pytest.raises(BadInput):
        read_mark(mark, standard="ul")


def test_a_slash_before_the_volts_is_no_fraction():
    assert read_mark("T160/250V").current_milliampere == 160
    assert read_mark("5/250V").rated_volt == 250


def test_a_ul_rating_taken_for_iec_is_not_sent_to_the_nearest_number():
    with pytest.raises(BadInput, match="UL rating"):
        read_mark("T3A250V")


def test_a_low_varistor_from_line_to_earth_does_not_stay():
    # Maker's FAQ (second-hand): at least 430 V at 1 mA to earth; a 150 V type has 240 V.
    given = {"nominal_volt": 120, "high_volt": 126, "is_line_to_earth": True}

    low = work_out("voltage_parts.varistor", given | {"fitted_volt": 150})
    right = work_out("voltage_parts.varistor", given | {"fitted_volt": 275})

    assert (low.outcome, low.value.verdict) == (Outcome.WARN, "replace")
    assert right.value.verdict == "keep"


def test_the_habit_of_130_volt_types_stands_beside_the_rule():
    answer = work_out("voltage_parts.varistor", {"nominal_volt": 120, "fitted_volt": 130})

    assert answer.value.verdict == "replace"
    assert any("130 or 150 V" in said for said in answer.working.disagreements)


def test_exempt_pins_are_not_called_discharged():
    # 0.1 uF without a bleeder on 253 V: sqrt(2) x 253 V = 358 V stay (derived).
    answer = work_out("discharge.plug", {"farad": 1e-7, "supply_volt": 253})

    assert "358 V" in answer.text


def test_nobody_is_told_to_short_pins_with_a_meter():
    answer = work_out("discharge.plug", {"farad": 1e-6, "supply_volt": 253})

    assert not any("short them with the meter" in said for said in answer.working.cautions)
    assert any("resistor" in said for said in answer.working.cautions)


def test_rules_seen_in_a_text_name_where():
    answer = work_out("discharge.plug", {"farad": 1e-6, "supply_volt": 253})

    seen = (Status.VERIFIED, Status.SECOND_HAND)
    rules = [one for one in answer.working.sources if one.status in seen]
    assert rules
    assert not any(one.at == "" or one.at.startswith("after") for one in rules)


def test_a_thick_long_cord_has_no_laxer_earth_limit_than_a_thin_one():
    # EN 50678 / 50699, second-hand: at most 1 ohm; 200 m of 1.6 mm2 would compute to 2.4 ohm.
    thick = {"scheme": "en_50678", "cord_length_m": 200, "cord_mm2": 1.6}

    assert work_out("safety.earth_limit", thick).value.limit_ohm == 1.0
    assert work_out("safety.earth_limit", thick | {"cord_length_m": 3}).value.limit_ohm == 0.1
