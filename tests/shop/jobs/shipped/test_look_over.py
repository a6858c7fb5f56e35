"""The incoming inspection: what came, what it is, and whether it may be powered."""

import pytest

from shop.jobs.models import Entry
from tests.factories.core import ShopFactory
from tests.shop.jobs.shipped.bench_jobs import (
    HERE,
    a_repair,
    band_of,
    column_of,
    ids_of,
    locks_of,
    nobody_knows,
    publish,
    start,
    step_of,
    verdicts_of,
    work_to_end,
)

pytestmark = pytest.mark.django_db
SLUG = "look-over"


@pytest.fixture(autouse=True)
def shipped(db):
    ShopFactory()
    publish("dead-working", SLUG)


def test_it_is_worked_to_the_end(anna):
    sheet, _pack = start(SLUG, a_repair(), anna)

    assert work_to_end(sheet, anna) == "passed"


def test_the_fuse_for_the_supply_where_it_will_be_used(anna):
    # common practice, no source: 80 mA on 230 V becomes 160 mA on 120 V
    _sheet, pack = start(SLUG, a_repair(), anna)

    assert step_of(pack, "fuse_for_use")["text"] == "T160mAL250V"


@pytest.mark.parametrize(
    ("protection_class", "ohm"),
    [("I", 1e6), ("II", 2e6)],  # EN 50678 / EN 50699 insulation, class I and II (from memory)
)
def test_what_can_be_touched_is_held_to_the_insulation_of_the_class(anna, protection_class, ohm):
    repair = a_repair(use_at=HERE, protection_class=protection_class)
    _sheet, pack = start(SLUG, repair, anna)

    assert column_of(pack, "touch", "ohm")["band"]["rows"] == [[ohm, None]] * 3


def test_a_live_chassis_is_found_by_its_ohms(anna):
    sheet, pack = start(SLUG, a_repair(use_at=HERE, protection_class="0"), anna)

    stage = work_to_end(sheet, anna, {"touch/r1/ohm": "1.2", "live": "live"})

    assert verdicts_of(sheet)["touch/r1/ohm"] == "fail"
    assert stage == "passed"  # as found: the inspection has done its work
    assert "earth" not in ids_of(pack)


def test_volts_on_the_plug_hold_back_the_ohms(anna):
    sheet, pack = start(SLUG, a_repair(use_at=HERE), anna)

    work_to_end(sheet, anna, {"plug_pins": "180"})

    # IEC 60335-1, 22.5: 34 V
    assert band_of(pack, "plug_pins") == (-34, 34)
    assert ("touch", "plug_pins") in locks_of(sheet, pack)


def test_a_damaged_cord_fails_the_inspection(anna):
    sheet, _pack = start(SLUG, a_repair(use_at=HERE), anna)

    assert work_to_end(sheet, anna, {"cord": "damaged"}) == "failed"


def test_a_unit_with_an_external_supply_is_not_asked_for_a_plug_of_its_own(anna):
    sheet, pack = start(SLUG, a_repair(use_at=HERE, supply_kind="external"), anna)

    assert not {"plug_pins", "touch", "fuse_found", "live"} & set(ids_of(pack))
    assert work_to_end(sheet, anna) == "passed"


@pytest.mark.parametrize(
    "found",
    [
        {"cord": "damaged"}, {"turned": "wet"}, {"smell": "selenium"}, {"cells": "swollen"},
        {"selenium": "burnt"}, {"pcb": "leaking"}, {"inside": "burnt"},
    ],
    ids=str,
)  # fmt: skip
def test_what_speaks_against_power_leaves_no_yes_to_choose(anna, found):
    sheet, pack = start(SLUG, a_repair(use_at=HERE), anna)

    stage = work_to_end(sheet, anna, found)

    assert stage != "open"
    assert chosen(sheet) & {"may_power", "may_not_power"} == {"may_not_power"}
    choices = {choice["key"] for choice in step_of(pack, "may_not_power")["choices"]}
    assert choices == {"not_yet", "never"}


def chosen(sheet):
    return set(Entry.objects.filter(worksheet=sheet, kind="choice").values_list("step", flat=True))


def test_a_sound_unit_is_asked_whether_it_may_be_powered(anna):
    sheet, _pack = start(SLUG, a_repair(use_at=HERE), anna)

    work_to_end(sheet, anna)

    assert chosen(sheet) & {"may_power", "may_not_power"} == {"may_power"}


def test_the_earth_of_a_unit_whose_class_nobody_knows_is_looked_at(anna):
    _sheet, unknown = start(SLUG, nobody_knows(), anna)
    _sheet, two_wire = start(
        SLUG, a_repair(use_at=HERE, model="Echo 93", protection_class="II"), anna
    )

    assert band_of(unknown, "earth") == (0, 0.5)
    assert "earth" not in ids_of(two_wire)
