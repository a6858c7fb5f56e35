"""Drafts of job templates: whatever was typed is kept, and its faults are listed."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, transaction
from hypothesis import given
from hypothesis import strategies as st

from shop.core.errors import BadField, Conflict, Stale
from shop.core.ids import new_id
from shop.jobs.errors import (
    SlugTaken,
)
from shop.jobs.format.keeping import DEEPEST, require_keepable
from shop.jobs.models import Draft, Revision
from shop.jobs.selectors import problems_of
from shop.jobs.services import (
    begin_draft,
    drop_draft,
    publish_revision,
    save_draft,
)
from tests.factories.drafts import begun, fresh
from tests.factories.jobs import reading, template

pytestmark = pytest.mark.django_db


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
