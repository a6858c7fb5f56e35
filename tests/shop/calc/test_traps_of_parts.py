"""Parts, plates and supplies that a tired tech misreads: each was answered too kindly once."""

import pytest

from shop.calc.registry import work_out
from shop.calc.working import Outcome

# derived: 2 pi 50 Hz 10 nF 253 V = 0.795 mA, above the 0.5 mA of EN 50678 (second-hand).
TEN_NANO = {"supply_volt": 253, "hz": 50, "neutral_farad": 1e-8, "protection_class": "II"}


def test_a_capacitor_on_the_neutral_counts_in_a_socket_wired_wrong():
    one_way = work_out("safety.touch_current", TEN_NANO | {"scheme": "en_50678", "plug": "G"})
    both_ways = work_out("safety.touch_current", TEN_NANO | {"scheme": "en_50678", "plug": "C"})

    assert one_way.outcome is both_ways.outcome is Outcome.WARN
    assert any("0.795 mA" in said for said in one_way.working.cautions)
    assert not any("wrong way" in said for said in both_ways.working.cautions)


def test_a_lax_scheme_does_not_silence_a_current_that_is_felt():
    # IET edition 5 (second-hand): 5 mA for all; other schemes 0.25 to 1 mA.
    answer = work_out("safety.touch_current", TEN_NANO | {"scheme": "iet_5", "plug": "C"})

    assert answer.value.within_limit
    assert any("is felt" in said for said in answer.working.cautions)


@pytest.mark.parametrize(
    ("fuse", "said"),
    [
        # NEC 450.3(B), second-hand: 300 % of 1.304 A is 3.9 A.
        ("T10AL250V", "above any building practice"),
        ("T1AL250V", "below the line current"),
        ("T2AL250V", ""),
    ],
)
def test_a_plate_does_not_carry_a_fuse_far_from_its_current(fuse, said):
    given = {"nominal_volt": 115, "hz": [60], "rated_va": 150, "line_ampere": 1.304}

    answer = work_out("voltage_parts.rating_plate", given | {"fuse_mark": fuse})

    assert answer.outcome is (Outcome.WARN if said else Outcome.OK)
    assert (said in " ".join(answer.value.faults)) if said else answer.value.faults == []


def test_a_plate_asks_for_the_volts_of_its_fuse():
    given = {"nominal_volt": 230, "hz": [50], "rated_va": 150, "fuse_mark": "T800mA"}

    assert work_out("voltage_parts.rating_plate", given).value.missing == ["the fuse's volts"]


@pytest.mark.parametrize("volt", [117, 120, 230])
def test_checklist_and_calculator_say_the_same_of_a_rear_outlet(volt):
    alone = work_out("voltage_parts.rear_outlet", {"old_volt": 117, "new_volt": volt})
    listed = work_out(
        "voltage_parts.check",
        {"nominal_volt": volt, "hz": 60, "old_nominal_volt": 117,
         "parts": [{"kind": "rear_outlet"}]},
    )  # fmt: skip

    assert listed.value.items[0].verdict == alone.value.verdict


def test_the_checklist_names_parts_in_words():
    given = {"nominal_volt": 230, "hz": 50, "parts": [{"kind": "line_to_chassis_capacitor"}]}

    labels = [line.label for line in work_out("voltage_parts.check", given).working.lines]

    assert not any("_" in label for label in labels)


def test_a_transformer_without_any_link_is_told_so():
    given = {"sections": ["A", "B"], "linked": [], "connection": "series"}

    answer = work_out("voltage_parts.thermal_link", given)

    assert answer.text == "Without a thermal link: A, B."
    assert not any("In parallel" in said for said in answer.working.cautions)
    assert any("fuse alone" in said for said in answer.working.cautions)


def test_limits_are_shown_with_three_digits():
    lines = work_out("supplies.band", {"nominal_volt": 120}).working.lines

    assert not any("14.167" in line.result for line in lines)


@pytest.mark.parametrize("country", ["CY", "PH", "TH"])
def test_a_country_whose_nominal_is_disputed_is_a_warning(country):
    # from memory: 230 V is the nominal there, which the data sets do not say.
    answer = work_out("supplies.country", {"country": country})

    assert answer.outcome is Outcome.WARN
    assert any("230 V" in said for said in answer.working.cautions)


@pytest.mark.parametrize(
    ("load", "outcome"),
    # IEC 60335-1 table 11: 1.0 mm2 to 10 A; to 16 A up to 2 m by a clause (second-hand).
    [(9, Outcome.OK), (12, Outcome.WARN), (17, Outcome.WARN)],
)
def test_a_cord_that_leans_on_the_short_clause_says_so(load, outcome):
    answer = work_out(
        "cords.marking", {"marking": "H05VV-F 3G1.0", "load_ampere": load, "length_m": 1.8}
    )

    assert answer.outcome is outcome
    assert any("16 A by the clause" in said for said in answer.working.cautions)


def test_a_class_is_not_stated_without_the_doubt_about_it():
    # IEC 61140, second-hand: class I is an earth that reaches the metal.
    seen = {"is_fed_by_mains": True, "has_earth_core": True}

    answer = work_out("safety.protection_class", seen)

    assert answer.outcome is Outcome.WARN
    assert "the earth is not measured yet" in answer.text


def test_a_case_without_metal_to_touch_is_doubted_and_tested_as_class_0():
    seen = {"is_fed_by_mains": True, "has_earth_core": False, "has_touchable_metal": False}

    answer = work_out("safety.protection_class", seen)

    assert answer.value.protection_class == "0"
    assert "no metal to touch" in answer.text
