"""Power on where a touch can kill: an isolated feed and a second person come first, always."""

import orjson
import pytest

from shop.calc.safety.second_person import DEADLY_HAZARDS
from shop.core.ids import new_id
from shop.jobs.errors import SignOffNeedsOtherPerson
from shop.jobs.services import apply_operations, publish_revision, sign_off
from shop.jobs.shipped import shipped_templates
from shop.units.models import Hazard
from tests.factories.core import PersonFactory
from tests.factories.jobs import Phone, caution, look, on_the_bench, reading, started, template
from tests.factories.units import RepairFactory, UnitFactory

pytestmark = pytest.mark.django_db
LIVE = template(caution(), look(), reading(energised=True))


def steps_of(worksheet):
    return [step["id"] for step in orjson.loads(bytes(worksheet.pack))["steps"]]


@pytest.mark.parametrize("hazard", ["live_chassis", "high_voltage", "tube_high_voltage"])
def test_two_steps_of_the_shop_stand_before_the_first_with_power_on(anna, hazard):
    sheet = started(LIVE, by=anna, repair=on_the_bench(hazards=[hazard]))

    assert steps_of(sheet) == ["unplug", "cord", "isolation", "second-person", "rail"]


@pytest.mark.parametrize("hazards", [[], ["selenium", "asbestos"]])
def test_where_no_such_hazard_is_known_they_are_not_asked_for(anna, hazards):
    sheet = started(LIVE, by=anna, repair=on_the_bench(hazards=hazards))

    assert steps_of(sheet) == ["unplug", "cord", "rail"]


@pytest.mark.parametrize(
    "sheet",
    [
        {"reservoirs": [{"name": "C1", "volt": 450, "farad": 5e-5}]},
        {"valves": [{"name": "V1", "type": "triode", "heater_volt": 6.3, "plate_volt": 250}]},
        {"rails": [{"name": "bias", "volt": -150, "low": -160, "high": -140}]},
        {"secondaries": [{"name": "HT", "rated_volt": 250, "is_heater": False}]},
    ],
    ids=["reservoir", "plate", "rail", "secondary"],
)
def test_high_volts_on_the_sheet_count_though_nobody_ticked_the_hazard(anna, sheet):
    worksheet = started(LIVE, by=anna, repair=on_the_bench(hazards=[], **sheet))

    assert steps_of(worksheet) == ["unplug", "cord", "isolation", "second-person", "rail"]


def test_a_reservoir_of_extra_low_voltage_asks_for_nobody(anna):
    low = [{"name": "C1", "volt": 63, "farad": 0.01}, {"name": "C2", "volt": None, "farad": 0.01}]
    sheet = started(LIVE, by=anna, repair=on_the_bench(hazards=[], reservoirs=low))

    assert steps_of(sheet) == ["unplug", "cord", "rail"]


def test_a_unit_without_a_model_sheet_counts_as_dangerous(anna):
    repair = RepairFactory(unit=UnitFactory(model_sheet=None), stage="on_the_bench")

    sheet = started(LIVE, by=anna, repair=repair)

    assert {"isolation", "second-person"} <= set(steps_of(sheet))


def test_each_deadly_hazard_is_one_that_a_model_sheet_can_name():
    assert set(Hazard.values) >= DEADLY_HAZARDS


def test_work_with_power_off_does_not_ask_for_them(anna):
    repair = on_the_bench(hazards=["high_voltage"])

    assert steps_of(started(template(), by=anna, repair=repair)) == ["unplug", "cord", "rail"]


def test_a_procedure_with_power_on_asks_for_them_too(anna):
    publish_revision(body={**LIVE, "slug": "inner"})
    step = {"id": "in", "kind": "procedure", "procedure": {"template": "inner"}}
    repair = on_the_bench(hazards=["high_voltage"])

    sheet = started(template(look("first"), step), by=anna, repair=repair)

    before = ["first", "in-unplug", "in-cord"]
    assert steps_of(sheet) == [*before, "isolation", "second-person", "in-rail"]


def send(phone, operation):
    (result,) = apply_operations(person=phone.person, device_id=None, operations=[operation])
    return result.code or result.outcome


def test_nothing_with_power_on_can_be_read_before_both_are_done(anna):
    ben = PersonFactory(username="ben", role="tech")
    sheet = started(LIVE, by=anna, repair=on_the_bench(hazards=["live_chassis"]))
    phone = Phone(anna, sheet)

    send(phone, phone.acknowledge())
    assert send(phone, phone.read("rail", "5")) == "step_locked"
    assert send(phone, phone.choose("isolation", "isolated")) == "applied"
    assert send(phone, phone.read("rail", "5")) == "step_locked"
    with pytest.raises(SignOffNeedsOtherPerson):
        sign_off(id=new_id(), worksheet=sheet, step="second-person", by=anna)
    sign_off(id=new_id(), worksheet=sheet, step="second-person", by=ben)

    assert send(phone, phone.read("rail", "5")) == "applied"


def test_what_cannot_be_isolated_stays_off(anna):
    sheet = started(LIVE, by=anna, repair=on_the_bench(hazards=["live_chassis"]))
    phone = Phone(anna, sheet)
    send(phone, phone.acknowledge())

    chosen = send(phone, phone.choose("isolation", "not_isolated"))
    read = send(phone, phone.read("rail", "5"))

    assert (chosen, read) == ("applied", "step_locked")


@pytest.mark.parametrize(
    ("slug", "with_power_on"),
    [
        ("series-lamp-power-up", {"ramp", "line_volt", "sec_open", "sec_loaded", "rail", "idle",
                                  "soak", "steady"}),
        ("mains-conversion", {"phasing_feed", "phasing_read"}),  # test leads on a fed winding
        ("backup-cell-swap", {"reverse"}),
        ("safety-check", set()),  # closed up, as the customer will use it
    ],
)  # fmt: skip
def test_the_jobs_that_come_along_say_what_is_done_open_with_power_on(slug, with_power_on):
    (file,) = (file for file in shipped_templates() if file.stem == slug)
    body = orjson.loads(file.read_bytes())
    steps = [step for entry in body["steps"] for step in entry.get("steps", [entry])]

    assert {step["id"] for step in steps if step.get("energised")} == with_power_on
