"""From a draft to a revision: nothing is lost, somebody else reviews, the manager publishes."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, transaction
from hypothesis import given
from hypothesis import strategies as st

from shop.core.errors import BadField, Conflict, NotAllowed, Stale
from shop.core.ids import new_id
from shop.jobs.errors import (
    DraftFaulty,
    DraftPublished,
    NewerRevisionPublished,
    NotAtThisStage,
    NothingChanged,
    ReviewNeedsOtherPerson,
    SlugTaken,
)
from shop.jobs.format.keeping import DEEPEST, require_keepable
from shop.jobs.models import Draft, JobTemplate, Revision
from shop.jobs.selectors import draft_row, problems_of
from shop.jobs.services import (
    begin_draft,
    drop_draft,
    publish_draft,
    publish_revision,
    retire_template,
    review_draft,
    save_draft,
    submit_draft,
)
from tests.factories.jobs import caution, look, reading, template

pytestmark = pytest.mark.django_db


def begun(by, slug="small", source=None, body=None):
    draft, _new = begin_draft(id=new_id(), slug=slug, title=slug, by=by, source=source)
    return save_draft(draft=draft, body=body, version=1, by=by) if body else draft


def reviewed(draft, by, writer):
    submit_draft(draft=draft, note="", by=writer)
    return review_draft(draft=draft, agree=True, note="good", by=by)


def fresh(draft):
    return Draft.objects.get(id=draft.id)


# Written


def test_a_new_draft_is_faulty_and_says_so(anna):
    draft = begun(anna)

    assert (draft.stage, draft.version, draft.based_on) == ("draft", 1, None)
    assert {problem.field for problem in problems_of(draft)} == {"summary", "steps"}
    assert draft.faults == 2


def test_a_repeat_of_the_id_returns_the_first_draft(anna, max):
    id = new_id()
    first, new = begin_draft(id=id, slug="small", title="Small", by=anna)

    again, again_new = begin_draft(id=id, slug="small", title="Small", by=anna)

    assert (first, new, again, again_new) == (again, True, first, False)
    with pytest.raises(Conflict):
        begin_draft(id=id, slug="small", title="Small", by=max)


def test_a_change_of_a_template_begins_with_its_newest_words(anna):
    publish_revision(body=template())
    newest = publish_revision(body=template(minutes=6))
    first = Revision.objects.get(number=1)

    change = begun(anna, source=newest)
    older = begun(anna, source=first)
    other = begun(anna, slug="other", source=newest)

    assert (change.based_on, change.body) == (newest, newest.body)
    assert (older.based_on, older.body["minutes"]) == (newest, 5)
    assert (other.based_on, other.body["slug"]) == (None, "other")


@pytest.mark.parametrize("slug", ["", "Small", "a_b", "a--b", "-a", "ä", "a" * 61])
def test_a_slug_that_cannot_be_used_is_refused(anna, slug):
    with pytest.raises(BadField):
        begun(anna, slug=slug)

    assert not Draft.objects.exists()


def test_a_slug_that_is_taken_is_not_given_twice(anna):
    other = publish_revision(body=template(slug="other"))
    publish_revision(body=template())
    begun(anna, slug="mine")

    for slug, source in (("small", None), ("small", other), ("mine", None)):
        with pytest.raises(SlugTaken):
            begun(anna, slug=slug, source=source)


def test_any_object_is_kept_and_its_faults_are_listed(anna):
    draft = begun(anna)

    saved = save_draft(draft=draft, body={"steps": [{"id": 3}], "x": None}, version=1, by=anna)

    assert saved.body == {"steps": [{"id": 3}], "x": None}
    assert (saved.slug, saved.title, saved.version) == ("small", "small", 2)
    assert saved.faults == len(problems_of(saved)) > 3


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
)
NAMES = st.sampled_from(
    ["title", "slug", "steps", "facts", "work", "procedure", "template", "pictures", "id", "kind"]
)


@given(st.dictionaries(NAMES, ANYTHING | st.lists(st.dictionaries(NAMES, ANYTHING))))
def test_whatever_can_be_kept_has_its_faults_listed(body):
    try:
        require_keepable(body)
    except BadField:
        return

    draft = Draft(body=body, slug="small")

    assert problems_of(draft)


def nested(depth, word="list"):
    body = inner = {}
    for _level in range(depth):
        inner[word] = {}
        inner = inner[word]
    return {"x": body}


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ([], "not_an_object"), ("text", "not_an_object"), (None, "not_an_object"),
        (nested(DEEPEST + 1), "too_deep"), (nested(5000), "too_deep"),
        ({"a": "\0"}, "nul_character"), ({"\0": 1}, "nul_character"),
        ({"a": float("nan")}, "not_finite"), ({"a": [float("inf")]}, "not_finite"),
        ({"a": "\ud800"}, "not_json"), ({"a": 10**400}, "not_json"),
        ({"a": "x" * 500_001}, "too_large"),
    ],
)  # fmt: skip
def test_what_no_database_could_keep_is_refused_and_changes_nothing(anna, body, code):
    draft = begun(anna)

    with pytest.raises(BadField) as refused:
        save_draft(draft=draft, body=body, version=1, by=anna)

    assert (refused.value.field, refused.value.field_code) == ("body", code)
    assert fresh(draft).version == 1


def test_a_body_as_deep_as_is_allowed_has_its_faults_listed(anna):
    expression = {"fact": "sheet.idle_watt"}
    for _level in range(12):
        expression = {"first": [expression, expression]} if _level > 9 else {"first": [expression]}
    step = reading(quantity="power", band={"low": 1, "high": expression})

    saved = begun(anna, body=template(step))

    assert saved.faults == 0
    assert begun(anna, slug="b", body={**nested(DEEPEST - 2, "first"), "slug": "b"}).faults


def test_a_number_that_would_lose_digits_is_a_fault(anna):
    choices = [{"key": "a", "label": "a", "value": 2**60}, {"key": "b", "label": "b"}]
    body = template(facts=[{"key": "f", "title": "F", "choices": choices}])

    draft = begun(anna, body=body)

    assert "facts[0].choices[0].value" in {p.field for p in problems_of(draft)}


def test_of_two_who_save_at_once_the_second_is_told(anna, max):
    draft = begun(anna)
    save_draft(draft=draft, body={"a": 1}, version=1, by=anna)

    with pytest.raises(Stale):
        save_draft(draft=draft, body={"a": 2}, version=1, by=max)

    assert fresh(draft).body == {"a": 1}


def test_the_same_again_by_the_same_person_stands(anna, max):
    draft = begun(anna)
    first = save_draft(draft=draft, body={"a": 1}, version=1, by=anna)

    again = save_draft(draft=fresh(draft), body={"a": 1}, version=1, by=anna)

    assert (again.version, again.updated_at) == (2, first.updated_at)
    with pytest.raises(Stale):
        save_draft(draft=fresh(draft), body={"a": 1}, version=1, by=max)


def test_a_new_template_may_still_change_its_slug_and_a_published_one_not(anna):
    new = begun(anna, body=template(slug="renamed"))
    change = begun(anna, source=publish_revision(body=template()))

    saved = save_draft(draft=change, body=template(slug="elsewhere"), version=1, by=anna)

    assert new.slug == "renamed"
    assert saved.slug == "small"
    assert [p.field for p in problems_of(saved)] == ["slug"]


# Reviewed


def test_a_faulty_draft_is_not_submitted(anna):
    draft = begun(anna)

    with pytest.raises(DraftFaulty) as refused:
        submit_draft(draft=draft, note="", by=anna)

    assert len(refused.value.problems) == 2
    assert fresh(draft).stage == "draft"


def test_nobody_who_wrote_on_a_draft_reviews_it(anna, max):
    draft = begun(anna, body=template())
    draft = save_draft(draft=draft, body=template(minutes=7), version=2, by=max)
    submit_draft(draft=draft, note="", by=max)

    for writer in (anna, max):
        with pytest.raises(ReviewNeedsOtherPerson):
            review_draft(draft=fresh(draft), agree=True, note="", by=writer)

    assert fresh(draft).stage == "in_review"
    assert draft_row(fresh(draft), anna)["why_not_review"]


def test_the_desk_does_not_review(anna, dora):
    draft = submit_draft(draft=begun(anna, body=template()), note="", by=anna)

    with pytest.raises(NotAllowed):
        review_draft(draft=draft, agree=True, note="", by=dora)


def test_a_draft_is_sent_back_with_a_note_and_submitted_again(anna, max):
    draft = submit_draft(draft=begun(anna, body=template()), note="look", by=anna)
    with pytest.raises(BadField):
        review_draft(draft=draft, agree=False, note=" ", by=max)

    back = review_draft(draft=draft, agree=False, note="Limits too wide.", by=max)
    repeat = review_draft(draft=fresh(draft), agree=False, note="Limits too wide.", by=max)

    assert (back.stage, back.review_note, back.reviewed_by) == ("draft", "Limits too wide.", max)
    assert repeat.version == back.version
    assert submit_draft(draft=fresh(draft), note="", by=anna).review_note == ""


def test_a_change_after_the_review_needs_another_review(anna, max):
    draft = reviewed(begun(anna, body=template()), max, anna)

    saved = save_draft(draft=draft, body=template(minutes=9), version=draft.version, by=anna)

    assert (saved.stage, saved.reviewed_by, saved.submitted_at) == ("draft", None, None)
    with pytest.raises(NotAtThisStage):
        publish_draft(draft=saved, change_note="", by=max)


def test_a_review_is_of_what_was_seen(anna, max):
    draft = submit_draft(draft=begun(anna, body=template()), note="", by=anna)
    seen = draft.version
    draft = save_draft(draft=draft, body=template(minutes=9), version=seen, by=anna)
    submit_draft(draft=draft, note="", by=anna)

    with pytest.raises(Stale):
        review_draft(draft=fresh(draft), agree=True, note="", by=max, version=seen)

    assert fresh(draft).stage == "in_review"


# Published


def test_a_published_draft_is_a_revision_with_its_reviewer_and_stands_a_repeat(anna, max):
    draft = reviewed(begun(anna, body=template()), max, anna)

    revision = publish_draft(draft=draft, change_note="first", by=max)
    again = publish_draft(draft=fresh(draft), change_note="first", by=max)

    assert again == revision
    assert (revision.number, revision.reviewed_by, revision.review_note) == (1, max, "good")
    assert (revision.change_note, revision.published_by, revision.origin) == ("first", max, "shop")
    assert Revision.objects.count() == 1
    with pytest.raises(DraftPublished):
        save_draft(draft=fresh(draft), body={}, version=fresh(draft).version, by=anna)
    with pytest.raises(DraftPublished):
        drop_draft(draft=draft)


def test_only_a_manager_publishes_and_only_what_was_reviewed(anna, max):
    draft = reviewed(begun(anna, body=template()), max, anna)
    waiting = begun(anna, slug="waiting", body=template(slug="waiting"))

    with pytest.raises(NotAllowed):
        publish_draft(draft=draft, change_note="x", by=anna)
    with pytest.raises(NotAtThisStage):
        publish_draft(draft=waiting, change_note="x", by=max, reason="in a hurry")

    assert not Revision.objects.exists()


def test_a_change_that_does_not_know_the_newest_revision_is_not_published(anna, max):
    source = publish_revision(body=template())
    draft = begun(anna, source=source, body=template(minutes=8))
    draft = reviewed(draft, max, anna)
    newest = publish_revision(body=template(minutes=7))

    with pytest.raises(NewerRevisionPublished) as refused:
        publish_draft(draft=draft, change_note="longer", by=max)
    assert refused.value.facts["newest"] == 2
    taken_in = save_draft(draft=draft, body=draft.body, version=draft.version, by=anna, based_on=2)
    draft = reviewed(taken_in, max, anna)
    revision = publish_draft(draft=draft, change_note="longer", by=max)

    assert (taken_in.based_on, revision.number) == (newest, 3)


def test_a_change_needs_a_note_and_must_change_something(anna, max):
    source = publish_revision(body=template())
    draft = reviewed(begun(anna, source=source), max, anna)

    with pytest.raises(BadField):
        publish_draft(draft=draft, change_note=" ", by=max)
    with pytest.raises(NothingChanged):
        publish_draft(draft=draft, change_note="none", by=max)

    assert fresh(draft).stage == "reviewed"


def test_where_nobody_else_could_review_the_manager_publishes_with_a_reason(max, dora, stranger):
    draft = begun(max, body=template())
    with pytest.raises(BadField):
        publish_draft(draft=draft, change_note="", by=max)

    revision = publish_draft(draft=draft, change_note="", by=max, reason="I work alone.")

    assert (revision.reviewed_by, revision.alone_reason) == (None, "I work alone.")
    assert fresh(draft).stage == "published"


def test_a_manager_who_did_not_write_reviews_like_anybody_else(anna, max):
    draft = begun(anna, body=template())

    with pytest.raises(NotAtThisStage):
        publish_draft(draft=draft, change_note="", by=max, reason="I know it is good.")


def test_publishing_pins_procedures_to_the_newest_revision(anna, max):
    publish_revision(body=template(slug="inner"))
    publish_revision(body=template(caution("other"), slug="inner"))
    step = {"id": "in", "kind": "procedure", "procedure": {"template": "inner"}}
    draft = reviewed(begun(anna, body=template(caution(), step)), max, anna)

    revision = publish_draft(draft=draft, change_note="", by=max)

    assert revision.body["steps"][1]["procedure"] == {"template": "inner", "revision": 2}
    assert "revision" not in fresh(draft).body["steps"][1]["procedure"]


def test_a_draft_that_waited_for_a_procedure_has_no_fault_once_that_is_published(anna, max):
    step = {"id": "in", "kind": "procedure", "procedure": {"template": "inner"}}
    outer = begun(anna, body=template(caution("c"), step))
    inner = reviewed(begun(anna, slug="inner", body=template(slug="inner")), max, anna)

    publish_draft(draft=inner, change_note="", by=max)

    assert (outer.faults, fresh(outer).faults) == (1, 0)


def test_a_procedure_that_was_retired_meanwhile_stops_the_publishing(anna, max):
    inner = publish_revision(body=template(slug="inner"))
    step = {"id": "in", "kind": "procedure", "procedure": {"template": "inner"}}
    draft = reviewed(begun(anna, body=template(caution("c"), step)), max, anna)
    retire_template(template=inner.template, reason="wrong", by=max)

    with pytest.raises(DraftFaulty):
        publish_draft(draft=draft, change_note="", by=max)


def test_publishing_brings_a_retired_template_back(anna, max):
    source = publish_revision(body=template())
    retire_template(template=source.template, reason="too short", by=max)
    draft = reviewed(begun(anna, source=source, body=template(look("l"), minutes=8)), max, anna)

    publish_draft(draft=draft, change_note="longer", by=max)

    assert JobTemplate.objects.get().retired_at is None


@pytest.mark.parametrize(
    "wrong", [{"stage": "published"}, {"stage": "reviewed"}, {"stage": "gone"}, {"origin": "x"}]
)
def test_the_database_refuses_a_draft_at_a_stage_it_cannot_be_at(anna, wrong):
    draft = begun(anna)

    with pytest.raises(IntegrityError), transaction.atomic():
        Draft.objects.filter(id=draft.id).update(**wrong)


def test_a_revision_is_reviewed_or_published_alone_but_not_both(max):
    revision = publish_revision(body=template())

    for wrong in ({"reviewed_by": max}, {"origin": "x"}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Revision.objects.filter(id=revision.id).update(**wrong)


def test_a_draft_that_was_thrown_away_is_gone_for_the_version_that_was_seen(anna):
    draft = begun(anna, body=template())

    with pytest.raises(Stale):
        drop_draft(draft=draft, version=1)
    drop_draft(draft=draft, version=2)

    assert not Draft.objects.exists()
