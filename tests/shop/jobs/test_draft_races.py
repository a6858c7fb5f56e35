"""Two people at once on one draft or one template. Needs real row locks."""

import pytest

from shop.core.ids import new_id
from shop.jobs.models import Draft, Revision
from shop.jobs.services import (
    begin_draft,
    publish_draft,
    publish_revision,
    review_draft,
    save_draft,
    submit_draft,
)
from tests.factories.core import PersonFactory
from tests.factories.jobs import template
from tests.shop.jobs.test_races import at_once

pytestmark = [pytest.mark.postgresql, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def people():
    return PersonFactory(role="tech"), *(PersonFactory(role="manager") for _ in range(2))


def written(by, source=None, slug="small", **more):
    draft, _new = begin_draft(id=new_id(), slug=slug, title=slug, by=by, source=source)
    return save_draft(draft=draft, body=template(slug=slug, **more), version=1, by=by)


def reviewed(draft, writer, reviewer):
    submit_draft(draft=draft, note="", by=writer)
    return review_draft(draft=draft, agree=True, note="", by=reviewer)


def fresh(draft):
    return Draft.objects.select_related("based_on", "revision").get(id=draft.id)


def codes(found):
    return sorted(getattr(one, "code", "done") for one in found)


def test_of_two_who_save_at_once_one_is_told(people):
    draft = written(people[0])
    jobs = [
        lambda by=by, n=n: save_draft(draft=fresh(draft), body={"n": n}, version=2, by=by)
        for n, by in enumerate(people[:2])
    ]

    found = at_once(*jobs)

    assert codes(found) == ["done", "stale"]
    assert fresh(draft).version == 3


def test_a_draft_published_twice_at_once_is_one_revision(people):
    writer, max, mia = people
    draft = reviewed(written(writer), writer, max)

    found = at_once(
        *[
            lambda by=by: publish_draft(draft=fresh(draft), change_note="x", by=by)
            for by in (max, mia)
        ]
    )

    assert [one.number for one in found] == [1, 1]
    assert Revision.objects.count() == 1


def test_of_two_changes_of_one_template_published_at_once_one_must_look_again(people):
    writer, max, mia = people
    source = publish_revision(body=template())
    drafts = [reviewed(written(writer, source, minutes=minutes), writer, max) for minutes in (7, 8)]

    found = at_once(
        *[
            lambda draft=draft, by=by: publish_draft(draft=fresh(draft), change_note="x", by=by)
            for draft, by in zip(drafts, (max, mia), strict=True)
        ]
    )

    assert codes(found) == ["done", "newer_revision_published"]
    assert Revision.objects.count() == 2


def test_a_change_saved_while_it_is_published_is_either_in_it_or_refused(people):
    writer, max, _mia = people
    draft = reviewed(written(writer), writer, max)
    seen = draft.version

    found = at_once(
        lambda: publish_draft(draft=fresh(draft), change_note="x", by=max, version=seen),
        lambda: save_draft(draft=fresh(draft), body=template(minutes=44), version=seen, by=writer),
    )

    left = fresh(draft)
    assert codes(found) in (
        ["done", "stale"],
        ["done", "draft_published"],
        ["done", "not_at_this_stage"],
    )
    assert (left.stage == "published") == Revision.objects.exists()
    if left.stage == "published":
        assert left.revision.body["minutes"] == 5


def test_two_new_templates_of_one_name_published_at_once_do_not_cover_each_other(people):
    writer, max, mia = people
    first = written(writer, slug="one")
    second = written(writer, slug="two")
    second = save_draft(draft=second, body=template(slug="one", minutes=9), version=2, by=writer)
    drafts = [reviewed(draft, writer, max) for draft in (first, second)]

    found = at_once(
        *[
            lambda draft=draft, by=by: publish_draft(draft=fresh(draft), change_note="x", by=by)
            for draft, by in zip(drafts, (max, mia), strict=True)
        ]
    )

    assert len([one for one in found if isinstance(one, Revision)]) == 1
    assert Revision.objects.count() == 1


def test_one_draft_begun_twice_at_once_is_one(people):
    writer, id = people[0], new_id()

    found = at_once(
        *[lambda: begin_draft(id=id, slug="small", title="Small", by=writer) for _ in range(2)]
    )

    assert sorted(new for _draft, new in found) == [False, True]
    assert Draft.objects.count() == 1
