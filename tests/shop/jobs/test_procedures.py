"""A template worked inside another one: its steps, work, questions and gates come along."""

import orjson
import pytest

from shop.core.errors import BadField
from shop.jobs.errors import FactsMissing, Gate, TemplateFaulty
from shop.jobs.format import check_template
from shop.jobs.format.revisions import Procedure
from shop.jobs.models import Revision, Worksheet
from shop.jobs.services import publish_revision
from tests.factories.jobs import caution, look, on_the_bench, reading, started, template
from tests.factories.working import work_to_end
from tests.shop.jobs.test_packs import FUSE

pytestmark = pytest.mark.django_db
TURNS = {"key": "turns", "title": "How many turns?", "quantity": "count", "required": True}
NAMES = {"key": "caps", "title": "Which?", "names": True, "required": True}


def procedure(id="check", of="inner", **more):
    return {"id": id, "kind": "procedure", "procedure": {"template": of}, **more}


def pack_of(worksheet):
    return orjson.loads(bytes(worksheet.pack))


def steps_of(worksheet):
    return {step["id"]: step for step in pack_of(worksheet)["steps"]}


def reasons(body):
    """What is wrong with a template beside those that are published."""

    def find(named):
        rows = Revision.objects.filter(template_id=named["template"]).order_by("-number")
        return next((Procedure(r.template_id, r.number, r.body) for r in rows), None)

    return [problem.reason for problem in check_template(body, find_procedure=find)]


def test_its_steps_stand_in_the_pack_with_their_references_prefixed(anna):
    inner = template(
        look(),
        reading("one", when={"eq": ["cord", "sound"]}, phase=None),
        reading("two", when={"eq": ["cord", "sound"]},
                band={"along": "one", "points": {"value": [[0, 0, 1], [9, 0, 1]]}}),
        look("three", variants={"keys": ["cord"], "cases": {"sound": {"work": "fuse"}}}),
        slug="inner", title="Inner", work=[FUSE],
    )  # fmt: skip
    publish_revision(body=inner)
    outer = template(look("first"), procedure(when={"eq": ["first", "sound"]}), look("last"))

    pack = pack_of(started(outer, by=anna))

    made = {step["id"]: step for step in pack["steps"]}
    assert list(made) == ["first", "check-cord", "check-one", "check-two", "check-three", "last"]
    assert made["check-cord"]["when"] == {"eq": ["first", "sound"]}
    assert made["check-one"]["when"] == {
        "and": [{"eq": ["first", "sound"]}, {"eq": ["check-cord", "sound"]}]
    }
    assert made["check-two"]["band"]["along"] == "check-one"
    assert made["check-three"]["variants"]["keys"] == ["check-cord"]
    assert made["check-three"]["variants"]["cases"]["sound"]["work"] == "check_fuse"
    assert set(pack["work"]) == {"check_fuse"}
    assert made["check-cord"]["procedure"] == {"slug": "inner", "revision": 1, "title": "Inner"}
    assert (made["check-cord"]["group"], made["last"]["group"]) == ("Inner", "")
    assert "procedure" not in made["last"]


def test_a_procedure_in_a_procedure_is_worked_to_the_end(anna):
    publish_revision(body=template(caution(), look(), slug="innermost"))
    publish_revision(body=template(procedure(of="innermost"), reading(), slug="inner"))

    sheet = started(template(procedure(id="a"), procedure(id="b")), by=anna)

    assert list(steps_of(sheet)) == [
        "a-check-unplug", "a-check-cord", "a-rail", "b-check-unplug", "b-check-cord", "b-rail",
    ]  # fmt: skip
    assert steps_of(sheet)["a-check-cord"]["procedure"]["slug"] == "innermost"
    assert work_to_end(sheet, anna) == "passed"


def test_publishing_pins_the_revision_so_that_later_ones_change_nothing(anna):
    publish_revision(body=template(look("old"), slug="inner"))
    outer = publish_revision(body=template(procedure()))
    publish_revision(body=template(look("new"), slug="inner"))

    assert outer.body["steps"][0]["procedure"] == {"template": "inner", "revision": 1}
    assert list(steps_of(started(outer.body, by=anna))) == ["check-old"]


def test_what_both_ask_is_asked_once_and_answers_both(anna):
    step = reading(repeat={"over": "asked.turns", "as": "turn", "max": 4})
    publish_revision(body=template(step, slug="inner", facts=[TURNS]))
    outer = template(procedure(), reading(title="{asked.turns} turns"), facts=[TURNS])

    with pytest.raises(FactsMissing) as missing:
        started(outer, by=anna)
    made = steps_of(started(outer, by=anna, facts={"turns": "2"}))

    assert [row["field"] for row in missing.value.facts["errors"]] == ["facts.turns"]
    assert list(made) == ["check-rail.1", "check-rail.2", "rail"]
    assert made["rail"]["title"] == "2 turns"


def test_a_procedure_that_is_not_for_this_unit_asks_nothing_and_is_left_out(anna):
    publish_revision(body=template(look(), slug="inner", facts=[TURNS]))
    outer = template(procedure(when_fact={"known": "sheet.idle_watt"}), reading())

    assert list(steps_of(started(outer, by=anna))) == ["rail"]
    with pytest.raises(FactsMissing):
        started(outer, by=anna, repair=on_the_bench(idle_watt=5))


def test_its_gates_and_cautions_hold(anna):
    gate = {"when": {"known": "sheet.idle_watt"}, "reason": "Not for this one."}
    publish_revision(body=template(look(), slug="inner", gates=[gate], cautions=["Mind it."]))
    outer = template(procedure(), cautions=["First."])

    assert pack_of(started(outer, by=anna))["cautions"] == ["First.", "Mind it."]
    with pytest.raises(Gate, match="Not for this one"):
        started(outer, by=anna, repair=on_the_bench(idle_watt=5))


def test_names_typed_with_commas_are_the_turns_of_a_loop(anna):
    step = reading(repeat={"over": "asked.caps", "as": "cap", "max": 8}, title="{cap.name}")
    body = template(step, facts=[NAMES])

    made = steps_of(started(body, by=anna, facts={"caps": "C12, C13 ,C101,"}))

    assert [one["title"] for one in made.values()] == ["C12", "C13", "C101"]
    for wrong in ("", " , ", "C1,C1", "x" * 41, ["C1"], ",".join(f"C{n}" for n in range(65))):
        with pytest.raises(BadField):
            started(body, by=anna, facts={"caps": wrong})
    assert Worksheet.objects.count() == 1


def test_a_procedure_without_end_is_refused():
    publish_revision(body=template(look(), slug="small"))
    publish_revision(body=template(procedure(of="small"), slug="inner"))

    assert reasons(template(procedure(of="small"))) == [
        "small > small works itself: this never ends."
    ]
    assert reasons(template(procedure())) == [
        "small > inner > small works itself: this never ends."
    ]


def test_procedures_are_nested_three_deep_at_most():
    publish_revision(body=template(look(), slug="level-0"))
    for level in range(1, 4):
        publish_revision(body=template(procedure(of=f"level-{level - 1}"), slug=f"level-{level}"))

    assert reasons(template(procedure(of="level-2"))) == []
    assert reasons(template(procedure(of="level-3"))) == ["Procedures are nested more than 3 deep."]


INNER = template(caution(), look(), slug="inner", facts=[TURNS])


@pytest.mark.parametrize(
    ("part", "inner", "outer"),
    [
        ("no published job template", INNER, template(procedure(of="lost"))),
        ("is another question", INNER, template(procedure(), facts=[{**TURNS, "title": "x"}])),
        ("worked by the manager", {**INNER, "role": "manager"}, template(procedure())),
        ("hang only on safety", INNER, template(look(), procedure(when={"eq": ["cord", "sound"]}))),
        ("stands twice", INNER, template(procedure(), look("check-cord"))),
        ("more than 60", INNER, template(procedure(id="c" * 54))),
        ("not repeated", INNER, template(
            {"repeat": {"over": "sheet.rails", "as": "r", "max": 2}, "steps": [procedure()]})),
        ("more than 400", template(*[look(f"s{n}") for n in range(150)], slug="inner"),
         template(procedure("a"), procedure("b"), procedure("c"))),
    ],
)  # fmt: skip
def test_a_procedure_that_does_not_fit_is_refused(part, inner, outer):
    publish_revision(body=inner)

    (reason,) = reasons(outer)
    assert part in reason


LOOP = {"over": "sheet.rails", "as": "rail", "max": 2}


@pytest.mark.parametrize(
    "more", [{"repeat": LOOP}, {"safety": True}, {"mains": True}, {"required": False}]
)
def test_a_procedure_has_no_fields_of_its_own_beside_when(more):
    assert "does not belong here" in " ".join(reasons(template(procedure(**more))))


def test_a_template_cannot_be_published_with_a_procedure_that_is_not_there():
    with pytest.raises(TemplateFaulty, match="no published job template lost"):
        publish_revision(body=template(procedure(of="lost")))


def test_the_shelf_offers_all_that_a_template_and_its_procedures_ask(api, anna):
    publish_revision(body=template(look(), slug="inner", facts=[TURNS, NAMES]))
    publish_revision(body=template(procedure(), facts=[TURNS]))

    facts = api(anna).get("/api/v1/job-templates/small/").json()["facts"]

    assert [(fact["key"], fact["names"]) for fact in facts] == [("turns", False), ("caps", True)]


def test_no_step_of_a_procedure_takes_the_id_of_one_that_the_shop_puts_in():
    sign = {"id": "person", "kind": "sign_off", "title": "Sign", "role": "tech"}
    publish_revision(body=template(sign, slug="inner"))

    assert reasons(template(procedure("second"))) == ["The id 'second-person' stands twice."]


def test_two_procedures_do_not_make_the_same_id_or_the_same_name_of_work():
    publish_revision(body=template(look("b-c"), slug="one", work=[{**FUSE, "name": "b_c"}]))
    publish_revision(body=template(look("c"), slug="two", work=[{**FUSE, "name": "c"}]))

    same_id = template(procedure("a", "one"), procedure("a-b", "two"))
    same_work = template(procedure("a", "one"), procedure("a_b", "two"))

    assert reasons(same_id) == ["The id 'a-b-c' stands twice."]
    assert reasons(same_work) == ["'a_b_c' stands twice."]
