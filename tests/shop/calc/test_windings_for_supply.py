"""Setting a primary for a supply: links, voltages, verdicts, and reasons why it cannot be done."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome
from tests.shop.calc.test_windings import dual, section

HEATER = {"name": "heaters", "rated_volt": 6.3, "is_heater": True}


def set_for(volt, hertz, sections, **more):
    given = {
        "sections": sections, "target_volt": float(volt), "target_hz": float(hertz),
        "plate_hz": [50.0, 60.0], **more,
    }  # fmt: skip
    return work_out("windings.for_supply", given)


# Facts of the trade, common practice, no source: mains called 120 V measured at 118 V.
def test_a_series_unit_set_for_120_volt_is_judged_at_the_118_volt_measured():
    answer = set_for(
        120, 60, dual(), links_now=[["A1", "B0"]], measured_volt=118.0, secondaries=[HEATER],
        rated_va=150.0,
    )  # fmt: skip

    value = answer.value
    assert answer.outcome is Outcome.OK
    assert value.mode == "parallel"
    assert value.links_to_set == [["A0", "B0"], ["A1", "B1"]]
    assert value.links_to_remove == [["A1", "B0"]]
    assert value.line_volt == 118
    assert [one.volt for one in value.section_volts] == pytest.approx([118, 118])
    assert all(one.in_use for one in value.section_volts)
    assert value.secondaries[0].loaded_volt == pytest.approx(6.3 * 118 / 115)
    assert value.heater_verdict is Outcome.OK
    assert value.line_ampere == pytest.approx(1.304, abs=0.001)


def test_links_that_already_fit_are_neither_set_nor_removed():
    value = set_for(230, 50, dual(), links_now=[["B0", "A1"]]).value

    assert value.mode == "series"
    assert value.links_to_set == []
    assert value.links_to_remove == []


def test_the_phasing_test_of_a_pair_to_be_paralleled_reads_less_than_one_percent():
    tests = set_for(115, 60, dual()).value.phasing_tests

    assert [(test.kind, test.low, test.high) for test in tests] == [("parallel", 0.0, 0.01)]
    assert tests[0].joined == ["A0", "B0"]
    assert tests[0].read_terminals == ["A1", "B1"]


def test_the_phasing_test_of_a_series_pair_reads_the_sum():
    tests = set_for(230, 50, dual()).value.phasing_tests

    assert [test.kind for test in tests] == ["series"]
    assert tests[0].low < 2 < tests[0].high
    assert tests[0].read_terminals == ["A0", "B1"]


def test_a_single_120_volt_primary_cannot_be_set_for_230():
    answer = set_for(230, 50, [section("A", 120)])

    assert answer.outcome is Outcome.REFUSE
    assert not answer.value.can_be_converted
    assert "120 V" in answer.value.reason


def test_a_single_230_volt_primary_cannot_be_set_for_115():
    answer = set_for(115, 60, [section("A", 230)])

    assert answer.outcome is Outcome.REFUSE
    assert "no setting is near enough" in answer.value.reason


def test_a_60_hertz_unit_cannot_go_to_115_volt_50_hertz():
    answer = set_for(115, 50, [section("A", 115)], plate_hz=[60.0])

    assert answer.outcome is Outcome.REFUSE
    assert "50 Hz" in answer.value.reason
    assert answer.value.flux_ratio == pytest.approx(1.2)


def test_the_same_unit_with_50_and_60_hertz_on_its_plate_can():
    assert set_for(115, 50, [section("A", 115)]).outcome is Outcome.OK


def test_a_50_hertz_unit_on_60_hertz_has_less_flux():
    value = set_for(115, 60, [section("A", 115)], plate_hz=[50.0]).value

    assert value.flux_ratio == pytest.approx(5 / 6)
    assert value.can_be_converted


def test_heaters_more_than_ten_percent_off_stop_the_conversion():
    sections = [section("A", 240)]

    with_heater = set_for(220, 50, sections, measured_volt=215.9, secondaries=[HEATER])
    without = set_for(220, 50, sections, measured_volt=216.1, secondaries=[HEATER])

    assert not with_heater.value.can_be_converted
    assert without.value.heater_verdict is Outcome.WARN


def test_flux_is_judged_at_nominal_even_when_the_line_reads_low_today():
    value = set_for(230, 50, [section("A", 210)], measured_volt=220.0).value

    assert value.flux_ratio == pytest.approx(230 / 210)
    assert value.flux_verdict is Outcome.WARN


def test_a_higher_frequency_does_not_excuse_high_secondaries():
    answer = set_for(140, 60, [section("A", 120)], plate_hz=[50.0])

    assert answer.value.flux_ratio < 1
    assert answer.outcome is Outcome.REFUSE
    assert "+16.7 %" in answer.value.reason


@given(
    st.lists(st.sampled_from([100, 110, 115, 117, 120, 220, 240]), min_size=1, max_size=3),
    st.floats(90, 260),
    st.sampled_from([50.0, 60.0]),
    st.sampled_from([[50.0], [60.0], [50.0, 60.0]]),
    st.floats(0.9, 1.1),
)
def test_whatever_is_said_to_convert_stays_within_flux_voltage_and_heater_limits(
    rated, volt, hertz, plate, drift
):
    sections = [section(f"S{n}", one, 1.0) for n, one in enumerate(rated)]

    answer = set_for(
        volt, hertz, sections, plate_hz=plate, measured_volt=volt * drift, secondaries=[HEATER],
        rated_va=50.0,
    )  # fmt: skip

    value = answer.value
    assert value.can_be_converted == (answer.outcome is not Outcome.REFUSE)
    if value.can_be_converted:
        assert value.flux_ratio <= 1.10 + 1e-9
        assert abs(value.factor - 1) <= 0.10 + 1e-9
        assert max(value.line_volt, volt) <= value.rated_volt * 1.10 + 1e-6
    else:
        assert value.reason


def test_the_model_sheets_setting_is_taken_before_a_computed_one():
    sheet = {
        "name": "120 V", "supply_volt": 120.0, "links": [["A0", "B0"], ["A1", "B1"]],
        "line_terminals": ["B0", "B1"],
    }  # fmt: skip

    value = set_for(120, 60, dual(), model_sheet_settings=[sheet]).value

    assert value.from_model_sheet
    assert value.arrangement == "120 V"
    assert value.line_terminals == ["B0", "B1"]
    assert len(value.section_volts) == 2


def test_a_model_sheet_whose_links_would_short_is_passed_over_with_a_word():
    sheet = {
        "name": "120 V", "supply_volt": 115.0, "links": [["A0", "B1"], ["A1", "B0"]],
        "line_terminals": ["A0", "A1"],
    }  # fmt: skip

    answer = set_for(120, 60, dual(), model_sheet_settings=[sheet])

    assert not answer.value.from_model_sheet
    assert answer.outcome is Outcome.WARN
    assert any("circulating current" in caution for caution in answer.working.cautions)


def test_part_of_a_primary_is_only_used_where_its_power_is_known_to_suffice():
    sections = [section("A", 115, 1.0), section("B", 100, 1.0)]

    unknown = set_for(115, 60, sections)
    too_much = set_for(115, 60, sections, rated_va=150.0)
    enough = set_for(115, 60, sections, rated_va=100.0)

    assert "share of the power" in unknown.value.reason
    assert "115 VA of 150 VA" in too_much.value.reason
    assert enough.value.can_be_converted
    assert any("Not every section" in caution for caution in enough.working.cautions)


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"measured_volt": 12.0}, "measured_volt"),
        ({"measured_volt": float("nan")}, "measured_volt"),
        ({"links_now": [["A1", "Z9"]]}, "links_now[0]"),
        ({"links_now": [["A1"]]}, "links_now[0]"),
        ({"plate_hz": []}, "plate_hz"),
        ({"colour": 1}, "colour"),
    ],
)
def test_input_that_cannot_be_is_refused_at_its_field(more, field):
    with pytest.raises(BadInput) as refused:
        set_for(120, 60, dual(), **more)

    assert refused.value.field.startswith(field)


def test_every_answer_defers_to_maker_and_licensed_practice():
    cautions = " ".join(set_for(120, 60, dual()).working.cautions)

    assert "maker" in cautions
    assert "licensed practice" in cautions
    assert "phasing" in cautions
