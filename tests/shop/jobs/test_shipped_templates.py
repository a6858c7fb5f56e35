"""The job templates that come with the shop: computed for the very unit, workable to the end."""

import orjson
import pytest

from shop.core import outbox
from shop.core.ids import new_id
from shop.jobs.errors import FactsMissing, Gate
from shop.jobs.format import check_template
from shop.jobs.models import Entry
from shop.jobs.record.state import standing_of, states
from shop.jobs.selectors import entries_of
from shop.jobs.services import apply_operations, import_template_file, start_worksheet
from shop.jobs.shipped import shipped_templates
from shop.repairs.models import Stage
from shop.units.models import ModelSheet
from tests.factories.core import ShopFactory
from tests.factories.jobs import BenchFactory, Phone, correcting
from tests.factories.sheets import full_sheet
from tests.factories.stock import BinFactory, PartFactory, StockLevelFactory
from tests.factories.units import RepairFactory, UnitFactory
from tests.factories.working import verdicts_of, work_to_end

pytestmark = pytest.mark.django_db
FILES = shipped_templates()


@pytest.fixture
def shipped(db):
    ShopFactory()
    for file in FILES:
        import_template_file(path=file)


def a_repair(use_at=("US", 120, 60), unit=None, **sheet):
    model_sheet = ModelSheet.objects.create(**full_sheet(**sheet))
    unit = UnitFactory(model_sheet=model_sheet, serial="920417", set_for_volt=230, **(unit or {}))
    country, volt, hz = use_at
    return RepairFactory(
        unit=unit, stage="on_the_bench", set_for_volt=230, set_for_hz=50,
        use_at_country=country, use_at_volt=volt, use_at_hz=hz,
    )  # fmt: skip


def start(template, repair, by, **facts):
    bench = BenchFactory()
    sheet, _new = start_worksheet(
        id=new_id(), repair=repair, template=template, by=by, bench=bench, facts=facts
    )
    return sheet, orjson.loads(bytes(sheet.pack))


def locks_of(sheet, pack):
    """(locked step, what locks it) as the worksheet stands."""
    found = states(pack, standing_of(entries_of(sheet.id)))
    return {(state.step["id"], state.locked_by) for state in found if state.locked_by}


def step_of(pack, id):
    return next(step for step in pack["steps"] if step["id"] == id)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_shipped_template_has_no_fault(file):
    assert check_template(orjson.loads(file.read_bytes())) == []


@pytest.mark.parametrize("slug", ["mains-conversion", "backup-cell-swap"])
def test_conversion_and_cell_swap_are_planned_with_15_to_20_minutes(slug):
    # common practice, no source: with the parts at hand
    (file,) = [file for file in FILES if file.stem == slug]

    assert 15 <= orjson.loads(file.read_bytes())["minutes"] <= 20


def test_a_unit_fused_80_ma_on_230_v_takes_160_ma_after_conversion(shipped, anna):
    # common practice, no source
    _sheet, pack = start("mains-conversion", a_repair(), anna)

    assert pack["work"]["fuse"]["value"]["mark"] == "T160mAL250V"
    assert pack["work"]["winding"]["value"]["links_to_remove"] == [["2", "3"]]
    assert pack["work"]["winding"]["value"]["links_to_set"] == [["1", "3"], ["2", "4"]]


def test_secondaries_are_worked_out_at_the_line_as_measured(shipped, anna):
    # common practice, no source: mains called 120 V measured at 118 V
    _sheet, pack = start("mains-conversion", a_repair(), anna, line_volt="118")

    (secondary,) = pack["work"]["winding"]["value"]["secondaries"]
    assert secondary["loaded_volt"] == pytest.approx(9 * 118 / 115)


def test_the_makers_marking_for_the_target_supply_wins(shipped, anna):
    repair = a_repair()
    sheet = repair.unit.model_sheet
    sheet.supplies[1]["volt"], sheet.supplies[1]["fuse"] = 120, "T200mAL250V"
    sheet.save(update_fields=["supplies"])

    _sheet, pack = start("mains-conversion", repair, anna)

    assert pack["work"]["fuse"]["value"]["mark"] == "T200mAL250V"
    assert pack["work"]["fuse"]["value"]["from_maker"] is True


def test_each_reservoir_is_waited_for_discharged_and_read_again(shipped, anna):
    _sheet, pack = start("mains-conversion", a_repair(), anna)

    ids = [step["id"] for step in pack["steps"]]
    assert {"res_found.1", "res_discharged.1", "res_again.2"} <= set(ids)
    # 16 V needs no discharge resistor and nothing to wait for, beside one of 320 V
    assert not {"dead_wait_why.1", "res_resistor.1", "res_again.1", "dead_no_wait"} & set(ids)
    assert step_of(pack, "res_resistor.2")["work"] == "resistor.2"
    assert ids.index("dead_prove_before") < ids.index("res_found.1")
    assert ids.index("res_again.2") < ids.index("dead_prove_after")
    assert step_of(pack, "dead_wait")["seconds"] > 30


def test_reservoirs_never_above_50_v_are_read_and_not_waited_for(shipped, anna, ben):
    low = [{"name": "C1", "volt": 50, "farad": 0.0022, "bleeder_ohm": None}]
    sheet, pack = start("mains-conversion", a_repair(reservoirs=low), anna)

    ids = {step["id"] for step in pack["steps"]}
    assert {"dead_no_wait", "res_found.1", "res_discharged.1"} <= ids
    waits = {"dead_wait", "dead_minute", "dead_wait_why.1", "res_resistor.1", "res_again.1"}
    assert not waits & ids
    assert "50 V at most" in step_of(pack, "dead_no_wait")["text"]
    assert work_to_end(sheet, anna, other=ben) == "passed"


def test_a_reservoir_of_unknown_volts_is_waited_for(shipped, anna):
    unknown = [
        {"name": "C1", "volt": 16, "farad": 0.0022, "bleeder_ohm": 1000},
        {"name": "C2", "volt": None, "farad": 0.000047, "bleeder_ohm": None},
    ]
    _sheet, pack = start("mains-conversion", a_repair(reservoirs=unknown), anna)

    ids = {step["id"] for step in pack["steps"]}
    assert {"dead_wait", "dead_minute", "dead_wait_why.2", "res_again.2"} <= ids
    assert "dead_no_wait" not in ids


def test_a_part_says_where_it_lay_when_the_pack_was_made(shipped, anna):
    part = PartFactory(order_code="LABEL-PLATE", name="Rating plate sticker")
    StockLevelFactory(part=part, bin=BinFactory(name="Bin A3"), on_hand=4)

    _sheet, pack = start("mains-conversion", a_repair(), anna)

    assert step_of(pack, "plate_take")["part"]["bin"] == "Bin A3"
    assert step_of(pack, "fuse_take")["part"] == {
        "code": "", "name": "Fuse T160mAL250V", "bin": None,
    }  # fmt: skip


def test_a_unit_that_is_set_for_its_supply_already_has_nothing_to_convert(shipped, anna):
    with pytest.raises(Gate, match="nothing to convert"):
        start("mains-conversion", a_repair(use_at=("DE", 230, 50)), anna)


@pytest.mark.parametrize("template", ["mains-conversion", "series-lamp-power-up"])
def test_a_switch_mode_unit_is_blocked_with_the_reason(shipped, anna, template):
    with pytest.raises(Gate, match=r"(?i)switch-mode|mains transformer"):
        start(template, a_repair(supply_kind="switch_mode"), anna)


def test_an_unknown_idle_power_takes_the_smallest_lamp_and_judges_no_ramp(shipped, anna):
    _sheet, pack = start("series-lamp-power-up", a_repair(idle_watt=None), anna)

    assert pack["work"]["lamp"]["value"]["watt"] == 40  # the smallest that hangs at this bench
    assert pack["work"]["ramp"]["value"] is None
    assert "ramp" not in [step["id"] for step in pack["steps"]]
    assert step_of(pack, "ramp_how")["why_not_judged"]


def test_a_cell_that_the_board_charges_blocks_a_primary_cell_as_things_are(shipped, anna):
    cell = {
        **full_sheet()["cell"], "fitted": "NiCd3", "replacement": "CR2032", "rechargeable": True,
        "charged_by_board": True,
    }  # fmt: skip
    repair = a_repair(cell=cell)

    sheet, pack = start("backup-cell-swap", repair, anna)
    stage = work_to_end(sheet, anna, {"fitted": "rechargeable", "charge_path": "untouched"})

    assert pack["work"]["untouched"]["outcome"] == "refuse"
    assert stage == "open"
    assert locks_of(sheet, pack) >= {("unplugged", "charge_path"), ("supply_pin", "charge_path")}


@pytest.mark.parametrize(
    ("step", "key"), [("dead_feeds", "not_all"), ("fuse_fitted", "not_fitted")]
)
def test_a_failed_safety_answer_locks_the_conversion_until_it_is_corrected(
    shipped, anna, ben, step, key
):
    sheet, pack = start("mains-conversion", a_repair(), anna)
    stage = work_to_end(sheet, anna, {step: key}, other=ben)

    assert stage == "open"
    assert ("strap_off", step) in locks_of(sheet, pack)

    first = Entry.objects.get(worksheet=sheet, step=step)
    phone, mended = Phone(anna, sheet), step_of(pack, step)["choices"][0]["key"]
    answer = correcting(phone.choose(step, mended), {"id": str(first.id)})
    apply_operations(person=anna, device_id=None, operations=[answer])

    assert not locks_of(sheet, pack) & {("strap_off", step)}


def test_a_unit_that_cannot_be_converted_is_still_closed_up_and_the_sheet_fails(shipped, anna, ben):
    sheet, pack = start("mains-conversion", a_repair(), anna)

    stage = work_to_end(sheet, anna, {"can_convert": "cannot"}, other=ben)

    assert stage == "failed"
    assert not locks_of(sheet, pack)
    assert Entry.objects.filter(worksheet=sheet, step="strap_off").exists()


def test_a_hole_is_no_choice_when_the_customer_does_not_allow_it(shipped, anna):
    repair = a_repair()
    repair.visible_changes = "no"
    repair.save(update_fields=["visible_changes"])

    _sheet, pack = start("backup-cell-swap", repair, anna)

    choices = [choice["key"] for choice in step_of(pack, "route_no_hole")["choices"]]
    assert "hole" not in choices
    assert "route" not in [step["id"] for step in pack["steps"]]


def test_the_safety_check_takes_the_limits_of_the_shops_scheme_only(shipped, anna):
    ShopFactory._meta.model.objects.update(safety_scheme="iet_5")

    _sheet, pack = start("safety-check", a_repair(), anna)

    limits = pack["work"]["limits"]
    assert limits["value"]["scheme"] == "iet_5"
    assert step_of(pack, "current.5")["band"]["high"] == pytest.approx(0.005)


def test_a_limit_says_in_words_how_well_its_figure_is_known(shipped, anna):
    _sheet, pack = start("safety-check", a_repair(), anna)

    limits = [step["text"] for step in pack["steps"] if step["kind"] == "reading"]
    assert any("(from memory, not verified)" in text for text in limits)
    assert not any("_" in text for text in limits)


def test_the_safety_check_of_a_unit_without_a_sheet_asks_for_what_it_needs(shipped, anna):
    repair = RepairFactory(stage="on_the_bench")

    with pytest.raises(FactsMissing) as missing:
        start("safety-check", repair, anna)
    _sheet, pack = start(
        "safety-check", repair, anna, class_now="class_ii", cord_length="m_2", cord_area="mm2_0_75"
    )

    assert "class_now" in str(missing.value.facts)
    assert pack["work"]["limits"]["value"]["protection_class"] == "II"


def test_all_four_are_worked_to_the_end_and_make_the_unit_ready(shipped, anna, ben):
    repair = a_repair()

    for template in (
        "mains-conversion",
        "backup-cell-swap",
        "series-lamp-power-up",
        "safety-check",
    ):
        sheet, _pack = start(template, repair, anna)
        stage = work_to_end(sheet, anna, other=ben)
        assert stage == "passed", (template, verdicts_of(sheet))
    outbox.sweep()

    repair.refresh_from_db()
    repair.unit.refresh_from_db()
    _again, pack = start("safety-check", repair, anna)
    assert pack["supplies"]["set_for"] == {"volt": 120, "hz": 60}
    assert repair.stage == Stage.READY
    assert (repair.unit.set_for_volt, repair.unit.set_for_hz) == (120, 60)
    assert repair.unit.model_sheet.idle_watt == pytest.approx(7)


def test_a_unit_that_cannot_be_converted_fails_with_the_reason_and_is_not_ready(shipped, anna, ben):
    repair = a_repair()

    sheet, _pack = start("mains-conversion", repair, anna)
    stage = work_to_end(sheet, anna, {"can_convert": "cannot"}, other=ben)

    repair.refresh_from_db()
    assert stage == "failed"
    assert repair.stage == Stage.ON_THE_BENCH
