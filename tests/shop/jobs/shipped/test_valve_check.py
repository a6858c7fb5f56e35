"""The valve check on an amplifier with two output valves, one of them told by its plate alone."""

import orjson
import pytest

from shop.jobs.errors import Gate
from tests.factories.core import ShopFactory
from tests.factories.working import verdicts_of, work_to_end
from tests.shop.jobs.shipped.files import take_in
from tests.shop.jobs.test_shipped_templates import FILES, a_repair, locks_of, start, step_of

pytestmark = pytest.mark.django_db
OUTPUT = {
    "type": "beam tetrode", "heater_volt": 6.3, "heater_ampere": 0.9, "heater_supply": "ac",
    "plate_volt": 430, "plate_max_watt": 19, "cathode_ohm": 10, "cathode_low_volt": 0.28,
    "cathode_high_volt": 0.38,
}  # fmt: skip
VALVES = [
    {"name": "V2", "type": "double triode", "heater_volt": 12.6, "heater_supply": "dc",
     "plate_volt": 250},
    {"name": "V3", **OUTPUT},
    {"name": "V4", **OUTPUT},
    {"name": "V5", "type": "rectifier", "heater_volt": 5},
]  # fmt: skip
RESERVOIRS = [{"name": "C1", "volt": 460, "farad": 0.000047, "bleeder_ohm": 220000}]


@pytest.fixture
def amplifier(db):
    ShopFactory()
    take_in("valve-check")
    return a_repair(use_at=("DE", 230, 50), valves=VALVES, reservoirs=RESERVOIRS)


def band(pack, id):
    found = step_of(pack, id)["band"]
    return found["low"], found["high"]


def test_each_heater_is_read_as_its_supply_is_within_a_tenth(amplifier, anna):
    # second-hand: tubecad.com/october2000/page26, oxide cathodes stand about 10 %
    _sheet, pack = start("valve-check", amplifier, anna)

    assert band(pack, "heater_dc.1") == (pytest.approx(11.34), pytest.approx(13.86))
    assert band(pack, "heater_ac.2") == (pytest.approx(5.67), pytest.approx(6.93))
    assert band(pack, "heater_ac.4") == (pytest.approx(4.5), pytest.approx(5.5))


def test_the_cathode_is_bounded_along_the_plate_by_what_it_may_burn(amplifier, anna):
    # by hand: 19 W at 430 V are 44.2 mA, 0.442 V over 10 ohm, more than the sheet's 0.38 V;
    # at 645 V they are 29.5 mA, 0.295 V
    _sheet, pack = start("valve-check", amplifier, anna)

    cathode = step_of(pack, "cathode.2")["band"]
    assert cathode["along"] == "plate.2"
    at = {round(plate): (low, high) for plate, low, high in cathode["points"]}
    assert at[430] == (0.28, 0.38)
    assert at[645] == (0.28, pytest.approx(0.2947, abs=2e-4))


def test_what_the_plate_burns_at_the_sheets_highest_volts_is_worked_out(amplifier, anna):
    # by hand: 0.38 V / 10 ohm = 38 mA; (430 - 0.38) V x 38 mA = 16.3 W, 86 % of 19 W
    _sheet, pack = start("valve-check", amplifier, anna)

    assert "16.3 W, 86 %" in step_of(pack, "burns.2")["text"]
    assert "38 mA" in step_of(pack, "burns.3")["text"]


def test_a_valve_without_a_cathode_resistor_on_the_sheet_is_told_by_its_plate(amplifier, anna):
    _sheet, pack = start("valve-check", amplifier, anna)

    ids = {step["id"] for step in pack["steps"]}
    assert band(pack, "plate_alone.1") == (pytest.approx(225), pytest.approx(275))
    assert {"cathode.1", "plate.1", "cathode.4", "plate.4", "plate_alone.4"} & ids == set()


def test_it_is_worked_to_the_end_on_a_sound_unit(amplifier, anna, ben):
    sheet, _pack = start("valve-check", amplifier, anna)

    assert work_to_end(sheet, anna, other=ben) == "passed"


@pytest.mark.parametrize(
    ("step", "typed"), [("heater_ac.2", "7.1"), ("cathode.3", "0.41"), ("plate.2", "480")]
)
def test_a_valve_that_is_off_fails_and_the_worksheet_with_it(amplifier, anna, ben, step, typed):
    sheet, _pack = start("valve-check", amplifier, anna)

    stage = work_to_end(sheet, anna, {step: typed}, other=ben)

    assert verdicts_of(sheet)[step] == "fail"
    assert stage == "failed"


def test_a_high_plate_makes_volts_fail_that_pass_at_the_sheets(amplifier, anna, ben):
    # by hand: at 560 V the maximum of 19 W is 33.9 mA, 0.339 V
    sheet, _pack = start("valve-check", amplifier, anna)

    work_to_end(sheet, anna, {"plate.2": "560", "cathode.2": "0.36", "cathode.3": "0.36"},
                other=ben)  # fmt: skip

    verdicts = verdicts_of(sheet)
    assert (verdicts["cathode.2"], verdicts["cathode.3"]) == ("fail", "pass")


@pytest.mark.parametrize(("step", "key"), [("bleeder", "open"), ("load", "open")])
def test_no_power_without_bleeders_or_without_a_load(amplifier, anna, ben, step, key):
    sheet, pack = start("valve-check", amplifier, anna)

    work_to_end(sheet, anna, {step: key}, other=ben)

    assert ("moved.1", step) in locks_of(sheet, pack)


def test_a_reservoir_that_kept_its_charge_locks_what_comes_after(amplifier, anna, ben):
    sheet, pack = start("valve-check", amplifier, anna)

    work_to_end(sheet, anna, {"dead-res_dead.1": "310"}, other=ben)

    assert verdicts_of(sheet)["dead-res_dead.1"] == "fail"
    assert ("clipped", "dead-res_dead.1") in locks_of(sheet, pack)


def test_power_on_waits_for_an_isolated_feed_and_a_second_person(amplifier, anna):
    amplifier.unit.model_sheet.hazards = ["high_voltage"]
    amplifier.unit.model_sheet.save(update_fields=["hazards"])

    sheet, pack = start("valve-check", amplifier, anna)
    work_to_end(sheet, anna, until="second-person")

    ids = [step["id"] for step in pack["steps"]]
    assert ids.index("strap_off") < ids.index("isolation") < ids.index("second-person")
    assert ids.index("second-person") + 1 == ids.index("line")
    assert ("moved.1", "second-person") in locks_of(sheet, pack)


def test_a_unit_without_valves_is_refused(amplifier, anna):
    amplifier.unit.model_sheet.valves = []
    amplifier.unit.model_sheet.save(update_fields=["valves"])

    with pytest.raises(Gate, match="names no valves"):
        start("valve-check", amplifier, anna)


def with_valves(repair, *valves):
    repair.unit.model_sheet.valves = [{"name": "V1", "type": "triode", **v} for v in valves]
    repair.unit.model_sheet.save(update_fields=["valves"])
    return repair


def test_a_sheet_that_is_half_filled_in_is_no_dead_end(amplifier, anna, ben):
    # without watts and cathode volts no reading at the cathode could ever pass
    half = {"heater_volt": 6.3, "plate_volt": 300, "cathode_ohm": 100}
    sheet, pack = start("valve-check", with_valves(amplifier, half), anna)

    assert step_of(pack, "cathode_alone.1")["band"] is None
    assert work_to_end(sheet, anna, other=ben) == "passed"


def test_a_cathode_whose_highest_volts_alone_are_known_is_judged_by_them(amplifier, anna):
    half = {"heater_volt": 6.3, "cathode_ohm": 100, "cathode_high_volt": 3}
    _sheet, pack = start("valve-check", with_valves(amplifier, half), anna)

    assert band(pack, "cathode_alone.1") == (None, 3)


def test_line_volts_that_nothing_uses_are_not_asked_for(amplifier, anna):
    (file,) = [file for file in FILES if file.stem == "valve-check"]

    assert "facts" not in orjson.loads(file.read_bytes())


def test_a_valve_amplifier_set_for_another_mains_is_not_plugged_in(amplifier, anna, ben):
    amplifier.unit.set_for_volt = 120
    amplifier.unit.save(update_fields=["set_for_volt"])
    sheet, pack = start("valve-check", amplifier, anna)

    work_to_end(sheet, anna, {"mains_setting": "other"}, other=ben)

    assert ("line", "mains_setting") in locks_of(sheet, pack)
