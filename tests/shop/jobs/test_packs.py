"""Starting a worksheet: what is known goes in, what is not is said, nothing is guessed."""

import pytest

from shop.core.errors import Conflict
from shop.core.ids import new_id
from shop.jobs.models import RecordHead
from shop.jobs.services import publish_revision, start_worksheet
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
from tests.factories.packs import FUSE, ROWS, pack_of, steps_of
from tests.factories.stock import PartFactory

pytestmark = pytest.mark.django_db


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
