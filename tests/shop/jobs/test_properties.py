"""Whatever phones send, in whatever order and however often: one chain, one answer per step."""

from contextlib import suppress

import orjson
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shop.core.ids import new_id
from shop.jobs.errors import StepLocked
from shop.jobs.format import check_template
from shop.jobs.format.revisions import Procedure
from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.state import stage_of, standing_of
from shop.jobs.selectors import effective_entries, entries_of, first_break_of, is_single
from shop.jobs.services import (
    apply_operations,
    import_template_file,
    publish_revision,
    sign_off,
)
from shop.jobs.shipped import shipped_templates
from tests.factories.core import PersonFactory
from tests.factories.jobs import (
    Phone,
    caution,
    correcting,
    look,
    on_the_bench,
    reading,
    started,
    template,
)
from tests.factories.stock import PartFactory
from tests.factories.templates import ANSWERS, SHEET, books_of_templates, with_everything
from tests.factories.working import entries_for, work_to_end

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


def on_a_drawn_bench(book, worker):
    """A worksheet of the last template of a book, the others being its procedures."""
    PartFactory(name="Fuse of the tests")
    for body in book[:-1]:
        publish_revision(body=body)
    return started(book[-1], by=worker, repair=on_the_bench(**SHEET), facts=ANSWERS)


@RELAXED
@given(book=books_of_templates())
def test_what_is_drawn_can_be_published(book):
    bodies = {body["slug"]: Procedure(body["slug"], 1, body) for body in book}

    for body in book:
        assert check_template(body, find_procedure=lambda named: bodies[named["template"]]) == []


@RELAXED
@given(book=books_of_templates())
def test_any_valid_template_can_be_worked_to_the_end(book):
    worker, other = PersonFactory(role="tech"), PersonFactory(role="tech")
    sheet = on_a_drawn_bench(book, worker)

    assert work_to_end(sheet, worker, other=other) == "passed"

    assert first_break_of(sheet.id) is None


def test_the_template_with_everything_is_worked_to_the_end(anna):
    import_template_file(path=next(f for f in shipped_templates() if f.stem == "dead-working"))
    sheet = started(with_everything(), by=anna, repair=on_the_bench(**SHEET), facts=ANSWERS)

    assert work_to_end(sheet, anna, other=PersonFactory(role="tech")) == "passed"


wild = st.lists(
    st.tuples(
        st.sampled_from(
            ["well", "badly", "other kind", "skip", "correct", "repeat", "sign", "note"]
        ),
        st.integers(0, 200),
        st.integers(0, 200),
    ),
    max_size=30,
)


def wild_operation(phone, pack, made, move):
    """What somebody might record on a step of any kind, sensible or not."""
    how, at, other = move
    step = pack["steps"][at % len(pack["steps"])]
    if how == "repeat":
        return made[other % len(made)] if made else None
    if how == "skip":
        return phone.skip(step["id"])
    if how == "note":
        return phone.entry("note", text="a note")
    one = entries_for(phone, step)[0]
    if how == "badly":
        one["body"]["value"] |= {"choice": "b", "as_typed": "7", "value_text": "7"}
    if how == "other kind":
        one["body"]["kind"] = "acknowledge" if one["body"]["kind"] != "acknowledge" else "photo"
    if how == "correct" and made:
        return correcting(one, made[other % len(made)])
    return one


@RELAXED
@given(book=books_of_templates(), moves=wild, size=st.integers(1, 7), seed=st.randoms())
def test_whatever_is_recorded_on_any_template_leaves_a_chain_that_holds(book, moves, size, seed):
    worker, other = PersonFactory(role="tech"), PersonFactory(role="tech")
    sheet = on_a_drawn_bench(book, worker)
    pack, phone, made = orjson.loads(bytes(sheet.pack)), Phone(worker, sheet), []
    for move in moves:
        if (one := wild_operation(phone, pack, made, move)) is not None:
            made.append(one)
    seed.shuffle(made)

    for start in range(0, len(made), size):
        batch = made[start : start + size]
        results = apply_operations(person=worker, device_id=None, operations=batch)
        assert len(results) == len(batch)
    for step in pack["steps"]:
        if step["kind"] == "sign_off":
            with suppress(StepLocked):
                sign_off(id=new_id(), worksheet=sheet, step=step["id"], by=other)

    assert first_break_of(sheet.id) is None
    seqs = list(Entry.objects.filter(record=sheet.id).values_list("seq", flat=True))
    assert sorted(seqs) == list(range(1, len(seqs) + 1))
    single = [e.step for e, _before in effective_entries(sheet.id) if is_single(e)]
    assert len(single) == len(set(single))
    standing = standing_of(entries_of(sheet.id))
    assert Worksheet.objects.get(id=sheet.id).stage == stage_of(pack, standing)
