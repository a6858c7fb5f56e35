"""Rows of rated currents, member by member, and which member a load or a scaled fuse is given."""

from itertools import pairwise

import pytest

from shop.calc.fuses.gates import GATES
from shop.calc.fuses.series import ANY_IEC, R10_MILLIAMPERE, UL_MILLIAMPERE
from shop.calc.registry import work_out
from shop.calc.working import Outcome


def for_load(**given):
    return work_out("fuses.for_load", given)


# ISO 3, R10 and R20 (from memory): steps of 10^(1/10) and 10^(1/20), rounded by up to 1.5 %.
def test_members_rise_by_equal_steps():
    between = [member for member in ANY_IEC if member <= 10_000]

    assert R10_MILLIAMPERE[0] == 32
    assert R10_MILLIAMPERE[-1] == 20_000
    assert all(b / a == pytest.approx(10**0.1, rel=0.02) for a, b in pairwise(R10_MILLIAMPERE))
    assert all(b / a == pytest.approx(10**0.05, rel=0.02) for a, b in pairwise(between))


# Common practice, no source: ratings printed on North American fuses, fractions of an ampere too.
def test_north_american_members_are_the_printed_ones():
    printed = [
        1 / 32, 1 / 16, 0.063, 0.1, 1 / 8, 0.15, 3 / 16, 0.188, 0.2, 1 / 4, 0.3, 0.315, 3 / 8, 0.4,
        1 / 2, 0.6, 0.63, 0.7, 3 / 4, 0.8, 1, 1.25, 1.5, 1.6, 1.8, 2, 2.25, 2.5, 3, 3.15, 3.2, 3.5,
        4, 5, 6, 6.25, 6.3, 7, 8, 10, 12, 15, 20, 25, 30,
    ]  # fmt: skip

    assert list(UL_MILLIAMPERE) == [int(one * 1000 + 1e-9) for one in printed]


# Derived: the bands of one sheet of IEC 60127-2 are made of members, without gap or overlap.
def test_the_bands_of_a_sheet_follow_each_other():
    by_sheet = {}
    for gate in GATES:
        by_sheet.setdefault((gate.sheet, gate.kind), []).append(gate)

    for bands in by_sheet.values():
        for one in bands:
            assert one.low_milliampere in R10_MILLIAMPERE
            assert one.high_milliampere in R10_MILLIAMPERE
        for lower, upper in pairwise(sorted(bands, key=lambda one: one.low_milliampere)):
            place = R10_MILLIAMPERE.index(lower.high_milliampere)
            assert R10_MILLIAMPERE[place + 1] == upper.low_milliampere


# Derived: surge = k I sqrt(0.01 / 2). Ceilings of NEC table 450.3(B), second-hand
# (lornmac.com/lowVoltageTransformers.html): 300 % below 2 A, 167 % to 9 A, 125 % above.
@pytest.mark.parametrize(
    ("ampere", "times", "pick", "is_sure"),
    [
        (1.0, 25.0, 2.0, True),  # 1.77 A; 3 A at most
        (1.0, 28.0, 2.0, True),  # 1.98 A
        (1.0, 40.0, 2.5, False),  # 2.83 A would be 3.15, above 3 A
        (2.0, 25.0, 3.15, False),  # 3.54 A would be 4, above 3.34 A
        (10.0, 25.0, 12.5, False),  # 17.7 A would be 20, above 12.5 A
    ],
)
def test_a_primary_fuse_survives_the_surge_or_is_said_not_to(ampere, times, pick, is_sure):
    answer = for_load(load_ampere=ampere, inrush_times=times)

    said = [one for one in answer.working.cautions if "inrush" in one]
    assert answer.value.pick_ampere == pick
    assert answer.value.inrush_guaranteed is is_sure
    assert answer.outcome is (Outcome.OK if is_sure else Outcome.WARN)
    assert bool(said) is not is_sure


def test_a_load_that_is_no_transformer_gets_its_own_rating_and_no_doubt():
    answer = for_load(load_ampere=1.0, is_transformer_primary=False)

    assert answer.value.pick_ampere == 1.0
    assert answer.outcome is Outcome.OK


# Only a time-lag fuse is proven against a surge (ours, proposed).
def test_a_quick_fuse_is_never_said_to_survive_the_surge():
    given = {"load_ampere": 1.0, "characteristic": "F", "own_marking_says_f": True}

    answer = for_load(**given, inrush_times=5.0)

    assert answer.value.inrush_guaranteed is False
    assert answer.outcome is Outcome.WARN


# Derived: 1 A at a factor of 0.25 needs 4 A, above the 3 A of the ceiling.
def test_a_pick_above_the_ceiling_warns():
    answer = for_load(load_ampere=1.0, continuous_factor=0.25, is_transformer_primary=False)

    assert answer.value.pick_ampere == 4.0
    assert answer.value.ceiling_ampere == 3.0
    assert answer.outcome is Outcome.WARN


def test_past_the_row_nothing_is_picked():
    answer = for_load(load_ampere=25.0)

    assert answer.value.pick_ampere is None
    assert answer.outcome is Outcome.NO_ANSWER


# Second-hand, as cited by the calculator: UL fuses carry 75 %; -0.5 % per kelvin above 25 °C for
# time-lag and -0.2 % for quick types.
@pytest.mark.parametrize(
    ("given", "least"),
    [
        ({"standard": "ul"}, 1 / 0.75),
        ({"standard": "iec"}, 1.0),
        ({"ambient_celsius": 45.0}, 1 / 0.90),
        ({"ambient_celsius": 45.0, "characteristic": "F", "own_marking_says_f": True}, 1 / 0.96),
        ({"ambient_celsius": 5.0}, 1.0),  # cold never makes a smaller fuse
    ],
)
def test_what_is_left_out_of_the_factors_is_filled_in(given, least):
    assert for_load(load_ampere=1.0, **given).value.minimum_ampere == pytest.approx(least)


@pytest.mark.parametrize(("ampere", "has_more"), [(1.99, True), (2.0, False)])
def test_motor_control_is_for_less_than_two_ampere_only(ampere, has_more):
    value = for_load(load_ampere=ampere).value

    assert (value.motor_control_ceiling_ampere is not None) is has_more


# A fuse's volts: kept or raised, never lowered (IEC 60127-1, 6.1 from memory; classes are the
# printed ones: common practice, no source).
@pytest.mark.parametrize(
    ("mark", "new_volt", "volt"),
    [
        ("T1AL125V", 120, 250), ("T1AL250V", 115, 250), ("T1AL300V", 115, 300),
        ("T1AL350V", 115, 350), ("T1AL250V", 277, 300), ("T1AL250V", 400, 500),
    ],
)  # fmt: skip
def test_a_proposal_has_volts_enough_and_never_less_than_before(mark, new_volt, volt):
    given = {"old_mark": mark, "old_volt": 230.0, "new_volt": float(new_volt)}

    value = work_out("fuses.scale", given).value

    assert value.rated_volt == volt
    assert value.mark.endswith(f"{volt}V")


# IEC 60127-2, sheets 2 and 3: L breaks 35 A, or ten times the rating if that is more (second-hand).
@pytest.mark.parametrize(("mark", "breaks"), [("T1AL250V", 35), ("T2.5AL250V", 50)])
def test_a_proposal_tells_what_its_class_breaks(mark, breaks):
    given = {"old_mark": mark, "old_volt": 230.0, "new_volt": 115.0}

    assert work_out("fuses.scale", given).value.breaking_capacity_ampere == breaks
    assert work_out("fuses.parse", {"mark": "T6.3AL250V"}).value.breaking_capacity_ampere == 63
