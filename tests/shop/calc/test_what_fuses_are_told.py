"""What is said beside a fuse, and verdicts on surges, bleeders and tests that had no check yet."""

import pytest

from shop.calc.registry import calculators, work_out
from shop.calc.working import Outcome


def answered(name, **more):
    """The calculator's example with some inputs changed; None takes an input out."""
    given = {**calculators()[name].example, **more}
    return work_out(name, {key: value for key, value in given.items() if value is not None})


def said_of(**more):
    return "\n".join(answered("fuses.scale", **more).working.cautions)


# IEC 60127-1, clause 6 (from memory): a marking tells current, characteristic and breaking letter.
@pytest.mark.parametrize(
    ("mark", "kind_missing", "letter_missing"),
    [("T80mAL250V", False, False), ("T80mA250V", False, True), ("80mA", True, True)],
)
def test_what_the_old_fuse_does_not_tell_is_asked_for(mark, kind_missing, letter_missing):
    said = said_of(old_mark=mark)

    assert ("Characteristic unknown" in said) is kind_missing
    assert ("Breaking capacity unknown" in said) is letter_missing


# UL 248-14 by a fuse-maker's guide (second-hand): 10 kA at 125 V; to 1 A, 35 A at 250 V.
def test_a_north_american_fuse_is_warned_of_its_smaller_breaking_capacity_at_250_volt():
    assert "35 A at 250 V" in said_of(old_mark="T1A", old_standard="ul")
    assert "at 250 V" not in said_of()


# Proposed here: the maker's marking always wins; more than a step away from the computed one warns.
@pytest.mark.parametrize(
    ("maker", "outcome", "is_told"),
    [("T160mAL250V", Outcome.OK, False), ("T200mAL250V", Outcome.OK, False),
     ("T250mAL250V", Outcome.WARN, True), ("T125mAL250V", Outcome.OK, False),
     ("T100mAL250V", Outcome.WARN, True)],
)  # fmt: skip
def test_the_makers_marking_holds_and_is_compared(maker, outcome, is_told):
    answer = answered("fuses.scale", maker_marking=maker)

    assert answer.text.startswith("The maker's marking holds")
    assert "T160mAL250V" in answer.text
    assert answer.outcome is outcome
    assert any("more than one step" in one for one in answer.working.cautions) is is_told
    assert answered("fuses.scale").text.startswith("Proposed fuse")


def test_only_a_north_american_rating_is_multiplied_before_it_is_scaled():
    # Second-hand: a UL fuse carries 75 % of its rating. 0.75 x 1 A x 230 V / 115 V = 1.5 A.
    american = answered("fuses.scale", old_mark="T1A", old_standard="ul")
    european = answered("fuses.scale", old_mark="T1AL250V")

    assert american.value.exact_milliampere == pytest.approx(1500)
    assert "0.75 ×" in american.working.lines[0].formula + american.working.lines[0].result
    assert "0.75" not in european.working.lines[0].formula + european.working.lines[0].result


# Derived: 20 A for 10 ms are 4 A²s, taken as a square; a T fuse is sure of (10 x rated)^2 x 20 ms,
# 2 I² (T L row from memory); the rest follows from the square of the rating.
@pytest.mark.parametrize(
    ("mark", "sure", "survives"), [("T1AL600V", 2.0, False), ("T1.6AL600V", 5.12, True),
                                   ("T2AL600V", 8.0, True)],
)  # fmt: skip
def test_a_fuse_survives_a_surge_by_the_square_of_its_rating(mark, sure, survives):
    answer = answered("fuses.inrush", mark=mark)
    other = answered("fuses.inrush", mark="T1AL600V").value.typical_ampere2_seconds

    assert answer.value.guaranteed_ampere2_seconds == pytest.approx(sure)
    assert answer.value.typical_ampere2_seconds == pytest.approx(other * sure / 2)
    assert answer.value.survives is survives
    assert ("survives" in answer.text) is survives
    assert ("may blow" in answer.text) is not survives


def test_the_sentence_on_a_surge_names_the_least_member_or_none():
    some = answered("fuses.inrush", mark=None)
    none = answered("fuses.inrush", mark=None, load_va=60_000.0)

    assert "1.6 A" in some.text
    assert none.value.least_member_ampere is None
    assert none.outcome is Outcome.NO_ANSWER


# Common practice, no source: only large toroids are given a limiter. 100 A is far beyond one.
def test_only_a_large_transformer_is_told_of_a_limiter():
    def told(**more):
        return any("NTC" in one for one in answered("fuses.inrush", **more).working.cautions)

    assert told(load_va=60_000.0, mark=None)
    assert not told()


# UL 248-14 and IEC 60127-2 (second-hand): 135 % opens the one within an hour, 210 % the other in
# half an hour; 75 % is the continuous load. Derived: 3 x 1.35 / 2.1 and 3 x 0.75 A.
def test_the_interval_runs_by_opening_current_and_by_continuous_load():
    to_iec = answered("fuses.ul_iec").value

    assert to_iec.interval_low_ampere == pytest.approx(3 * 1.35 / 2.1)
    assert to_iec.interval_high_ampere == pytest.approx(3 * 0.75)
    assert to_iec.pick_opens_ampere == pytest.approx(2 * 2.1)
    assert to_iec.is_inside is True


# Derived, P = V² / R, at the highest supply.
def test_the_usual_bleeders_watts_are_those_at_the_highest_supply():
    value = answered("discharge.plug", bleeder_ohm=None).value

    assert value.usual_ohm <= value.most_ohm
    assert value.usual_watt == pytest.approx(253**2 / value.usual_ohm)


# Derived, I = V / R: 400 V on 4.7 kohm are 85 mA.
@pytest.mark.parametrize(("most", "outcome"), [(0.08, Outcome.WARN), (0.0852, Outcome.OK)])
def test_a_discharge_harder_than_the_part_bears_warns(most, outcome):
    answer = answered("discharge.resistor", most_peak_a=most)

    assert answer.value.peak_a == pytest.approx(400 / 4700)
    assert answer.outcome is outcome
    assert ("harsh" in answer.text) is (outcome is Outcome.WARN)


# Derived: a two-pin cord on a class I unit has no earth to test.
@pytest.mark.parametrize(
    ("given", "outcome"),
    [({}, Outcome.OK), ({"two_pin_cord": True}, Outcome.WARN),
     ({"two_pin_cord": True, "protection_class": "II", "cord_length_m": None, "cord_mm2": None},
      Outcome.OK)],
)  # fmt: skip
def test_limits_of_a_class_one_unit_on_a_two_pin_cord_are_doubted(given, outcome):
    assert answered("safety.limits", **given).outcome is outcome


# The supply inside the good band needs no remark; outside it warns (bands proposed here).
@pytest.mark.parametrize(
    ("supply", "outcome"),
    [(230.0, Outcome.OK), (248.0, Outcome.WARN), (260.0, Outcome.REFUSE)],
)
def test_a_supply_is_placed_in_the_window_of_its_plate(supply, outcome):
    answer = work_out(
        "windings.window",
        {"plate_volt": 230.0, "plate_hz": [50.0], "target_hz": 50.0, "supply_volt": supply},
    )

    assert answer.value.supply_verdict is outcome
    assert answer.outcome is outcome
