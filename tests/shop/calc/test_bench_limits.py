"""Limits the job templates ask for: dead working, first power, winding readings, a cell swap."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.discharge.plug_pins import RULES
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome, Status


def dead(**fields):
    return work_out("discharge.dead", fields)


def test_the_plug_is_dead_by_the_strictest_rule():
    # verified: IEC 60335-1, 22.5 (an excerpt): 34 V; verified: IEC 60204-1, 6.2.4: 60 V
    value = dead().value

    assert value.plug_volt == 34
    assert all(rule.volt is None or value.plug_volt <= rule.volt for rule in RULES)


def test_a_reservoir_is_dead_below_what_the_standards_call_safe():
    # proposed: 50 V; verified: 60 V d.c. dry, IEC 61140 as excerpted in IEC 63044-3
    value = dead().value

    assert (value.reservoir_volt, value.live_volt) == (50, 60)


def test_in_a_damp_place_thirty_volts_are_the_limit():
    # verified: 30 V d.c. in other than dry places, IEC 61140 as excerpted in IEC 63044-3
    assert dead(is_damp=True).value.reservoir_volt == 30


def test_the_proving_source_is_up_to_a_tenth_above_the_bench():
    # proposed
    value = dead(bench_volt=120).value

    assert (value.proving_low_volt, value.proving_high_volt) == (12, 132)
    assert dead().value.proving_high_volt is None


def test_the_sources_of_dead_working_say_which_are_ours():
    sources = dead().working.sources

    assert any("50 V" in source.text and source.status is Status.PROPOSED for source in sources)


def first_power(**fields):
    return work_out("safety.first_power", {"scheme": "en_50678", **fields}).value


@pytest.mark.parametrize(
    ("scheme", "protection", "winding", "chassis"),
    [
        # from memory: EN 50678 class I 1 megohm, class II 2 megohm
        ("en_50678", "I", 2e6, 1e6),
        ("en_50678", "II", 2e6, 2e6),
        # second-hand: pswservices.co.uk/electrical-tests.asp, the same two
        ("iet_5", "I", 2e6, 1e6),
        # verified: studylib.net/doc/7587325, AS/NZS 3760 class II 1 megohm; floor of 2: proposed
        ("asnzs_3760", "II", 2e6, 1e6),
        # proposed: class III never reaches mains, its 0.25 megohm is not taken
        ("en_50678", "III", 2e6, 1e6),
    ],
)
def test_insulation_before_power_is_the_schemes_and_never_below_the_floor(
    scheme, protection, winding, chassis
):
    value = first_power(scheme=scheme, protection_class=protection)

    assert (value.primary_to_rest_ohm, value.mains_to_chassis_ohm) == (winding, chassis)


@pytest.mark.parametrize("fields", [{}, {"protection_class": "0"}])
def test_a_unit_of_unknown_or_no_class_is_judged_as_class_ii(fields):
    assert first_power(**fields).mains_to_chassis_ohm == 2e6


@pytest.mark.parametrize("scheme", ["en_50678", "iet_4", "iet_5", "asnzs_3760"])
@pytest.mark.parametrize("protection", ["I", "II"])
def test_it_is_never_weaker_than_the_check_before_hand_back(scheme, protection):
    cord = {"cord_length_m": 2, "cord_mm2": 0.75}
    tests = work_out(
        "safety.limits", {"scheme": scheme, "protection_class": protection, **cord}
    ).value.tests
    (insulation,) = [test for test in tests if test.key == "insulation"]

    value = first_power(scheme=scheme, protection_class=protection)

    assert value.mains_to_chassis_ohm >= insulation.low * 1e6


def test_an_unknown_scheme_is_named():
    with pytest.raises(BadInput) as refused:
        first_power(scheme="house")

    assert refused.value.field == "scheme"


def test_the_ohms_of_a_winding_leave_room_for_a_cold_and_a_hot_shop():
    # derived: copper at 10 and 40 °C against 20 °C by 1 / 254.5 per kelvin is 96 to 108 %
    value = work_out("windings.resistance_band", {"sheet_ohm": 100}).value

    assert (value.low_ohm, value.high_ohm) == (pytest.approx(80), pytest.approx(125))
    assert value.low_ohm < 100 * (234.5 + 10) / 254.5
    assert value.high_ohm > 100 * (234.5 + 40) / 254.5


def secondary(loaded, unloaded):
    given_ = {"loaded_volt": loaded, "unloaded_volt": unloaded}
    return work_out("windings.secondary_band", given_).value


def test_a_secondary_may_read_93_to_107_per_cent_unloaded():
    # proposed
    value = secondary(9, 10)

    assert (value.open_low_volt, value.open_high_volt) == (pytest.approx(9.3), pytest.approx(10.7))
    assert value.loaded_low_volt == pytest.approx(8.37)
    assert value.loaded_high_volt == pytest.approx(10.5)


@given(st.floats(1, 400), st.floats(0, 0.6))
def test_what_is_expected_lies_within_its_own_band(loaded, regulation):
    unloaded = loaded * (1 + regulation)

    value = secondary(loaded, unloaded)

    assert value.open_low_volt < unloaded < value.open_high_volt
    assert value.loaded_low_volt < loaded < value.loaded_high_volt


def test_a_loaded_winding_above_the_unloaded_is_sent_back():
    with pytest.raises(BadInput) as refused:
        secondary(11, 10)

    assert refused.value.field == "loaded_volt"


def test_a_phasing_test_is_judged_along_what_is_fed():
    # derived: two equal sections in series read twice the feed, 5 % either way
    value = work_out("windings.phasing_band", {"low": 1.9, "high": 2.1}).value

    assert value.points == [(1, 1.9, 2.1), (25, pytest.approx(47.5), pytest.approx(52.5))]
    # verified: 25 V a.c. is left without further protection in dry places, IEC 61140
    # as excerpted in IEC 63044-3
    assert value.feed_high_volt <= 25


def proof(**fields):
    return work_out("cells.proof", fields)


def test_ten_microamperes_into_a_primary_cell_are_the_limit():
    # second-hand: a cell maker's page on lithium thionyl chloride cells; for others proposed
    value = proof(cell="CR2032").value

    assert value.most_into_cell_ampere == pytest.approx(10e-6)


def test_above_that_the_swap_itself_is_refused():
    # one rule in two places: the limit of the reading is that of `cells.replacement`
    fields = {"cell": "CR2032", "is_old_rechargeable": False, "charge_path": "none_there"}
    limit = proof(cell="CR2032").value.most_into_cell_ampere * 1e6

    at, above = (
        work_out("cells.replacement", {**fields, "measured_reverse_ua": microampere}).outcome
        for microampere in (limit, limit * 1.01)
    )

    assert at is not Outcome.REFUSE
    assert above is Outcome.REFUSE


@pytest.mark.parametrize("memory", [None, 2.0, 1.5])
def test_the_pin_has_the_limits_of_the_retention(memory):
    drain = {"low_ua": 1, "high_ua": 2} | ({"memory_volt": memory} if memory else {})
    kept = work_out("cells.retention", {"cell": "CR2032", "drain": drain}).value

    value = proof(cell="CR2032", memory_volt=memory).value

    assert (value.pin_low_volt, value.pin_high_volt) == pytest.approx(kept.pin_volt)


def test_a_cell_below_what_the_memory_needs_is_refused():
    assert proof(cell="CR2032", memory_volt=4).outcome is Outcome.REFUSE


def test_an_unknown_cell_is_named():
    with pytest.raises(BadInput) as refused:
        proof(cell="CR1")

    assert refused.value.field == "cell"
