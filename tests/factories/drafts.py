"""Drafts of job templates, begun and reviewed through the services themselves."""

from __future__ import annotations

import json

from shop.core.ids import new_id
from shop.jobs.models import Draft
from shop.jobs.services import (
    begin_draft,
    publish_draft,
    review_draft,
    save_draft,
    submit_draft,
)


def begun(by, slug="small", source=None, body=None):
    draft, _new = begin_draft(id=new_id(), slug=slug, title=slug, by=by, source=source)
    return save_draft(draft=draft, body=body, version=1, by=by) if body else draft


def reviewed(draft, by, writer):
    submit_draft(draft=draft, note="", by=writer)
    return review_draft(draft=draft, agree=True, note="good", by=by)


def fresh(draft):
    return Draft.objects.get(id=draft.id)


def published(draft, by, reviewer):
    """A draft from a file, all the way: who took it in is its writer."""
    submit_draft(draft=draft, note="", by=by)
    review_draft(draft=draft, agree=True, note="", by=reviewer)
    return publish_draft(draft=draft, change_note="from outside", by=reviewer)


def file_of(body, **more):
    """A template as the bytes of its file."""
    return json.dumps({**body, **more}).encode()
