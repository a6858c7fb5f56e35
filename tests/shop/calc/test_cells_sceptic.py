"""Cells at the bench where an answer could please more than it may, or be misread."""

import pytest

from shop.calc.registry import work_out
from shop.calc.working import Outcome


def retention(low, high, **more):
    drain = {"low_ua": low, "high_ua": high} | more
    return work_out("cells.retention", {"cell": "CR2032", "drain": drain})


def test_a_cell_does_not_keep_for_a_century_because_it_lies_in_the_cold():
    # Doubling every 10 K would make 160 years at -20 °C: the shelf life of the sheet is the most.
    given = {"shelf_years": 10, "spells": [{"share_percent": 100, "celsius": -20}]}

    assert work_out("cells.storage", given).value.years == pytest.approx(10)


def test_a_fast_memory_empties_a_coin_cell_in_days_and_the_answer_says_days():
    # By hand: 220 mAh / 0.25 mA is 880 h or 36.7 days, 235 mAh 39.2; a little less by its loss.
    assert retention(250, 250).text == "36 to 39 days"


def test_one_figure_is_not_told_as_a_span():
    assert retention(0.2, 0.2).text.startswith("10.0 years;")


def test_a_cell_past_its_shelf_limit_is_no_ok():
    answer = retention(5, 5, stored_years=12)

    assert answer.outcome is Outcome.WARN
    assert "past its shelf limit" in answer.text


def test_a_pack_on_a_board_that_does_not_charge_is_blocked_in_both_calculators():
    compared = work_out(
        "cells.compare",
        {"drain": {"low_ua": 1, "high_ua": 5}, "board_charges": False, "cells": ["NiCd3"]},
    )
    fitted = work_out(
        "cells.replacement",
        {"cell": "NiCd3", "is_old_rechargeable": False, "charge_path": "none_there"},
    )

    assert fitted.outcome is Outcome.REFUSE
    assert compared.value.candidates[0].is_blocked
    assert compared.outcome is Outcome.WARN


@pytest.mark.parametrize("cell", ["CR2032", "BR2032", "CR14250", "ER14250", "2xFR6"])
def test_every_lithium_cell_has_the_caution_of_lithium(cell):
    given = {"cell": cell, "is_old_rechargeable": True, "charge_path": "opened"}

    cautions = work_out("cells.replacement", given).working.cautions

    assert any("Never heat, open or short a lithium cell" in said for said in cautions)


def test_the_least_resistor_is_never_rounded_down():
    # By hand: (5.25 - 2.0) V / 9.99 mA = 325.3 ohm, so 325 ohm are too few.
    given = {
        "cell": "CR2032",
        "is_old_rechargeable": True,
        "charge_path": "diode_and_resistor",
        "diode": "silicon",
        "resistor_ohm": 325,
        "most_reverse_ma": 9.99,
    }

    assert "at least 326 ohm" in work_out("cells.replacement", given).text


def test_the_proof_shows_how_much_less_makers_allow_than_its_limit():
    # By hand: 1 % of 225 mAh over 5 x 8760 h is 0.0514 µA. The 1 % is from memory.
    working = work_out("cells.proof", {"cell": "CR2032"}).working

    assert any("0.05 µA" in said for said in working.disagreements)


def test_a_drain_measured_warm_is_not_called_less_at_the_hottest():
    answer = work_out("cells.drain", {"drop_volt": 0.04, "hottest_celsius": 15})

    assert answer.text == "4 µA as measured, already warmer than the hottest given."


def test_a_hold_up_of_a_hundredth_of_a_second_is_not_shown_as_none():
    given = {"farad": 1e-7, "from_volt": 3, "to_volt": 2, "current_a": 1e-5}

    assert work_out("cells.hold_up", given).text == "0.01 s"
