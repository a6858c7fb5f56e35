"""What would fail at the bench is found when a template is taken in, with step and line."""

import io
import json

import pytest
from django.core.management import CommandError, call_command

from shop.jobs.errors import TemplateFaulty
from shop.jobs.format import check_template, read_template
from shop.jobs.models import Revision
from shop.jobs.services import import_template, publish_revision
from shop.jobs.shipped import shipped_templates
from tests.factories.jobs import caution, look, reading, table, template
from tests.shop.jobs.test_packs import FUSE


def reasons(body):
    return [problem.reason for problem in check_template(body)]


def one(body, part):
    """The one problem of a template."""
    (problem,) = check_template(body)
    assert part in problem.reason
    return problem


def test_a_sound_template_has_no_problem():
    assert check_template(template()) == []


@pytest.mark.parametrize("file", shipped_templates(), ids=lambda file: file.stem)
def test_the_templates_that_come_along_are_sound(file):
    body, lines, problems = read_template(file.read_bytes())

    assert [str(p) for p in problems or check_template(body, lines)] == []


def test_a_fault_names_its_step_and_its_line():
    body = template(caution(), look(when={"eq": ["unplug", "x"]}))
    text = json.dumps(body, indent=1)
    line = next(n for n, row in enumerate(text.splitlines(), 1) if '"when"' in row)

    read, lines, _none = read_template(text.encode())
    (problem,) = check_template(read, lines)

    assert (problem.step, problem.path) == ("cord", ("steps", 1, "when"))
    assert problem.field == "steps[1].when"
    assert problem.line in (line, line + 1)
    assert str(problem).startswith(f"line {problem.line}: step cord: ")


@pytest.mark.parametrize(
    ("text", "part"),
    [
        (b'{"a": 1,}', "no JSON"),
        (b'{"a": 1, "a": 2}', "twice"),
        (b'{"a": NaN}', "no number"),
        (b"\xff\xfe", "no JSON"),
    ],
)
def test_what_is_no_json_says_so(text, part):
    _body, _lines, (problem,) = read_template(text)

    assert part in problem.reason


@pytest.mark.parametrize("body", [None, [], {}, {"schema_version": 2}, "text"])
def test_what_departs_from_the_schema_is_refused(body):
    assert check_template(body)


GIVEN = FUSE["given"]
COLUMN = {"key": "volt", "title": "Volts", "quantity": "voltage_dc"}
CASES = [
    ("no calculator", template(work=[{**FUSE, "calculator": "fuses.guess"}])),
    ("takes no 'volts'", template(work=[{**FUSE, "given": {**GIVEN, "volts": {"value": 1}}}])),
    ("needs 'new_volt'", template(work=[{**FUSE, "given": dict(list(GIVEN.items())[:2])}])),
    ("there is no 'idle'", template(reading(band={"low": {"fact": "sheet.idle"}}))),
    ("nothing known is called", template(reading(band={"low": {"fact": "weather.temp"}}))),
    ("no earlier work", template({"id": "c", "kind": "computed", "title": "c", "work": "late"})),
    ("there is no 'marks'", template({**look(), "text": "{work.fuse.value.marks}"}, work=[FUSE])),
    ("is not asked", template(reading(band={"low": {"fact": "asked.it"}}))),
    ("no way of writing", template({**look(), "text": "{sheet.idle_watt|furlongs}"})),
    ("A brace", template({**look(), "text": "{Sheet}"})),
    ("is no list", template(reading(repeat={"over": "sheet.kind", "as": "r", "max": 2}))),
    ("unit of voltage_dc is V", template(reading(unit="A"))),
    ("lower limit is above", template(reading(band={"low": 2, "high": 1}))),
    ("stands twice", template(look(), look())),
    ("no earlier look step", template(reading(when={"eq": ["cord", "sound"]}), look())),
    ("no choice of 'cord'", template(look(), reading(when={"eq": ["cord", "lost"]}))),
    ("can never hold", template(look(), reading(
        when={"and": [{"eq": ["cord", "sound"]}, {"eq": ["cord", "damaged"]}]}))),
    ("can never hold", template(look(), look("plug", when={"eq": ["cord", "damaged"]}), reading(
        when={"and": [{"eq": ["cord", "sound"]}, {"eq": ["plug", "sound"]}]}))),
    ("needs a caution before", template(reading(mains=True), caution())),
    ("always required", template(caution(required=False))),
    ("only on safety steps", template(look(), caution(when={"eq": ["cord", "sound"]}))),
    ("no earlier reading", template(reading(band={"along": "later", "points": {"value": []}}))),
    ("not among the parts", template({"id": "t", "kind": "take_part", "title": "t", "part": "x"})),
    ("must name 1 choices", template(look(), reading(
        variants={"keys": ["cord"], "cases": {"sound|sound": {"title": "x"}}}))),
    ("this work runs over", template(
        {**look(), "text": "{work.fuse.value.mark}"},
        work=[{**FUSE, "for_each": {"over": "sheet.supplies", "as": "s", "max": 3}}])),
    ("can say that work goes on", template({**look(), "choices": [
        {"key": "sound", "label": "s", "verdict": "pass"},
        {"key": "lost", "label": "l", "verdict": "fail", "goes_on": True}]})),
    ("Only a reading of power", template(reading(writes="sheet.idle_watt"))),
    ("needs a caution before it", template(reading(energised=True))),
    ("needs a caution before it", template(  # the only caution can be hidden
        look(), caution(safety=False, when={"eq": ["cord", "damaged"]}), reading(mains=True))),
    ("id that the shop's own", template(look("isolation"))),
    ("needs limits", template({
        "id": "r", "kind": "reading", "title": "r", "quantity": "power", "phase": "as_left",
        "blocks": True})),
    ("Every choice fails", template({**look(), "choices": [
        {"key": "a", "label": "a", "verdict": "fail"},
        {"key": "b", "label": "b", "verdict": "fail"}]})),
    ("can be hidden", template(
        look(), reading("one", when={"eq": ["cord", "sound"]}),
        reading(band={"along": "one", "points": {"value": [[0, 0, 1], [9, 0, 1]]}}))),
    ("that rise", template(reading("one"), reading(
        band={"along": "one", "points": {"value": [[9, 0, 1], [0, 0, 1]]}}))),
    ("No reading of resistance", template(reading(
        quantity="resistance", band={"low": None, "high": -5}))),
    ("nominal value lies", template(reading(band={"low": 1, "high": 2, "nominal": 3}))),
    ("is in W, this is in V", template(reading(band={"high": {"fact": "sheet.idle_watt"}}))),
    ("This is no number", template(reading(band={"high": {"fact": "sheet.make"}}))),
    ("shorter than none", template({"id": "t", "kind": "timer", "title": "t", "seconds": -1})),
    ("How many pieces", template(
        {"id": "t", "kind": "take_part", "title": "t", "part": "x", "quantity": "power"},
        parts=[{"key": "x", "name": "x", "quantity": 1}])),
    ("has no 'seconds'", template(look(), reading(
        variants={"keys": ["cord"], "cases": {"sound": {"seconds": 5}}}))),
    ("name of something else", template(
        reading(repeat={"over": "sheet.rails", "as": "sheet", "max": 2}))),
    ("never 'valve'", template(look(when_fact={"eq": ["sheet.supply_kind", "valve"]}))),
    ("never 1", template(look(when_fact={"eq": ["sheet.protection_class", 1]}))),
    ("never 'lava'", template(look(when_fact={"has": ["sheet.hazards", "lava"]}))),
    ("can never hold", template(look(when_fact={"and": [
        {"eq": ["sheet.make", "A"]}, {"eq": ["sheet.make", "B"]}]}))),
    ("can never hold", template(look(when_fact={"and": [
        {"known": "sheet.two_wire"}, {"not": {"in": ["sheet.two_wire", [True, False]]}}]}))),
    ("can never hold", template(look(when_fact={"and": [
        {"at_least": ["sheet.idle_watt", 10]}, {"eq": ["sheet.idle_watt", 5]}]}))),
    ("never 'c'", template(
        look(when_fact={"in": ["asked.way", ["a", "c"]]}),
        facts=[{"key": "way", "title": "way", "choices": [
            {"key": "a", "label": "a"}, {"key": "b", "label": "b"}]}])),
    ("is no list", template(
        reading(repeat={"over": "asked.volt", "as": "r", "max": 2}),
        facts=[{"key": "volt", "title": "volt", "quantity": "voltage_dc"}])),
    ("There is no column 'hiss'", template(table(rows=[{"title": "a", "limits": {
        "hiss": {"low": 1}}}]))),
    ("The key 'volt' stands twice", template(table(columns=[COLUMN, COLUMN]))),
    ("unit of voltage_dc is V", template(table(columns=[{**COLUMN, "unit": "A"}]))),
    ("lower limit is above", template(table(columns=[{**COLUMN, "band": {"low": 2, "high": 1}}]))),
    ("No required column has limits", template(table(blocks=True))),
    ("there is no 'colour'", template(table(rows={
        "over": "sheet.rails", "as": "rail", "max": 9, "title": "{rail.colour}"}))),
]  # fmt: skip


@pytest.mark.parametrize(("part", "body"), CASES, ids=[part for part, _body in CASES])
def test_what_would_fail_at_the_bench_is_refused(part, body):
    one(body, part)


@pytest.mark.parametrize(
    "more",
    [
        {"when_fact": {"not": {"at_least": ["sheet.idle_watt", 10]}}},
        {"when_fact": {"or": [{"eq": ["sheet.make", "A"]}, {"eq": ["sheet.make", "B"]}]}},
        {"when_fact": {"and": [{"known": "sheet.make"}, {"not": {"eq": ["sheet.make", "A"]}}]}},
        {"when_fact": {"has": ["sheet.hazards", "live_chassis"]}},
        {"when_fact": {"same": ["supply.set_for.volt", "supply.use_at.volt"]}},
        {"repeat": {"over": "asked.turns", "as": "turn", "max": 9}, "text": "{turn.number}"},
        {"repeat": {"over": "asked.parts", "as": "part", "max": 9}, "text": "{part.name}"},
    ],
)
def test_what_can_be_is_not_refused(more):
    facts = [
        {"key": "turns", "title": "How many?", "quantity": "count"},
        {"key": "parts", "title": "Which?", "names": True},
    ]

    assert check_template(template(look(**more), facts=facts)) == []


def test_a_question_whose_key_ends_in_the_word_of_a_unit_counts_in_its_own_quantity():
    facts = [{"key": "noise_at_one_metre", "title": "Noise?", "quantity": "sound_level"}]
    limit = reading(
        quantity="sound_level", unit="dB(A)", band={"high": {"fact": "asked.noise_at_one_metre"}}
    )

    assert check_template(template(limit, facts=facts)) == []


def test_a_loop_without_a_maximum_fails_the_schema():
    assert check_template(template(reading(repeat={"over": "sheet.rails", "as": "r"})))


def test_more_than_64_cases_fail_the_schema():
    cases = {f"k{n}": {"title": "x"} for n in range(65)}

    assert check_template(template(look(), reading(variants={"keys": ["cord"], "cases": cases})))


@pytest.mark.django_db
def test_the_same_template_again_keeps_its_revision_and_a_change_makes_the_next(max):
    first = publish_revision(body=template(), by=max)
    same = publish_revision(body=template(), by=max)
    changed = publish_revision(body=template(minutes=6), by=max)

    assert (first.number, same.id, changed.number) == (1, first.id, 2)
    assert Revision.objects.get(number=1).body["minutes"] == 5


@pytest.mark.django_db
def test_a_faulty_template_is_not_taken_in():
    with pytest.raises(TemplateFaulty):
        import_template(content=json.dumps(template(reading(unit="A"))).encode())

    assert not Revision.objects.exists()


@pytest.mark.django_db
def test_the_command_checks_files_and_says_line_step_and_reason(tmp_path):
    bad, good = tmp_path / "bad.json", tmp_path / "good.json"
    bad.write_text(json.dumps(template(reading(unit="A"))))
    good.write_text(json.dumps(template()))
    said, out = io.StringIO(), io.StringIO()

    with pytest.raises(CommandError, match="1 job templates have faults"):
        call_command("import_template", str(bad), str(good), stderr=said, stdout=out)

    assert "line 1: step rail: steps[0].unit" in said.getvalue()
    assert "small revision 1" in out.getvalue()


def test_a_name_that_ends_with_a_line_break_is_no_name():
    one({**template(), "slug": "small\n"}, "not written as it must be")
    one(template(look("cord\n")), "not written as it must be")


def many_looks(count):
    """Look steps with so many choices that not every set of them can be tried."""
    keys = [f"k{n}" for n in range(12)]
    return [
        look(f"l{n}", choices=[{"key": key, "label": key} for key in keys]) for n in range(count)
    ]


def test_a_caution_that_hangs_on_many_choices_is_none_for_a_step_that_is_always_shown():
    when = {"and": [{"eq": [f"l{n}", "k1"]} for n in range(6)]}
    warning = caution(when=when, safety=False)

    one(template(*many_looks(6), warning, look("m", mains=True)), "needs a caution")
    one(
        template(*many_looks(6), caution(when={"not": when}, safety=False), look("m", mains=True)),
        "needs a caution",
    )
    assert check_template(template(*many_looks(6), warning, look("m", mains=True, when=when))) == []


def test_a_condition_on_many_choices_that_cannot_hold_is_found():
    all_same = [{"eq": [f"l{n}", "k1"]} for n in range(6)]
    when = {"and": [*all_same, {"in": ["l0", ["k2", "k3"]]}]}

    one(template(*many_looks(6), look("m", when=when)), "never hold")


def test_of_very_many_faults_the_first_are_told():
    assert len(check_template(template(cautions=[1] * 5000))) == 200


@pytest.mark.parametrize("text", ["[" + "0," * 300_000 + "0]", "- 0\n" * 300_000])
def test_a_file_of_very_many_values_is_not_read(text):
    _body, _lines, (problem,) = read_template(text.encode())

    assert "too long" in problem.reason
