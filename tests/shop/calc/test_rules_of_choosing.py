"""Which of several wins, what is said where none does, and the cautions that go with it."""

from math import log

import msgspec
import pytest

from shop.calc.registry import work_out
from shop.calc.windings.choosing import candidates, choose
from shop.calc.windings.for_supply_input import ForSupplyIn
from shop.calc.working import Outcome
from tests.shop.calc.test_windings import dual, section


def asked(volt, sections, **more):
    given = {
        "sections": sections, "target_volt": float(volt), "target_hz": 60.0,
        "plate_hz": [60.0], **more,
    }  # fmt: skip
    return msgspec.convert(given, ForSupplyIn)


def chosen(given):
    return choose(given, candidates(given)).candidate


def sheet(name, volt, links, mains):
    return {"name": name, "supply_volt": volt, "links": links, "line_terminals": mains}


# Arithmetic: 115 V x 1 A = 115 VA against 115 V x 0.5 A = 57.5 VA.
@pytest.mark.parametrize("turned", [False, True])
def test_of_two_sections_with_the_same_volts_the_one_of_more_power_is_proposed(turned):
    sections = [section("A", 115, 0.5), section("B", 115, 1.0)][:: -1 if turned else 1]

    (part,) = [
        one for one in candidates(asked(115, sections))
        if one.rated_volt == 115 and not one.uses_all_sections
    ]  # fmt: skip

    assert part.sections_used == ["B"]
    assert part.available_va == pytest.approx(115.0)


# Proposed: the maker's own setting goes before ours, though ours would be as near and use more.
def test_a_setting_of_the_sheet_wins_over_a_computed_one_that_uses_more_copper():
    only_a = sheet("sheet's", 115.0, [], ["A0", "A1"])

    taken = chosen(asked(115, dual(), model_sheet_settings=[only_a]))

    assert (taken.name, taken.from_model_sheet) == ("sheet's", True)


def test_a_setting_of_the_sheet_wins_over_a_computed_one_that_is_nearer():
    tapped = [section("A", 120, 1.0, T=115)]
    whole = sheet("sheet's", 120.0, [], ["A0", "A1"])

    assert chosen(asked(115, tapped)).rated_volt == 115
    assert chosen(asked(115, tapped, model_sheet_settings=[whole])).name == "sheet's"


# Arithmetic: 109 V is 9 % above 100 V, and 9.2 % below 120 V; both lie within 90 to 110 %.
def test_all_sections_win_over_a_part_of_them_that_is_nearer():
    sections = [section("A", 100, 1.0), section("B", 20, 1.0)]

    taken = chosen(asked(109, sections, rated_va=50.0))

    assert (taken.rated_volt, taken.uses_all_sections) == (120, True)


# Arithmetic: 100 x 121 = 110^2, so both lie 10 % off; the higher one leaves the core less flux.
def test_of_two_settings_equally_near_the_one_of_more_turns_wins():
    taken = chosen(asked(110, [section("A", 121, 1.0, T=100)]))

    assert taken.rated_volt == 121


# Arithmetic: 100 x 400 = 200^2, one is half and one is twice what is asked for.
def test_of_two_misses_equally_near_the_one_of_more_turns_is_told():
    given = asked(200, [section("A", 400, 1.0), section("B", 100, 1.0)])

    found = choose(given, candidates(given))

    assert found.reason
    assert found.candidate.rated_volt == 400


@pytest.mark.parametrize(
    ("links", "mains", "uses_all"),
    [([], ["A0", "A1"], False), ([["A0", "B0"], ["A1", "B1"]], ["A0", "A1"], True)],
)
def test_a_setting_of_the_sheet_says_whether_every_section_is_live(links, mains, uses_all):
    given = asked(115, dual(), model_sheet_settings=[sheet("sheet's", 115.0, links, mains)])

    found = choose(given, candidates(given))

    assert found.candidate.from_model_sheet
    assert found.candidate.uses_all_sections is uses_all
    assert ("Not every section" in " ".join(found.warnings)) is not uses_all


# Common practice, no source: a primary cell must not be charged; and 3 V do not keep 5 V alive.
@pytest.mark.parametrize(
    ("drain", "board_charges", "why"),
    [({}, True, "charge a primary"), ({"memory_volt": 5.0}, False, "volts do not reach")],
)
def test_where_no_cell_can_be_fitted_none_is_called_the_longest(drain, board_charges, why):
    answer = work_out("cells.compare", {
        "drain": {"low_ua": 1.0, "high_ua": 5.0, **drain}, "board_charges": board_charges,
        "cells": ["CR2032", "CR2450"],
    })  # fmt: skip

    assert answer.outcome is Outcome.WARN
    assert answer.text == "None of these can be fitted as things are."
    assert all(why in one.reasons[0] for one in answer.value.candidates)


def test_a_cell_that_is_blocked_never_stands_before_one_that_fits():
    answer = work_out("cells.compare", {
        "drain": {"low_ua": 1.0, "high_ua": 5.0}, "board_charges": True,
        "cells": ["CR2032", "NiMH3"],
    })  # fmt: skip

    first, second = answer.value.candidates
    assert (answer.outcome, first.cell, second.is_blocked) == (Outcome.OK, "NiMH3", True)
    assert first.retention.low_years < second.retention.low_years
    assert answer.text.startswith("Longest between charges: ")


def part_checked(part, volt, **more):
    given = {"nominal_volt": volt, "hz": 50.0, "protection_class": "I", "parts": [part], **more}
    return work_out("voltage_parts.check", given).value.items[0]


# Proposed: a motor stands 10 % either way; 0.9 x 230 V = 207 V, 1.1 x 230 V = 253 V.
@pytest.mark.parametrize(
    ("volt", "verdict"),
    [(206.0, "replace"), (207.0, "check"), (230.0, "check"), (253.0, "check"), (254.0, "replace")],
)
def test_a_motor_stays_within_a_tenth_of_its_volts(volt, verdict):
    assert part_checked({"kind": "motor", "rated_volt": 230.0}, volt).verdict == verdict


# Published case, second hand (studylib.net/doc/25395895): 240 V, 60 V, 2 mA: 90 kohm, 0.36 W.
# By hand at 264 V: 204 V over 90 kohm is 0.4624 W.
def test_a_neons_resistor_has_the_published_heat_and_that_of_the_highest_supply():
    neon = {"kind": "neon", "maintain_volt": 60.0, "lamp_ampere": 0.002}

    numbers = part_checked(neon, 240.0, high_volt=264.0).numbers

    assert numbers["series_ohm"] == pytest.approx(90_000)
    assert numbers["watt"] == pytest.approx(0.36)
    assert numbers["watt_at_upper_limit"] == pytest.approx(0.4624)


# By hand: (240 - 65) V over 47 kohm is 3.72 mA, over 175 kohm 1 mA. A lamp of 0.8 mA may have a
# quarter more, 1 mA (proposed).
def test_the_current_of_a_fitted_neon_resistor_is_told_in_milliampere():
    neon = {"kind": "neon", "maintain_volt": 65.0, "lamp_ampere": 0.0008}

    low = part_checked({**neon, "resistance_ohm": 47e3}, 240.0)
    just = part_checked({**neon, "resistance_ohm": 175.1e3}, 240.0)
    over = part_checked({**neon, "resistance_ohm": 174.9e3}, 240.0)

    assert "3.72 mA" in low.reason
    assert low.numbers["current_with_fitted_milliampere"] == pytest.approx(3.723, abs=5e-4)
    assert (low.verdict, just.verdict, over.verdict) == ("replace", "keep", "replace")


# IEC 60062, second hand: C stands for 1992 and 2012, 5 for May. A model of 2005 that was repaired
# in 2010 can have neither.
def test_a_mark_that_no_year_fits_has_no_answer_and_says_why_each_goes():
    answer = work_out("date_codes.years", {
        "text": "C5", "rule": "{year_letter}{month_letter}", "not_after": 2010, "introduced": 2005,
    })  # fmt: skip

    reasons = {one.year: one.reason for one in answer.value.dropped}
    assert (answer.outcome, answer.text) == (Outcome.NO_ANSWER, "No year fits.")
    assert answer.value.years == []
    assert "before the model came out" in reasons[1992]
    assert "after the repair" in reasons[2012]


# Common practice, no source.
def test_measuring_a_drain_warns_of_losing_the_memory_and_of_reading_too_soon():
    said = work_out("cells.drain", {"drop_volt": 0.025}).working.cautions

    assert [words for words in ("Bridge the resistor", "back it up", "settles")
            if words not in " ".join(said)] == []  # fmt: skip


# Common practice, no source; 230 V is where supplies of 240 V were renamed (ESQCR 2002, AS 60038).
@pytest.mark.parametrize(("volt", "was_240"), [(230.0, True), (120.0, False), (100.0, False)])
def test_a_band_warns_of_the_live_outlet_and_at_230_volt_of_the_old_240(volt, was_240):
    said = " ".join(work_out("supplies.band", {"nominal_volt": volt}).working.cautions)

    assert "competent person" in said
    assert "probes made for mains" in said
    assert ("near 240 V" in said) is was_240


# ILAC-G24:2022, staircase method, from memory; the factors are proposed.
@pytest.mark.parametrize(
    ("checks", "months", "fails"),
    [([45.0, 101.0], 6.0, True), ([45.0, 100.0], 12.0, False), ([80.0, 80.0], 18.0, False),
     ([80.0, 81.0], 12.0, False)],
)  # fmt: skip
def test_a_meter_that_failed_has_its_earlier_readings_looked_at_again(checks, months, fails):
    answer = work_out("readings.calibration_interval", {"checks_percent": checks})

    assert answer.value.next_months == months
    assert answer.value.recheck_jobs is fails
    assert ("Look again at every reading" in " ".join(answer.working.cautions)) is fails


# Second hand: coin cells lose 1 % a year by makers' sheets, limits of up to 5 % are printed too.
# Computed: t = ln(1 + s F1) / s, F1 = 1000 C / (8760 I), each end with its own capacity and rate.
def test_self_discharge_is_a_band_and_each_end_of_the_answer_has_its_own():
    answer = work_out("cells.retention", {
        "cell": "CR2032", "drain": {"low_ua": 20.0, "high_ua": 20.0},
    })  # fmt: skip

    shown = {line.label: line.result for line in answer.working.lines}
    worst, best = (1000 * mah / (8760 * 20) for mah in answer.value.usable_mah)
    assert shown["self-discharge, per year"] == "0.010 – 0.050"
    assert answer.value.low_years == pytest.approx(log(1 + 0.05 * worst) / 0.05)
    assert answer.value.high_years == pytest.approx(log(1 + 0.01 * best) / 0.01)
