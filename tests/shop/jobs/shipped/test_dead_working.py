"""Dead working and discharge, on units whose reservoirs are known and on one nobody knows."""

import pytest

from shop.jobs.errors import Gate
from tests.factories.core import ShopFactory
from tests.factories.units import RepairFactory, UnitFactory
from tests.shop.jobs.shipped.bench_jobs import (
    HERE,
    a_repair,
    band_of,
    ids_of,
    locks_of,
    publish,
    read,
    start,
    step_of,
    verdicts_of,
    work_to_end,
)

pytestmark = pytest.mark.django_db
SLUG = "dead-working"


@pytest.fixture(autouse=True)
def shipped(db):
    ShopFactory()
    publish(SLUG)


def unknown_repair():
    unit = UnitFactory(model_sheet=None)
    return RepairFactory(unit=unit, stage="on_the_bench", set_for_volt=230, set_for_hz=50)


def test_it_is_worked_to_the_end(anna):
    sheet, _pack = start(SLUG, a_repair(use_at=HERE), anna)

    assert work_to_end(sheet, anna) == "passed"


def test_wait_and_resistor_of_a_valve_reservoir_by_hand(anna):
    # C2: 47 µF at 320 V, bleeder 220 kΩ. t = R C ln(V0/Vs) (resicalc.com) = 10.34 s x ln 6.4
    # = 19.2 s, x 1.5 x 1.2 for old parts = 34.5 s; R <= 5 s / (47 µF x ln 6.4) = 57.3 k: 56 k.
    _sheet, pack = start(SLUG, a_repair(use_at=HERE), anna)

    assert step_of(pack, "wait")["seconds"] == pytest.approx(34.5, abs=0.1)
    assert "56 kΩ" in step_of(pack, "res_resistor.2")["text"]
    # IEC 60335-1, 22.5: 34 V at the plug; 50 V on a reservoir is the bench's own rule
    assert band_of(pack, "plug_pins") == (-34, 34)
    assert band_of(pack, "res_dead.2") == (-50, 50)
    assert band_of(pack, "prove_before") == (12, pytest.approx(253))


def test_the_meter_is_proved_before_the_first_and_after_the_last_reading(anna):
    _sheet, pack = start(SLUG, a_repair(use_at=HERE), anna)

    ids = ids_of(pack)
    assert ids.index("prove_before") < ids.index("res_found.1")
    assert ids.index("res_again.2") < ids.index("prove_after")


def test_volts_that_are_left_hold_back_everything_after_them(anna):
    sheet, pack = start(SLUG, a_repair(use_at=HERE), anna)
    work_to_end(sheet, anna, until="res_dead.2")

    assert read(sheet, anna, "res_dead.2", "62").outcome == "applied"

    assert verdicts_of(sheet)["res_dead.2"] == "fail"
    assert ("prove_after", "res_dead.2") in locks_of(sheet, pack)
    assert read(sheet, anna, "prove_after", "230").outcome == "refused"


def test_a_unit_without_model_sheet_is_waited_for_blind_and_searched(anna):
    sheet, pack = start(SLUG, unknown_repair(), anna)

    ids = set(ids_of(pack))
    assert {"wait_blind", "any_found", "any_dead", "any_again"} <= ids
    assert not {"wait", "no_wait", "any_resistor"} & ids
    assert step_of(pack, "wait_blind")["seconds"] == 300  # our choice, `discharge.dead`
    assert work_to_end(sheet, anna) == "passed"


def test_its_resistor_is_worked_out_from_what_is_asked(anna):
    # a published case: 400 V, 470 µF in 5 s: 4.7 kΩ (resicalc.com)
    _sheet, pack = start(SLUG, unknown_repair(), anna, stored_volt="400", stored_farad="470u")

    assert "4.7 kΩ" in step_of(pack, "any_resistor")["text"]


def test_a_backup_cell_is_named_and_an_external_unit_has_no_plug(anna):
    _sheet, pack = start(SLUG, a_repair(use_at=HERE, supply_kind="external"), anna)

    assert "2xLR6" in step_of(pack, "sheet_cell")["title"]
    assert "plug_pins" not in ids_of(pack)


def test_a_unit_with_more_reservoirs_than_it_was_made_for_is_refused(anna):
    many = [{"name": f"C{n}", "volt": 25, "farad": 0.001, "bleeder_ohm": None} for n in range(13)]

    with pytest.raises(Gate, match="13 rows"):
        start(SLUG, a_repair(use_at=HERE, reservoirs=many), anna)


def test_the_meter_is_proved_on_the_range_it_reads_with_before_the_plug_is_touched(anna):
    # a meter left on a.c. reads nothing on a charged capacitor
    _sheet, pack = start(SLUG, a_repair(use_at=HERE), anna)

    ids = ids_of(pack)
    assert ids.index("prove_before") < ids.index("plug_pins")
    readings = {step["quantity"] for step in pack["steps"] if step["kind"] == "reading"}
    assert readings == {"voltage_dc"}


def test_volts_that_nobody_knew_of_are_discharged_by_what_was_read(anna):
    repair = a_repair(use_at=HERE, reservoirs=[])
    _sheet, known = start(SLUG, repair, anna, stored_volt="400", stored_farad="0.0001")
    _sheet, blind = start(SLUG, repair, anna)

    assert "any_by_reading" in ids_of(blind)
    assert "any_resistor" not in ids_of(blind)
    assert "any_resistor" in ids_of(known)
    assert "any_by_reading" not in ids_of(known)
    assert "50 V" in step_of(blind, "any_by_reading")["text"]
