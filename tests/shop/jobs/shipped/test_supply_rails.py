"""The supply-rail and ripple check on a mixer with a phantom supply."""

import pytest

from shop.jobs.errors import Gate
from tests.factories.core import ShopFactory
from tests.factories.working import verdicts_of, work_to_end
from tests.shop.jobs.shipped.files import take_in
from tests.shop.jobs.test_shipped_templates import a_repair, locks_of, start, step_of

pytestmark = pytest.mark.django_db
RAILS = [
    {"name": "+15 V", "volt": 15, "low": 14.25, "high": 15.75, "ripple_millivolt": 10},
    {"name": "-15 V", "volt": -15, "low": -15.75, "high": -14.25, "ripple_millivolt": 10},
    {"name": "+48 V", "volt": 48, "low": 44, "high": 52, "ripple_millivolt": None},
]
RESERVOIRS = [{"name": "C1", "volt": 25, "farad": 0.0047, "bleeder_ohm": 4700}]


@pytest.fixture
def mixer(db):
    ShopFactory()
    take_in("supply-rails")
    return a_repair(use_at=("DE", 230, 50), rails=RAILS, reservoirs=RESERVOIRS)


def column_of(step, key):
    return next(column for column in step["columns"] if column["key"] == key)


def test_every_rail_is_a_row_with_the_limits_and_the_ripple_of_its_sheet(mixer, anna):
    _sheet, pack = start("supply-rails", mixer, anna)

    table = step_of(pack, "rails")
    assert [row["title"] for row in table["rows"]] == ["+15 V", "-15 V", "+48 V"]
    assert column_of(table, "volt")["band"]["rows"] == [[14.25, 15.75], [-15.75, -14.25], [44, 52]]
    # what the sheet does not know stays unknown
    assert column_of(table, "ripple")["band"]["rows"] == [[0, 0.01], [0, 0.01], [None, None]]


def test_a_regulator_wants_its_dropout_at_the_lowest_line(mixer, anna):
    # by hand, supply of 230 V +- 10 % (IEC 60038, EN 50160): 15 + 2 + 1.4 = 18.4 V at the valley;
    # V (1.05 - 0.1 x 230 / 207) = 18.4 x 230 / 207 - 1.4, V = 20.28 V with a tenth of ripple
    _sheet, pack = start("supply-rails", mixer, anna)

    positive, negative, _phantom = column_of(step_of(pack, "before"), "volt")["band"]["rows"]
    assert positive == [pytest.approx(20.28, abs=0.01), None]
    assert negative == [None, pytest.approx(-20.28, abs=0.01)]


def test_a_lower_line_now_asks_for_less_before_the_regulator(mixer, anna):
    # by hand: 18.4 x 215 / 207 - 1.4 = 17.71; 17.71 / (1.05 - 0.1 x 215 / 207) = 18.72
    _sheet, pack = start("supply-rails", mixer, anna, line_volt=215)

    (least, _open), *_rest = column_of(step_of(pack, "before"), "volt")["band"]["rows"]
    assert least == pytest.approx(18.72, abs=0.01)


def test_it_is_worked_to_the_end_on_a_sound_unit(mixer, anna, ben):
    sheet, _pack = start("supply-rails", mixer, anna)

    assert work_to_end(sheet, anna, {"rails/r2/volt": "-15.02"}, other=ben) == "passed"


@pytest.mark.parametrize(
    ("cell", "typed"), [("rails/r2/volt", "-13.9"), ("rails/r1/ripple", "0.0124")]
)
def test_one_rail_that_sags_or_hums_fails_and_the_worksheet_with_it(mixer, anna, ben, cell, typed):
    sheet, _pack = start("supply-rails", mixer, anna)

    stage = work_to_end(sheet, anna, {cell: typed}, other=ben)

    assert verdicts_of(sheet)[cell] == "fail"
    assert stage == "failed"


def test_a_first_look_has_its_own_table_that_need_not_pass(mixer, anna, ben):
    sheet, _pack = start("supply-rails", mixer, anna)

    stage = work_to_end(sheet, anna, {"use": "first", "found/r1/volt": "3.1"}, other=ben)

    assert verdicts_of(sheet)["found/r1/volt"] == "fail"
    assert stage in {"passed", "failed"}


def test_rails_that_nobody_knows_are_not_judged(mixer, anna):
    mixer.unit.model_sheet.rails = []
    mixer.unit.model_sheet.save(update_fields=["rails"])

    with pytest.raises(Gate, match="names no rails"):
        start("supply-rails", mixer, anna)


def set_for(repair, volt):
    repair.unit.set_for_volt = volt
    repair.unit.save(update_fields=["set_for_volt"])
    return repair


def test_a_unit_set_for_another_mains_is_not_plugged_in(mixer, anna, ben):
    sheet, pack = start("supply-rails", set_for(mixer, 120), anna)

    work_to_end(sheet, anna, {"mains_setting": "other"}, other=ben)

    assert "120 V, used on 230 V" in step_of(pack, "mains_setting")["title"]
    assert ("line", "mains_setting") in locks_of(sheet, pack)


def test_220_v_by_another_name_is_no_dead_end(mixer, anna, ben):
    sheet, _pack = start("supply-rails", set_for(mixer, 220), anna)

    assert work_to_end(sheet, anna, {"mains_setting": "same"}, other=ben) == "passed"


def test_a_mere_first_look_ends_without_rails_that_pass(mixer, anna, ben):
    sheet, _pack = start("supply-rails", mixer, anna)

    stage = work_to_end(sheet, anna, {"use": "look_only", "found/r1/volt": "3.1"}, other=ben)

    assert stage == "passed"
    assert not [step for step in verdicts_of(sheet) if step.startswith("rails/")]


def test_before_it_is_mended_it_is_made_dead(mixer, anna, ben):
    sheet, pack = start("supply-rails", mixer, anna)

    work_to_end(sheet, anna, {"use": "first"}, until="mend", other=ben)

    assert ("rails", "mend") in locks_of(sheet, pack)


def test_clips_come_off_only_after_a_reading_where_no_reservoir_is_named(mixer, anna):
    mixer.unit.model_sheet.reservoirs = []
    mixer.unit.model_sheet.save(update_fields=["reservoirs"])

    _sheet, pack = start("supply-rails", mixer, anna)

    last = step_of(pack, "any_after")
    assert (last["safety"], last["blocks"]) == (True, True)
    assert (last["band"]["low"], last["band"]["high"]) == (-50, 50)
