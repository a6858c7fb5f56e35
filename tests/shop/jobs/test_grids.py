"""Tables: readings in rows and columns, each cell with limits, an id and a verdict of its own."""

import orjson
import pytest

from shop.jobs.errors import FactsMissing, Gate
from shop.jobs.models import Entry, Worksheet
from shop.jobs.services import apply_operations
from tests.factories.jobs import (
    Phone,
    caution,
    look,
    on_the_bench,
    reading,
    started,
    table,
    template,
)

pytestmark = pytest.mark.django_db
VOLT = {"key": "volt", "title": "Volts", "quantity": "voltage_dc"}
RIPPLE = {"key": "ripple", "title": "Ripple", "quantity": "voltage_ac", "band": {"high": 0.01}}
RAILS = [
    {"name": "+5 V", "volt": 5, "low": 4.85, "high": 5.15},
    {"name": "+15 V", "volt": 15, "low": 14.5, "high": 15.5},
]
OVER_RAILS = {"over": "sheet.rails", "as": "rail", "max": 8, "title": "{rail.name}"}
BY_RAIL = {
    "low": {"fact": "rail.low"},
    "high": {"fact": "rail.high"},
    "nominal": {"fact": "rail.volt"},
}


def steps_of(worksheet):
    return {step["id"]: step for step in orjson.loads(bytes(worksheet.pack))["steps"]}


def sent(phone, *operations):
    return apply_operations(person=phone.person, device_id=None, operations=list(operations))


def test_a_table_has_a_row_for_each_rail_with_that_rails_limits(anna):
    step = table(rows=OVER_RAILS, columns=[{**VOLT, "band": BY_RAIL}, RIPPLE])

    made = steps_of(started(template(step), by=anna, repair=on_the_bench(rails=RAILS)))["rails"]

    assert [row["title"] for row in made["rows"]] == ["+5 V", "+15 V"]
    volt, ripple = made["columns"]
    assert volt["band"] == {
        "along": None, "rows": [[4.85, 5.15], [14.5, 15.5]], "nominal": [5, 15],
    }  # fmt: skip
    assert ripple["band"] == {"along": None, "rows": [[None, 0.01], [None, 0.01]]}


def test_limits_of_a_row_win_over_those_of_its_column(anna):
    rows = [{"title": "a", "limits": {"volt": {"low": 1, "high": 2}}}, {"title": "b"}]
    step = table(rows=rows, columns=[{**VOLT, "band": {"low": 8, "high": 9}}])

    made = steps_of(started(template(step), by=anna))["rails"]

    assert made["columns"][0]["band"]["rows"] == [[1, 2], [8, 9]]


def test_each_cell_is_judged_by_its_own_limits(anna):
    step = table(rows=OVER_RAILS, columns=[{**VOLT, "band": BY_RAIL}], phase="as_left")
    sheet = started(template(step), by=anna, repair=on_the_bench(rails=RAILS))
    phone = Phone(anna, sheet)

    results = sent(phone, phone.read("rails/r1/volt", "5"), phone.read("rails/r2/volt", "5"))

    assert [result.outcome for result in results] == ["applied", "applied"]
    verdicts = dict(Entry.objects.values_list("step", "verdict"))
    assert verdicts == {"rails/r1/volt": "pass", "rails/r2/volt": "fail"}
    assert Worksheet.objects.get().stage == "failed"


def test_a_table_that_blocks_is_settled_once_every_required_cell_passes(anna):
    columns = [{**VOLT, "band": {"low": 4, "high": 6}}, {**RIPPLE, "required": False}]
    step = table(rows=[{"title": "a"}, {"title": "b"}], columns=columns, blocks=True)
    sheet = started(template(step), by=anna)
    phone = Phone(anna, sheet)

    # n/m is no fail, so the worksheet stays open and not failed.
    unread = phone.read("rails/r2/volt", "n/m", state="not_measured", value_text=None)
    sent(phone, phone.read("rails/r1/volt", "5"), unread)
    before = Worksheet.objects.get().stage
    sent(phone, phone.read("rails/r2/volt", "5.5"))

    assert (before, Worksheet.objects.get().stage) == ("open", "passed")


def test_a_table_is_answered_by_its_cells_only(anna):
    sheet = started(template(table(), look()), by=anna)
    phone = Phone(anna, sheet)

    results = sent(phone, phone.read("rails", "5")) + sent(phone, phone.read("rails/r9/volt", "5"))
    beside = sent(phone, phone.read("cord/r1/volt", "5"))

    codes = [result.code for result in results + beside]
    assert codes == ["bad_entry", "unknown_step", "unknown_step"]


def test_a_table_over_an_unknown_list_says_so(anna):
    made = steps_of(started(template(table(rows=OVER_RAILS)), by=anna))["rails"]

    assert made["rows"] == []
    assert made["why_not_judged"] == "Not known: supply rails of this model."


def test_a_safety_table_that_could_not_be_judged_stops_the_start(anna):
    step = table(rows=OVER_RAILS, columns=[{**VOLT, "band": BY_RAIL}], safety=True, blocks=True)
    unknown = [{"name": "+5 V", "volt": 5}]

    for sheet in ({}, {"rails": unknown}):
        with pytest.raises(FactsMissing):
            started(template(caution(), step), by=anna, repair=on_the_bench(**sheet))


def test_a_step_is_repeated_as_often_as_was_answered(anna):
    step = reading(repeat={"over": "asked.turns", "as": "turn", "max": 4}, title="{turn.number}")
    fact = {"key": "turns", "title": "Turns", "quantity": "count", "required": True}

    made = steps_of(started(template(step, facts=[fact]), by=anna, facts={"turns": "3"}))
    assert [(id, one["title"]) for id, one in made.items()] == [
        ("rail.1", "1"), ("rail.2", "2"), ("rail.3", "3"),
    ]  # fmt: skip

    with pytest.raises(Gate, match="5 rows"):
        started(template(step, facts=[fact]), by=anna, facts={"turns": "5"})


def test_pictures_and_power_go_into_the_pack(anna):
    picture = {"sha256": "ab" * 32, "caption": "It draws {sheet.idle_watt|power}"}
    step = look(pictures=[picture, {"sha256": "cd" * 32}], energised=True)

    repair = on_the_bench(idle_watt=9)
    made = steps_of(started(template(caution(), step), by=anna, repair=repair))["cord"]

    assert [one["caption"] for one in made["pictures"]] == ["It draws 9 W", ""]
    assert made["energised"] is True


def ramp(rows, **more):
    columns = [
        {"key": "set", "title": "Set", "quantity": "voltage_ac"},
        {"key": "watt", "title": "W", "quantity": "power", "along": "set", "low": "low",
         "high": "high"},
    ]  # fmt: skip
    inside = {"rows": {"value": rows}, "dwell_seconds": 5, "columns": columns, **more}
    return {"id": "ramp", "kind": "ramp", "title": "Ramp", "ramp": inside}


@pytest.mark.parametrize(
    "rows",
    [
        "no rows",
        7,
        ["no row"],
        [{"set_volt": "ten"}],
        [{"set_volt": None}, {"set_volt": 5}],
        [{"set_volt": 5}, {"set_volt": 5}],  # along two equal settings no limit can run
        [{"set_volt": 5, "low": 2, "high": 1}],
        [{"set_volt": 5, "low": True}],
    ],
)
def test_a_ramp_whose_rows_are_no_settings_says_so(anna, rows):
    made = steps_of(started(template(ramp(rows)), by=anna))["ramp"]

    assert made["rows"] == []
    assert made["why_not_judged"].startswith("The settings cannot be worked out: ")


SAID = {"fact": "sheet.rails.0.volt"}
LONG = {**SAID, "times": 1}


@pytest.mark.parametrize(
    ("step", "why"),
    [
        ({"id": "t", "kind": "timer", "title": "t", "seconds": LONG}, "no number"),
        (reading("t", band={"low": {"largest": SAID}}), "list of numbers"),
    ],
)  # fmt: skip
def test_an_answer_that_is_no_number_is_said_and_not_guessed(anna, step, why):
    repair = on_the_bench(rails=[{"volt": "long"}])

    made = steps_of(started(template(step), by=anna, repair=repair))["t"]

    assert why in made["why_not_judged"]
