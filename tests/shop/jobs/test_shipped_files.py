"""Files that come with the program: newer ones follow, and never pass over what the shop wrote."""

from __future__ import annotations

import pytest

from shop.core.ids import new_id
from shop.jobs.models import Draft, JobTemplate
from shop.jobs.selectors import revision_of
from shop.jobs.services import (
    begin_draft,
    import_template,
    retire_template,
    save_draft,
)
from tests.factories.drafts import file_of, published
from tests.factories.jobs import template

pytestmark = pytest.mark.django_db


def shipped(body, **more):
    return import_template(content=file_of(body), origin="shipped", **more)


def test_a_newer_shipped_file_follows_a_shipped_revision():
    first, same, second = shipped(template()), shipped(template()), shipped(template(minutes=6))

    assert (first.number, same, second.number) == (1, first, 2)
    assert (second.origin, JobTemplate.objects.get().origin) == ("shipped", "shipped")


def changed_here(anna, max, minutes):
    """The shop's own change, all the way."""
    source = revision_of("small")
    draft, _new = begin_draft(id=new_id(), slug="small", title="", by=anna, source=source)
    draft = save_draft(draft=draft, body=template(minutes=minutes), version=1, by=anna)
    return published(draft, anna, max)


def test_what_the_shop_wrote_is_never_passed_over_by_a_shipped_file(anna, max):
    shipped(template())
    own = changed_here(anna, max, 20)

    same = shipped(template())
    offered = shipped(template(minutes=6))
    again = shipped(template(minutes=6))
    newer = shipped(template(minutes=7))

    assert same == own == revision_of("small")
    assert (offered.origin, offered.based_on, offered.stage) == ("shipped", own, "draft")
    assert again == own
    assert (newer.id, newer.body["minutes"]) == (offered.id, 7)
    assert Draft.objects.exclude(stage="published").count() == 1


def test_an_offer_that_was_thrown_away_is_not_made_again(anna, max):
    shipped(template())
    changed_here(anna, max, 20)
    shipped(template(minutes=6)).delete()

    shipped(template(minutes=6))

    assert not Draft.objects.exclude(stage="published").exists()


def test_an_offer_that_somebody_works_on_is_left_alone(anna, max):
    shipped(template())
    changed_here(anna, max, 20)
    offered = shipped(template(minutes=6))
    save_draft(draft=offered, body=template(minutes=8), version=1, by=anna)

    newer = shipped(template(minutes=7))

    assert newer.id != offered.id
    assert Draft.objects.get(id=offered.id).body["minutes"] == 8


def test_a_shipped_file_does_not_bring_a_retired_template_back(max):
    revision = shipped(template())
    retire_template(template=revision.template, reason="not here", by=max)

    shipped(template(minutes=6))

    kept = JobTemplate.objects.get()
    assert kept.retired_at is not None
    assert kept.retired_reason == "Max: not here"
