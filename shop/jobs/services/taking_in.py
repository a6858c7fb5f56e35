"""Files that come with the program or from the person at its command line.

They are published without a review in this shop, so they never pass over what people wrote here:
a file directly follows only a revision that came straight from a file of the same origin.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.idempotency import content_hash
from shop.core.ids import new_id
from shop.core.models import Person
from shop.jobs.errors import NewerRevisionPublished, TemplateFaulty
from shop.jobs.format import check_template, read_template
from shop.jobs.format.difference.same import same
from shop.jobs.format.keeping import uncounted_numbers
from shop.jobs.format.procedures import unpinned
from shop.jobs.models import Draft, JobTemplate, Origin, Revision
from shop.jobs.selectors import find_procedure, newest_of, open_drafts
from shop.jobs.services.drafts import keep_draft, replace_unedited
from shop.jobs.services.templates import checked, keep_revision

Body = dict[str, Any]


def import_template_file(
    *, path: Path, by: Person | None = None, origin: str = Origin.SHIPPED
) -> Revision | Draft:
    return import_template(content=path.read_bytes(), by=by, origin=origin)


def import_template(
    *, content: bytes, by: Person | None = None, origin: str = Origin.IMPORTED
) -> Revision | Draft:
    """Check a template file and publish it, or offer it as a draft where people wrote their own.

    The same file again changes nothing. Raises TemplateFaulty with path, step, line and reason of
    every fault.
    """
    body, lines, problems = read_template(content)
    if not problems and (known := _known(body, origin)):
        return known
    problems = problems or check_template(body, lines, find_procedure) or uncounted_numbers(body)
    if problems:
        raise TemplateFaulty(problems)
    taken = _taken(body, by, origin)
    if origin == Origin.SHIPPED:
        JobTemplate.objects.filter(slug=body["slug"]).update(shipped_sha256=_mark(body))
    return taken


def _mark(body: Body) -> str:
    return content_hash(unpinned(body))


def _known(body: Any, origin: str) -> Revision | None:
    """The newest revision of a template whose shipped file was looked at before."""
    slug = body.get("slug") if isinstance(body, dict) else None
    if origin != Origin.SHIPPED or not isinstance(slug, str):
        return None
    marks = JobTemplate.objects.filter(slug=slug).values_list("shipped_sha256", flat=True)
    mark = marks.first()
    return newest_of(slug) if mark and mark == _mark(body) else None


def _taken(body: Body, by: Person | None, origin: str) -> Revision | Draft:
    newest = newest_of(body["slug"])
    if newest is None or _came_from_a_file(newest, origin):
        try:
            audit = {"origin": origin, "change_note": _("Taken in from a file.")}
            return keep_revision(
                body=checked(body), by=by, audit=audit, follows=newest, brings_back=False
            )
        except NewerRevisionPublished:  # somebody published at the same moment
            newest = newest_of(body["slug"])
    if newest and _was_here(body):
        return newest
    return _offered(body, newest, by, origin)


def _came_from_a_file(revision: Revision, origin: str) -> bool:
    return revision.origin == origin and not Draft.objects.filter(revision=revision).exists()


def _was_here(body: Body) -> bool:
    """Whether the shop has had these words as a revision, and changed them since."""
    mine = unpinned(body)
    revisions = Revision.objects.filter(template_id=body["slug"])
    return any(same(unpinned(revision.body), mine) for revision in revisions)


@transaction.atomic
def _offered(body: Body, newest: Revision | None, by: Person | None, origin: str) -> Draft:
    """A draft of the file. One that was offered before and left alone gives way to it."""
    before = open_drafts().filter(slug=body["slug"], origin=origin).first()
    if before and not before.is_edited:
        return replace_unedited(draft=before, body=body, based_on=newest, now=timezone.now())
    return keep_draft(
        id=new_id(), body=body, slug=body["slug"], based_on=newest, by=by, origin=origin
    )
