"""Reads of published job templates."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db.models import Count, OuterRef, Q, QuerySet, Subquery
from django.utils.translation import gettext as _

from shop.jobs.errors import NoSuchTemplate
from shop.jobs.format.revisions import Procedure
from shop.jobs.format.texts import in_language
from shop.jobs.models import JobTemplate, Revision, Worksheet


def newest_revisions() -> QuerySet[Revision]:
    """The newest revision of each template, also of those that are retired, by title."""
    newest = (
        Revision.objects.filter(template=OuterRef("template")).order_by("-number").values("number")
    )
    return (
        Revision.objects.filter(number=Subquery(newest[:1]))
        .select_related("template")
        .order_by("template__title", "template_id")
    )


def published_revisions() -> QuerySet[Revision]:
    """The newest revision of each template that is not retired, by title."""
    return newest_revisions().filter(template__retired_at=None)


def published_revision(slug: str) -> Revision:
    """The newest revision of a template. Raises NoSuchTemplate."""
    found = published_revisions().filter(template_id=slug).first()
    if found is None:
        raise NoSuchTemplate(template=slug)
    return found


def revision_of(slug: str, number: int | None = None) -> Revision:
    """One revision of a template, retired or not; without a number the newest.

    Raises NoSuchTemplate.
    """
    revisions = Revision.objects.filter(template_id=slug).select_related("template")
    if number is not None:
        revisions = revisions.filter(number=number)
    found = revisions.order_by("-number").first()
    if found is None:
        raise NoSuchTemplate(template=slug)
    return found


def find_procedure(named: dict[str, Any]) -> Procedure | None:
    """The revision that a procedure step names, also of a retired template; else the newest.

    None where there is none.
    """
    slug, number = named["template"], named.get("revision")
    try:
        found = revision_of(slug, number) if number else published_revision(slug)
    except NoSuchTemplate:
        return None
    return Procedure(found.template_id, found.number, found.body)


def revision_rows(slug: str) -> list[dict[str, Any]]:
    """Every revision of a template, newest first, with who reviewed and published it."""
    people = ("published_by", "reviewed_by")
    found = Revision.objects.filter(template_id=slug).select_related(*people).defer("body")
    return [revision_row(revision) for revision in found.order_by("-number")]


def revision_row(revision: Revision) -> dict[str, Any]:
    names = ("number", "origin", "change_note", "published_at", "reviewed_at", "review_note")
    return {
        **{name: getattr(revision, name) for name in names},
        "alone_reason": revision.alone_reason,
        "published_by_name": name_of(revision.published_by),
        "reviewed_by_name": name_of(revision.reviewed_by),
        "review_words": _review_words(revision),
    }


def _review_words(revision: Revision) -> str:
    if revision.reviewed_by:
        return _("Reviewed by %s.") % revision.reviewed_by
    if revision.alone_reason:
        return _("Not reviewed by a second person: %s") % revision.alone_reason
    return _("Taken in from a file, without a review in this shop.")


def name_of(person: Any) -> str | None:
    return str(person) if person else None


def newest_numbers(slugs: Iterable[str]) -> dict[str, int]:
    """The newest revision's number of each template that can be worked."""
    rows = published_revisions().filter(template_id__in=list(slugs))
    return dict(rows.values_list("template_id", "number"))


def open_worksheets_by_template() -> dict[str, int]:
    """How many worksheets of each template are being worked."""
    is_open = Q(revisions__worksheets__stage=Worksheet.Stage.OPEN)
    rows = JobTemplate.objects.annotate(open=Count("revisions__worksheets", filter=is_open))
    return dict(rows.values_list("slug", "open"))


def shelf_row(revision: Revision, language: str) -> dict[str, Any]:
    """A template as the shelf shows it."""
    body, template = revision.body, revision.template
    return {
        "slug": template.slug,
        "title": in_language(body["title"], language),
        "summary": in_language(body["summary"], language),
        "role": body["role"],
        "origin": template.origin,
        "revision": revision.number,
        "published_at": revision.published_at,
        "retired_at": template.retired_at,
        "retired_reason": template.retired_reason,
        "steps": sum(len(step.get("steps", [step])) for step in body["steps"]),
    }
