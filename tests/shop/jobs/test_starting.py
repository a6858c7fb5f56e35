"""What does not start, and why: gates, missing facts, limits nobody knows, too much of it."""

import pytest

from shop.core.errors import BadField, NotAllowed
from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.jobs.errors import FactsMissing, Gate, NoSuchTemplate, RepairClosed
from shop.jobs.models import Worksheet
from shop.jobs.services import publish_revision, retire_template, start_worksheet
from tests.factories.jobs import (
    caution,
    look,
    on_the_bench,
    reading,
    started,
    template,
)
from tests.factories.packs import FUSE, ROWS, steps_of

pytestmark = pytest.mark.django_db


def test_a_safety_reading_that_could_not_be_judged_stops_the_start(anna):
    band = {"low": None, "high": {"fact": "sheet.idle_watt"}}
    step = reading(quantity="power", band=band, safety=True)

    with pytest.raises(FactsMissing):
        started(template(caution(), step), by=anna)

    assert not Worksheet.objects.exists()


def test_a_safety_wait_without_a_known_end_stops_the_start(anna):
    step = {"id": "w", "kind": "timer", "title": "Wait", "safety": True,
            "seconds": {"fact": "sheet.cord_length_m", "times": 1}}  # fmt: skip
    assert steps_of(started(template(step), by=anna))["w"]["seconds"] == 1.8

    step["seconds"] = {"fact": "sheet.rated_watt", "times": 1}
    with pytest.raises(FactsMissing):
        started(template(step), by=anna)


def test_more_rows_than_declared_are_refused_not_cut_off(anna):
    step = reading(repeat={"over": "sheet.reservoirs", "as": "r", "max": 1})

    with pytest.raises(Gate, match="2 rows"):
        started(template(step), by=anna, repair=on_the_bench(reservoirs=ROWS))


def test_a_gate_says_why_and_nothing_is_kept(anna):
    gate = {"when": {"eq": ["sheet.supply_kind", "switch_mode"]}, "reason": "Not for {unit.code}."}
    repair = on_the_bench(supply_kind="switch_mode")

    with pytest.raises(Gate, match=f"Not for {repair.unit.code}."):
        started(template(gates=[gate]), by=anna, repair=repair)

    assert not Worksheet.objects.exists()
    assert not OutboxEvent.objects.exists()


def test_a_gate_may_look_at_an_outcome(anna):
    gate = {"when": {"eq": ["work.fuse.outcome", "no_answer"]}, "reason": "{work.fuse.text}"}

    with pytest.raises(Gate, match="Not known: fuse"):
        started(template(gates=[gate], work=[FUSE]), by=anna)


def test_what_is_asked_and_neither_answered_nor_known_is_missing(anna):
    facts = [{"key": "idle", "title": "Idle power", "quantity": "power", "required": True,
              "from": "sheet.idle_watt"}]  # fmt: skip
    step = reading(quantity="power", band={"low": None, "high": {"fact": "asked.idle"}})
    body = template(step, facts=facts)

    with pytest.raises(FactsMissing) as missing:
        started(body, by=anna)
    assert missing.value.facts["errors"][0]["field"] == "facts.idle"

    answered = started(body, by=anna, facts={"idle": "12W"})
    known = started(body, by=anna, repair=on_the_bench(idle_watt=15))
    assert steps_of(answered)["rail"]["band"]["high"] == 12
    assert steps_of(known)["rail"]["band"]["high"] == 15


@pytest.mark.parametrize("facts", [{"idle": "twelve"}, {"idle": "OL"}, {"other": 1}])
def test_an_answer_that_cannot_be_used_is_refused_at_its_field(anna, facts):
    asked = [{"key": "idle", "title": "Idle power", "quantity": "power"}]

    with pytest.raises(BadField) as refused:
        started(template(facts=asked), by=anna, facts=facts)

    assert refused.value.field == f"facts.{next(iter(facts))}"


def test_a_retired_template_an_unknown_one_and_a_closed_repair_start_nothing(anna):
    revision = publish_revision(body=template())
    repair = on_the_bench(stage="handed_back")
    with pytest.raises(RepairClosed):
        start_worksheet(id=new_id(), repair=repair, template="small", by=anna)
    retire_template(template=revision.template, reason="not done here any more", by=anna)
    for slug in ("small", "unheard-of"):
        with pytest.raises(NoSuchTemplate):
            start_worksheet(id=new_id(), repair=on_the_bench(), template=slug, by=anna)

    assert not Worksheet.objects.exists()


def test_a_managers_template_is_not_started_by_a_tech(anna):
    with pytest.raises(NotAllowed):
        started(template(role="manager"), by=anna)


def test_a_safety_reading_is_judged_whatever_is_chosen_before_it(anna):
    unknown = {"band": {"high": {"fact": "sheet.idle_watt"}}}
    step = reading(
        safety=True, quantity="power", band={"high": 9},
        variants={"keys": ["cord"], "cases": {"sound": unknown}},
    )  # fmt: skip
    body = template(look(safety=True), step)

    with pytest.raises(FactsMissing):
        started(body, by=anna)
    assert started(body, by=anna, repair=on_the_bench(idle_watt=5))


def test_a_worksheet_with_nothing_that_must_be_done_is_not_started(anna):
    body = template(look(when_fact={"known": "sheet.idle_watt"}), look("else", required=False))

    with pytest.raises(Gate, match="Nothing"):
        started(body, by=anna)
    assert started(body, by=anna, repair=on_the_bench(idle_watt=5))


@pytest.mark.parametrize("name", ["C1\0", "C\ud800"])
def test_an_answer_that_cannot_be_kept_is_refused(anna, name):
    body = template(facts=[{"key": "caps", "title": "Which?", "names": True}])

    with pytest.raises(BadField):
        started(body, by=anna, facts={"caps": name})


VOLTS = {name: given for name, given in FUSE["given"].items() if name != "old_mark"}


def each(depth, take):
    """A list that multiplies with each level."""
    for level in range(depth):
        take = {"each": {"over": "asked.caps", "as": f"cap{level}", "take": take}}
    return take


def test_loops_that_multiply_are_stopped_before_they_fill_the_machine(anna):
    work = {**FUSE, "given": {"old_mark": {"largest": each(6, {"value": 1})}, **VOLTS}}
    asked = {"key": "caps", "title": "Which?", "names": True}
    long = look(title="x" * 100_000, repeat={"over": "asked.caps", "as": "cap", "max": 64})
    names = ",".join(f"C{n}" for n in range(64))

    for body in (template(facts=[asked], work=[work]), template(long, facts=[asked])):
        with pytest.raises(Gate, match="more here than"):
            started(body, by=anna, facts={"caps": names})
