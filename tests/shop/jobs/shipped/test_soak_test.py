"""The soak test on an effects unit of 14 W whose memory is kept by a cell."""

import pytest

from shop.core import outbox
from shop.jobs.errors import FactsMissing, Gate
from tests.factories.core import ShopFactory
from tests.factories.working import verdicts_of, work_to_end
from tests.shop.jobs.shipped.files import take_in
from tests.shop.jobs.test_shipped_templates import a_repair, locks_of, start, step_of

pytestmark = pytest.mark.django_db
COLD = {"cold_ohm": "184"}


@pytest.fixture
def soak(db):
    ShopFactory()
    take_in("soak-test")


def an_effects_unit(**sheet):
    return a_repair(use_at=("DE", 230, 50), **sheet)


def test_four_hours_are_read_every_half_hour_unless_asked_otherwise(soak, anna):
    repair = an_effects_unit()

    _sheet, usual = start("soak-test", repair, anna, room=21)
    _sheet, short = start("soak-test", repair, anna, room=21, how_long=5400, every=900)

    assert [len(step_of(pack, "readings")["rows"]) for pack in (usual, short)] == [8, 6]
    assert [step_of(pack, "run")["seconds"] for pack in (usual, short)] == [14400, 5400]


def test_the_hot_winding_is_bounded_along_its_cold_ohms(soak, anna):
    # by hand: class A, 105 - 10 - (40 - 21) = 76 °C on the mean; (234.5 + 76) / (234.5 + 21)
    # = 1.2153, so 184 ohm cold may become 223.6 ohm
    _sheet, pack = start("soak-test", an_effects_unit(), anna, room=21)

    hot = step_of(pack, "hot_ohm")["band"]
    (x0, _low0, high0), (x1, _low1, high1) = hot["points"]
    assert hot["along"] == "cold_ohm"
    assert high0 + (184 - x0) * (high1 - high0) / (x1 - x0) == pytest.approx(223.6, abs=0.05)


def test_idle_power_is_the_sheets_within_a_fifth(soak, anna):
    # by hand: 9 W +- 20 %
    _sheet, pack = start("soak-test", an_effects_unit(), anna, room=21)

    band = step_of(pack, "end_power")["band"]
    assert (band["low"], band["high"]) == (pytest.approx(7.2), pytest.approx(10.8))


def test_an_unknown_idle_power_stays_below_the_rating_plate(soak, anna):
    _sheet, pack = start("soak-test", an_effects_unit(idle_watt=None), anna, room=21)

    band = step_of(pack, "end_power")["band"]
    assert (band["low"], band["high"]) == (None, 14)


def test_it_is_worked_to_the_end_and_the_idle_power_goes_onto_the_sheet(soak, anna):
    repair = an_effects_unit()
    sheet, _pack = start("soak-test", repair, anna, room=21)

    stage = work_to_end(sheet, anna, {**COLD, "end_power": "9.6"})
    outbox.sweep()

    repair.unit.model_sheet.refresh_from_db()
    assert stage == "passed"
    assert repair.unit.model_sheet.idle_watt == pytest.approx(9.6)


@pytest.mark.parametrize(
    ("step", "typed"),
    [("hot_ohm", "229"), ("readings/r5/case", "63"), ("readings/r8/power", "12.4"),
     ("readings/r3/room", "27")],
)  # fmt: skip
def test_what_gets_too_warm_fails_and_the_worksheet_with_it(soak, anna, step, typed):
    sheet, _pack = start("soak-test", an_effects_unit(), anna, room=21)

    stage = work_to_end(sheet, anna, {**COLD, step: typed})

    assert verdicts_of(sheet)[step] == "fail"
    assert stage == "failed"


def test_a_memory_that_is_lost_while_it_is_off_fails(soak, anna):
    sheet, _pack = start("soak-test", an_effects_unit(), anna, room=21)

    assert work_to_end(sheet, anna, {**COLD, "memory": "lost"}) == "failed"


def test_a_unit_without_a_memory_is_not_asked_for_one(soak, anna):
    _sheet, pack = start("soak-test", an_effects_unit(features=[]), anna, room=21)

    assert {"memory", "rest"} & {step["id"] for step in pack["steps"]} == set()


def test_pins_that_are_live_lock_the_ohmmeter_out(soak, anna):
    sheet, pack = start("soak-test", an_effects_unit(), anna, room=21)

    work_to_end(sheet, anna, {"pins_cold": "120"})

    assert ("cold_ohm", "pins_cold") in locks_of(sheet, pack)


def test_the_room_must_be_known(soak, anna):
    with pytest.raises(FactsMissing) as missing:
        start("soak-test", an_effects_unit(), anna)

    assert "facts.room" in str(missing.value.facts)


def test_a_unit_with_an_external_supply_is_refused(soak, anna):
    with pytest.raises(Gate, match="external supply"):
        start("soak-test", an_effects_unit(supply_kind="external"), anna, room=21)


def test_a_unit_set_for_another_mains_is_not_soaked(soak, anna):
    repair = an_effects_unit()
    repair.unit.set_for_volt = 120
    repair.unit.save(update_fields=["set_for_volt"])
    sheet, pack = start("soak-test", repair, anna, room=21)

    work_to_end(sheet, anna, {"mains_setting": "other"})

    assert ("run", "mains_setting") in locks_of(sheet, pack)
