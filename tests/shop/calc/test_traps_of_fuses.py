"""Fuses that a tired tech takes for another: each of these was answered too kindly once."""

import pytest

from shop.calc.registry import work_out
from shop.calc.working import Outcome


@pytest.mark.parametrize(
    ("before", "after", "outcome"),
    [
        # derived: 4.5 % and 4.3 % off is a tap in use; 100 % and 50 % off is a wrong supply.
        (220, 230, Outcome.OK),
        (230, 240, Outcome.OK),
        (120, 240, Outcome.WARN),
        (230, 115, Outcome.WARN),
    ],
)
def test_a_winding_on_quite_another_supply_is_no_matter_of_its_fuse(before, after, outcome):
    given = {"old_volt": before, "new_volt": after, "old_mark": "T1AL250V"}

    answer = work_out("fuses.scale", given | {"primary_reconnected": False})

    warned = any("no matter of fuses" in said for said in answer.working.cautions)
    assert (answer.outcome, warned) == (outcome, outcome is Outcome.WARN)


def test_a_ul_fuse_that_stays_in_its_winding_is_not_read_as_an_iec_one():
    # UL 248-14 opens at 1.35, IEC 60127 at 2.1 times the number (second-hand).
    given = {"old_volt": 240, "new_volt": 120, "old_mark": "2A250V", "old_standard": "ul"}

    answer = work_out("fuses.scale", given | {"position": "winding"})

    assert answer.value.current_milliampere == 2000
    assert answer.outcome is Outcome.WARN
    assert any("2 A is a UL rating" in said for said in answer.working.cautions)


def test_a_proposal_past_the_5_by_20_sheets_is_a_warning():
    # IEC 60127-2: sheets end at 10 A (from memory).
    given = {"old_volt": 230, "new_volt": 115, "old_mark": "T10AL250V"}

    answer = work_out("fuses.scale", given)

    assert answer.outcome is Outcome.WARN
    assert any("end at 10 A" in said for said in answer.working.cautions)


@pytest.mark.parametrize(
    ("load", "is_sure"),
    [
        # derived from the gates, from memory: 80 mA is sure of (0.8 A)² 10 ms, 1.0 A² needed.
        ({"load_ampere": 0.04}, False),
        ({"load_ampere": 0.4}, True),
        # UL 248-14 (second-hand) knows no hold time at ten times the rating.
        ({"load_ampere": 1, "standard": "ul"}, False),
    ],
)
def test_the_load_and_the_inrush_calculators_agree_on_what_is_sure(load, is_sure):
    sized = work_out("fuses.for_load", load)

    assert sized.value.inrush_guaranteed is is_sure
    assert sized.outcome is (Outcome.OK if is_sure else Outcome.WARN)
    if load.get("standard") != "ul":
        mark = f"T{sized.value.pick_ampere:g}AL250V"
        judged = work_out("fuses.inrush", load | {"mark": mark})
        assert judged.value.survives is is_sure


def test_no_sheet_vouches_for_a_fuse_past_10_ampere():
    # IEC 60127-2 sheets end at 10 A (from memory); derived: 2 kVA on 100 V is 20 A.
    load = {"load_va": 2000, "mains_volt": 100, "inrush_times": 10}

    sized = work_out("fuses.for_load", load)
    least = work_out("fuses.inrush", {"load_va": 1000, "mains_volt": 230, "inrush_times": 40})

    assert (sized.outcome, sized.value.inrush_guaranteed) == (Outcome.WARN, False)
    assert least.outcome is Outcome.NO_ANSWER


def test_a_load_without_transformer_is_not_warned_of_its_inrush():
    given = {"load_ampere": 1.5, "is_transformer_primary": False}

    said = work_out("fuses.for_load", given).working.cautions

    assert not any("inrush" in one for one in said)


def test_times_from_memory_prove_no_survival():
    by_sheet = {"load_ampere": 0.5, "mark": "T2AH250V"}

    remembered = work_out("fuses.inrush", by_sheet)
    by_maker = work_out("fuses.inrush", by_sheet | {"melting_ampere2_seconds": 5})

    assert remembered.outcome is Outcome.WARN
    assert any("from memory" in said for said in remembered.working.cautions)
    assert by_maker.outcome is Outcome.OK


def test_a_large_toroid_by_its_current_is_told_of_soft_start():
    # A transformer maker's note (second-hand): from 1.5 kVA; 8.7 A x 230 V = 2 kVA.
    answer = work_out("fuses.inrush", {"load_ampere": 8.7, "mains_volt": 230})

    assert any("NTC" in said for said in answer.working.cautions)


def test_a_ceiling_is_not_worded_as_leave_to_fit():
    answer = work_out("fuses.ceiling", {"primary_ampere": 1.304})

    assert "no proposal" in answer.text


def test_no_sure_time_is_said_in_whole_words():
    quick = {"sheet": "2", "rated_ampere": 0.08, "current_ampere": 0.8}
    early = {"sheet": "3", "rated_ampere": 1, "current_ampere": 1.2}

    assert work_out("fuses.gates", quick).text == "0.8 A: no sure time to hold, open within 20 ms."
    assert "held at least 60 min, no sure time to open" in work_out("fuses.gates", early).text
