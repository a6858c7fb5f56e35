"""Windings on supplies that a tired tech misreads: each of these was answered wrongly once."""

import pytest

from shop.calc.registry import work_out
from shop.calc.working import Outcome

TWICE_115 = [
    {"name": "A", "start": "P1", "finish": "P2", "rated_volt": 115, "rated_ampere": 0.652},
    {"name": "B", "start": "P3", "finish": "P4", "rated_volt": 115, "rated_ampere": 0.652},
]
SUPPLY = {"target_hz": 50, "plate_hz": [50], "rated_va": 150}


@pytest.mark.parametrize(
    ("tap", "mains", "outcome"),
    [
        # derived: 100 %, 106.1 %, 120 %, 200 %, 87 %; the limits 1.06, 1.10 and 0.90 are proposed.
        (230, 230, Outcome.OK),
        (230, 244, Outcome.WARN),
        (100, 120, Outcome.REFUSE),
        (115, 230, Outcome.REFUSE),
        (230, 200, Outcome.WARN),
    ],
)
def test_a_unit_without_heaters_is_judged_by_its_line_too(tap, mains, outcome):
    given = {"tap_volt": tap, "mains_volt": mains}
    given["secondaries"] = [{"name": "HT", "rated_volt": 250}]

    assert work_out("windings.secondaries", given).outcome is outcome


def test_a_fine_core_does_not_hide_high_secondaries():
    # derived: 276 V at 60 Hz on a 230 V, 50 Hz plate is the same V/Hz, and 20 % more everywhere.
    given = {"plate_volt": 230, "plate_hz": [50], "target_volt": 276, "target_hz": 60}

    answer = work_out("windings.flux", given)

    assert answer.outcome is Outcome.OK
    assert any("+20.0 %" in said for said in answer.working.cautions)


def test_between_two_settings_the_nearest_is_not_called_the_highest_or_lowest():
    given = {"sections": TWICE_115, **SUPPLY}

    high = work_out("windings.for_supply", given | {"target_volt": 160})
    low = work_out("windings.for_supply", given | {"target_volt": 200})

    assert "the nearest setting is 115 V" in high.text
    assert "no setting is near enough: one of 230 V" in low.text


def test_the_flux_that_is_told_belongs_to_the_volts_that_are_told():
    # derived: 245 / 220 = 1.114; 230 / 220 would be 1.045.
    section = [{"name": "A", "start": "1", "finish": "2", "rated_volt": 220}]
    given = {"sections": section, "target_volt": 230, "measured_volt": 245, **SUPPLY}

    assert "245 V would be 1.11 times" in work_out("windings.for_supply", given).text


def test_a_setting_whose_copper_is_too_thin_is_not_passed_in_silence():
    # derived: two taps of 0.5 A in parallel at 100 V are 100 VA, the unit takes 120 VA.
    sections = [
        {"name": name, "start": f"{name}0", "finish": f"{name}120", "rated_volt": 120,
         "rated_ampere": 0.5, "taps": [{"terminal": f"{name}100", "volt": 100}]}
        for name in ("A", "B")
    ]  # fmt: skip
    given = {"sections": sections, **SUPPLY, "rated_va": 120}

    at_100 = work_out("windings.for_supply", given | {"target_volt": 100})
    at_240 = work_out("windings.for_supply", given | {"target_volt": 240})

    assert at_100.outcome is Outcome.WARN
    assert any("100 VA" in said and "120 VA" in said for said in at_100.working.cautions)
    assert at_240.outcome is Outcome.OK


def test_a_rounded_section_current_is_no_overload():
    given = {"sections": TWICE_115, **SUPPLY, "target_volt": 230}

    assert work_out("windings.for_supply", given).outcome is Outcome.OK


def test_a_window_says_what_it_thinks_of_the_supply_asked_about():
    given = {"plate_volt": 220, "plate_hz": [50], "target_hz": 50, "supply_volt": 245}

    answer = work_out("windings.window", given)

    assert answer.outcome is Outcome.REFUSE
    assert "245 V lies outside" in answer.text


def test_a_winding_in_the_mains_is_named_as_such():
    given = {"mains_volt": 245, "winding_volt": 12.6, "load_ampere": 2, "sense": "buck"}

    answer = work_out("windings.autotransformer", given)

    assert "carries all of the 2 A" in answer.text
    assert any("insulation" in said for said in answer.working.cautions)
    assert any("wrong sense" in said for said in answer.working.cautions)
