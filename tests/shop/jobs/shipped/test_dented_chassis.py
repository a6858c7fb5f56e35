"""Straightening a bent rack ear: fit, distances and earth as left."""

import pytest

from shop.jobs.errors import FactsMissing
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
SLUG = "dented-chassis"


@pytest.fixture(autouse=True)
def shipped(db):
    ShopFactory()
    publish("dead-working", SLUG)


def begun(by, **sheet):
    return start(SLUG, a_repair(use_at=HERE, **sheet), by)


def test_it_is_worked_to_the_end(anna):
    sheet, _pack = begun(anna)

    assert work_to_end(sheet, anna, {"gap_sound": "0.0006"}) == "passed"


@pytest.mark.parametrize(
    ("protection_class", "metre"),
    [("I", 0.002), ("II", 0.004)],  # IEC 60950-1, 2.10.3, by a training text and a test report
)
def test_mains_parts_keep_their_distance_from_the_metal(anna, protection_class, metre):
    _sheet, pack = begun(anna, protection_class=protection_class)

    assert band_of(pack, "clear_left") == (metre, None)


def test_a_distance_that_became_too_small_holds_back_the_checks_after_it(anna):
    sheet, pack = begun(anna)

    stage = work_to_end(sheet, anna, {"gap_sound": "0.0006", "clear_left": "0.0014"})

    assert verdicts_of(sheet)["clear_left"] == "fail"
    assert ("bond", "clear_left") in locks_of(sheet, pack)
    assert stage != "passed"


def test_earth_is_measured_again_where_there_is_one(anna):
    # EN 50678 / EN 50699: 0.3 Ω up to 5 m of cord
    _sheet, pack = begun(anna)
    _other, without = begun_class_ii(anna)

    assert column_of(pack, "bond", "ohm")["band"]["rows"] == [[0, 0.3], [0, 0.3]]
    assert not {"bond", "bond_lid", "earth_found"} & set(ids_of(without))


def begun_class_ii(by):
    return begun(by, model="Echo 93", protection_class="II")


def test_a_bent_lug_fails(anna):
    sheet, _pack = begun(anna)

    stage = work_to_end(sheet, anna, {"gap_sound": "0.0006", "bond/r2/ohm": "0.9"})

    assert verdicts_of(sheet)["bond/r2/ohm"] == "fail"
    assert stage != "passed"


def test_the_gap_of_the_lid_is_held_to_its_sound_side(anna):
    # proposed: half a millimetre wider than the sound side, see docs/templates.md
    sheet, _pack = begun(anna)

    work_to_end(sheet, anna, {"gap_sound": "0.0006", "gap_left": "0.0012"})

    assert verdicts_of(sheet)["gap_left"] == "fail"


def test_a_casting_is_not_bent(anna):
    sheet, pack = begun(anna)

    stage = work_to_end(sheet, anna, {"metal": "casting"})

    assert ("block", "metal") in locks_of(sheet, pack)
    assert stage != "passed"


def test_suspected_asbestos_stops_the_job(anna):
    sheet, pack = begun(anna)

    work_to_end(sheet, anna, {"asbestos": "suspected"})

    assert ("photo_found", "asbestos") in locks_of(sheet, pack)
    assert "licensed" in step_of(pack, "asbestos")["choices"][1]["text"]


def test_wiring_and_earth_lug_are_looked_at_before_they_come_out(anna):
    _sheet, pack = begun(anna)

    ids = ids_of(pack)
    assert max(ids.index("photo_wiring"), ids.index("earth_found")) < ids.index("emptied")


def test_a_unit_of_unknown_class_is_asked_for_it_and_its_earth_is_measured(anna):
    repair = nobody_knows()
    with pytest.raises(FactsMissing) as missing:
        start(SLUG, repair, anna)

    cord = {"cord_length": "m_3", "cord_area": "mm2_0_75"}
    _sheet, pack = start(SLUG, repair, anna, class_now="class_i", **cord)

    assert "facts.class_now" in str(missing.value.facts)
    assert column_of(pack, "bond", "ohm")["band"]["rows"] == [[0, 0.3], [0, 0.3]]
    assert band_of(pack, "clear_left") == (0.002, None)


def test_a_live_chassis_is_measured_to_what_can_be_touched(anna):
    # its chassis is one pin of the mains: to it no insulation can be measured
    sheet, pack = begun(anna, protection_class="0", hazards=["live_chassis"])

    assert "insulation_live" in ids_of(pack)
    assert "insulation" not in ids_of(pack)
    assert band_of(pack, "insulation_live") == (2e6, None)
    assert work_to_end(sheet, anna, {"gap_sound": "0.0006"}) == "passed"
