"""Whatever phones send, in whatever order and however often: one chain, one answer per step."""

import orjson
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shop.jobs.format import check_template
from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.state import SETTLED_BY, standing_of, states
from shop.jobs.selectors import effective_entries, entries_of, first_break_of, is_single
from shop.jobs.services import apply_operations
from tests.factories.core import PersonFactory
from tests.factories.jobs import Phone, caution, correcting, look, reading, started, template

pytestmark = pytest.mark.django_db
RELAXED = settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)

moves = st.lists(
    st.one_of(
        st.tuples(st.just("acknowledge")),
        st.tuples(st.just("choose"), st.sampled_from(["sound", "damaged", "lost"])),
        st.tuples(st.just("read"), st.sampled_from(["5", "7", "n/m", "five"])),
        st.tuples(st.just("skip"), st.sampled_from(["rail", "unplug"])),
        st.tuples(st.just("note")),
        st.tuples(st.just("correct"), st.integers(0, 30), st.sampled_from(["5", "7"])),
        st.tuples(st.just("repeat"), st.integers(0, 30)),
    ),
    max_size=25,
)


def operation(phone, move, made):
    match move:
        case ("acknowledge",):
            return phone.acknowledge()
        case ("choose", choice):
            return phone.choose("cord", choice)
        case ("read", "n/m"):
            return phone.read("rail", "n/m", state="not_measured", value_text=None)
        case ("read", typed):
            return phone.read("rail", typed)
        case ("skip", step):
            return phone.skip(step)
        case ("note",):
            return phone.entry("note", text="a note")
        case ("correct", index, typed) if made:
            return correcting(phone.read("rail", typed), made[index % len(made)])
        case ("repeat", index) if made:
            return made[index % len(made)]
    return None


@RELAXED
@given(moves=moves, size=st.integers(1, 7))
def test_any_sequence_leaves_a_chain_that_holds_and_one_answer_per_step(moves, size):
    worker = PersonFactory(role="tech")
    sheet = started(template(caution(), look(), reading()), by=worker)
    phone, made = Phone(worker, sheet), []
    for move in moves:
        if (one := operation(phone, move, made)) is not None:
            made.append(one)

    for start in range(0, len(made), size):
        batch = made[start : start + size]
        results = apply_operations(person=worker, device_id=None, operations=batch)
        assert len(results) == len(batch)

    assert first_break_of(sheet.id) is None
    seqs = list(Entry.objects.filter(record=sheet.id).values_list("seq", flat=True))
    assert sorted(seqs) == list(range(1, len(seqs) + 1))
    single = [e.step for e, _before in effective_entries(sheet.id) if is_single(e)]
    assert len(single) == len(set(single))


@RELAXED
@given(moves=moves)
def test_sending_everything_twice_is_sending_it_once(moves):
    worker = PersonFactory(role="tech")
    sheet = started(template(caution(), look(), reading()), by=worker)
    phone, made = Phone(worker, sheet), []
    for move in moves:
        if (one := operation(phone, move, made)) is not None:
            made.append(one)
    for one in made:
        apply_operations(person=worker, device_id=None, operations=[one])
    before = list(entries_of(sheet.id).values_list("id", "seq", "hash"))
    stage = Worksheet.objects.get(id=sheet.id).stage

    kept = {str(id) for id, _seq, _hash in before}
    for one in made:
        if one["id"] in kept:
            (again,) = apply_operations(person=worker, device_id=None, operations=[one])
            assert again.outcome == "repeated"

    assert list(entries_of(sheet.id).values_list("id", "seq", "hash")) == before
    assert Worksheet.objects.get(id=sheet.id).stage == stage


steps = st.lists(
    st.sampled_from(["caution", "look", "reading", "note", "photo", "instruction", "timer"]),
    min_size=1,
    max_size=8,
)


@st.composite
def templates(draw):
    """Valid small templates: any kinds, some steps safety, some behind a choice."""
    made = []
    for index, kind in enumerate(draw(steps)):
        more = {"safety": kind in ("caution", "look", "timer") and draw(st.booleans())}
        looks = [
            s["id"] for s in made if s["kind"] == "look" and (s["safety"] or not more["safety"])
        ]
        if looks and draw(st.booleans()):
            more["when"] = {"eq": [draw(st.sampled_from(looks)), "sound"]}
        made.append(_step(f"s{index}", kind, more))
    return template(*made)


def _step(id, kind, more):
    if kind == "look":
        return look(id, **more)
    if kind == "reading":
        return reading(id, **more)
    extra = {"seconds": 5} if kind == "timer" else {}
    return {"id": id, "kind": kind, "title": id, **extra, **more}


def _answer(phone, step):
    """The entry that settles a step well."""
    kind, id = SETTLED_BY[step["kind"]], step["id"]
    if kind == "choice":
        return phone.choose(id, "sound")
    if kind == "reading":
        return phone.read(id, "5")
    values = {
        "photo": {"sha256": "0" * 64, "width": 1, "height": 1, "size": 1},
        "note": {"text": "a note"},
        "timer": {"started_at": "2026-03-02T09:00:00Z", "ended_at": "2026-03-02T09:00:05Z"},
    }
    return phone.entry(kind, id, **values.get(kind, {}))


@RELAXED
@given(body=templates())
def test_any_valid_template_can_be_worked_to_the_end(body):
    if any("never hold" in problem.reason for problem in check_template(body)):
        return
    worker = PersonFactory(role="tech")
    sheet = started(body, by=worker)
    phone = Phone(worker, sheet)
    pack = orjson.loads(bytes(sheet.pack))
    for _round in range(len(body["steps"]) + 1):
        found = states(pack, standing_of(entries_of(sheet.id)))
        open_one = next((s for s in found if not s.settled and not s.locked_by), None)
        if open_one is None:
            break
        (result,) = apply_operations(
            person=worker, device_id=None, operations=[_answer(phone, open_one.step)]
        )
        assert result.outcome == "applied", result

    assert Worksheet.objects.get(id=sheet.id).stage == "passed"
