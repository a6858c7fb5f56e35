"""Reviewed by somebody else, published by the manager, never changed afterwards."""

from __future__ import annotations

import pytest

from shop.core.errors import BadField, NotAllowed, Stale
from shop.jobs.errors import (
    DraftFaulty,
    DraftPublished,
    NewerRevisionPublished,
    NotAtThisStage,
    NothingChanged,
    ReviewNeedsOtherPerson,
)
from shop.jobs.models import JobTemplate, Revision
from shop.jobs.selectors import draft_row
from shop.jobs.services import (
    drop_draft,
    publish_draft,
    publish_revision,
    retire_template,
    review_draft,
    save_draft,
    submit_draft,
)
from tests.factories.drafts import begun, fresh, reviewed
from tests.factories.jobs import caution, look, template

pytestmark = pytest.mark.django_db


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
