"""Reads of published job templates."""

from __future__ import annotations

from django.db.models import OuterRef, QuerySet, Subquery

from shop.jobs.errors import NoSuchTemplate
from shop.jobs.models import Revision


def published_revisions() -> QuerySet[Revision]:
    """The newest revision of each template that is not retired, by title."""
    newest = (
        Revision.objects.filter(template=OuterRef("template")).order_by("-number").values("number")
    )
    return (
        Revision.objects.filter(template__retired_at=None, number=Subquery(newest[:1]))
        .select_related("template")
        .order_by("template__title", "template_id")
    )


def published_revision(slug: str) -> Revision:
    """The newest revision of a template. Raises NoSuchTemplate."""
    found = published_revisions().filter(template_id=slug).first()
    if found is None:
        raise NoSuchTemplate(template=slug)
    return found
