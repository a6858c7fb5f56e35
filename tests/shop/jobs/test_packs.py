"""Starting a worksheet: what is known goes in, what is not is said, nothing is guessed."""

import orjson
import pytest

from shop.core.errors import BadField, Conflict, NotAllowed
from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.jobs.errors import FactsMissing, Gate, NoSuchTemplate, RepairClosed
from shop.jobs.models import RecordHead, Worksheet
from shop.jobs.services import publish_revision, retire_template, start_worksheet
from tests.factories.jobs import (
    BenchFactory,
    MeterFactory,
    caution,
    look,
    on_the_bench,
    reading,
    started,
    template,
)
from tests.factories.stock import PartFactory

pytestmark = pytest.mark.django_db

FUSE = {
    "name": "fuse",
    "title": "Fuse",
    "calculator": "fuses.scale",
    "given": {
        "old_mark": {"fact": "sheet.at_set_for.fuse"},
        "old_volt": {"fact": "supply.set_for.volt"},
        "new_volt": {"fact": "supply.use_at.volt"},
    },
}
ROWS = [
    {"name": "C1", "volt": 20, "uf": 2200},
    {"name": "C2", "volt": 300, "uf": 47},
]


def pack_of(worksheet):
    return orjson.loads(bytes(worksheet.pack))


def steps_of(worksheet):
    return {step["id"]: step for step in pack_of(worksheet)["steps"]}


def test_a_pack_is_kept_as_the_bytes_whose_hash_stands_beside_it(anna):
    import hashlib

    worksheet = started(template(), by=anna, bench=BenchFactory())

    worksheet.refresh_from_db()
    assert hashlib.sha256(bytes(worksheet.pack)).hexdigest() == worksheet.pack_sha256
    assert RecordHead.objects.get(record=worksheet.id).last_seq == 0


def test_a_unit_fused_80_milliampere_on_230_volt_takes_160_on_115(anna):
    # Common practice, no source.
    repair = on_the_bench(supplies=[{"volt": 230, "links": [], "fuse": "T80mAL250V"}])
    repair.use_at_volt = 115
    shown = {"id": "fuse", "kind": "computed", "work": "fuse", "title": "{work.fuse.value.mark}"}

    worksheet = started(template(shown, work=[FUSE]), by=anna, repair=repair)

    work = pack_of(worksheet)["work"]["fuse"]
    assert work["value"]["current_milliampere"] == 160
    assert work["working"]["sources"]
    assert "160" in steps_of(worksheet)["fuse"]["title"]


def test_a_missing_fact_is_said_in_the_work_and_on_the_step(anna):
    shown = {"id": "fuse", "kind": "computed", "work": "fuse", "title": "Fuse"}
    text = {"id": "n", "kind": "note", "title": "Fuse {work.fuse.value.mark}"}

    worksheet = started(template(shown, text, work=[FUSE]), by=anna)

    work = pack_of(worksheet)["work"]["fuse"]
    assert (work["outcome"], work["value"]) == ("no_answer", None)
    assert work["text"] == "Not known: fuse for the supply it is set for."
    assert steps_of(worksheet)["fuse"]["why_not_judged"] == work["text"]
    assert "[not known" in steps_of(worksheet)["n"]["title"]


def test_limits_from_an_unknown_fact_leave_the_reading_unjudged_with_the_reason(anna):
    step = reading(quantity="power", band={"low": None, "high": {"fact": "sheet.idle_watt"}})

    made = steps_of(started(template(step), by=anna))["rail"]

    assert made["band"] is None
    assert made["why_not_judged"] == "Not known: idle power of this model."


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


def test_a_block_is_repeated_for_each_row_and_conditions_mean_the_same_turn(anna):
    inner = [
        look("seen"),
        reading("rest", when={"eq": ["seen", "sound"]}, title="{r.name} {r.volt|voltage_dc}"),
    ]
    block = {"repeat": {"over": "sheet.reservoirs", "as": "r", "max": 4}, "steps": inner}
    after = {"id": "end", "kind": "note", "title": "End", "when": {"eq": ["seen", "sound"]}}

    made = steps_of(started(template(block, after), by=anna, repair=on_the_bench(reservoirs=ROWS)))

    assert list(made) == ["seen.1", "rest.1", "seen.2", "rest.2", "end"]
    assert made["rest.2"]["when"] == {"eq": ["seen.2", "sound"]}
    assert made["rest.2"]["title"] == "C2 300 V"
    assert made["end"]["when"] == {
        "and": [{"eq": ["seen.1", "sound"]}, {"eq": ["seen.2", "sound"]}]
    }


def test_more_rows_than_declared_are_refused_not_cut_off(anna):
    step = reading(repeat={"over": "sheet.reservoirs", "as": "r", "max": 1})

    with pytest.raises(Gate, match="2 rows"):
        started(template(step), by=anna, repair=on_the_bench(reservoirs=ROWS))


def test_looped_work_is_named_without_its_number_inside_its_loop(anna):
    loop = {"over": "sheet.supplies", "as": "s", "max": 4}
    work = {**FUSE, "for_each": loop, "given": {
        "old_mark": {"fact": "s.fuse"}, "old_volt": {"fact": "s.volt"}, "new_volt": {"value": 115},
    }}  # fmt: skip
    step = {"id": "f", "kind": "computed", "title": "{work.fuse.value.mark}", "work": "fuse",
            "repeat": loop}  # fmt: skip
    most = reading("most", quantity="count", band={
        "low": None,
        "high": {"largest": {"work": "fuse.value.current_milliampere"}, "times": 0.001},
    })  # fmt: skip
    supplies = [{"volt": 230, "fuse": "T80mAL250V"}, {"volt": 115, "fuse": "T200mAL250V"}]

    worksheet = started(
        template(step, most, work=[work]), by=anna, repair=on_the_bench(supplies=supplies)
    )

    made = steps_of(worksheet)
    assert (made["f.1"]["work"], made["f.2"]["work"]) == ("fuse.1", "fuse.2")
    assert "160" in made["f.1"]["title"]
    assert made["most"]["band"]["high"] == pytest.approx(0.2)


def test_steps_whose_fact_condition_fails_are_left_out(anna):
    step = look(when_fact={"eq": ["sheet.supply_kind", "switch_mode"]})

    assert list(steps_of(started(template(caution(), step), by=anna))) == ["unplug"]


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


def test_a_repeat_of_the_id_returns_the_first_worksheet(anna):
    body, repair, id = template(), on_the_bench(), new_id()
    publish_revision(body=body)
    first, new = start_worksheet(id=id, repair=repair, template="small", by=anna)
    publish_revision(body={**body, "minutes": 9})

    again, again_new = start_worksheet(id=id, repair=repair, template="small", by=anna)

    assert (new, again_new) == (True, False)
    assert again.pack_sha256 == first.pack_sha256
    with pytest.raises(Conflict):
        start_worksheet(id=id, repair=on_the_bench(), template="small", by=anna)


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


def test_a_pack_is_in_the_language_of_who_works_it_and_falls_back_to_english(anna):
    anna.language = "de"
    step = {"id": "n", "kind": "note", "title": {"en": "Note", "de": "Notiz"}, "text": "Only so"}

    pack = pack_of(started(template(step), by=anna))

    assert pack["language"] == "de"
    assert (pack["steps"][0]["title"], pack["steps"][0]["text"]) == ("Notiz", "Only so")


def test_parts_are_found_by_order_code_then_by_name_and_a_missing_one_cannot_be_asked_for(anna):
    by_code = PartFactory(order_code="X-1")
    by_name = PartFactory(name="Grommet")
    parts = [
        {"key": "a", "order_code": "X-1", "name": "Fuse", "quantity": 2},
        {"key": "b", "name": "Grommet", "quantity": 1},
        {"key": "c", "name": "Unobtainable", "quantity": 1},
    ]
    steps = [{"id": k, "kind": "take_part", "title": k, "part": k} for k in "abc"]

    made = steps_of(started(template(*steps, parts=parts), by=anna))

    assert made["a"]["part"]["code"] == by_code.code
    assert made["a"]["quantity"] == 2
    assert made["b"]["part"]["code"] == by_name.code
    assert made["c"]["required"] is False
    assert "Unobtainable" in made["c"]["why_not_judged"]


def test_the_pack_carries_the_meters_in_use_with_their_accuracy(anna):
    meter = MeterFactory()
    MeterFactory(retired_on="2020-01-01")

    (card,) = pack_of(started(template(), by=anna))["meters"]

    assert card["id"] == str(meter.id)
    assert card["accuracy"][0]["percent"] == 1.0


def test_variants_carry_only_what_they_change(anna):
    variants = {"keys": ["cord"], "cases": {"damaged": {"band": {"low": 0, "high": 1}}}}

    made = steps_of(started(template(look(), reading(variants=variants)), by=anna))["rail"]

    assert made["variants"]["cases"] == {"damaged": {"band": {"low": 0, "high": 1}}}


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
