"""Writing drafts of job templates: begun, saved over and over, thrown away."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField, Conflict, NotFound, Stale
from shop.core.models import Person
from shop.jobs.errors import DraftPublished, NewerRevisionPublished, SlugTaken
from shop.jobs.format.keeping import require_keepable
from shop.jobs.format.procedures import procedures_in
from shop.jobs.format.texts import in_language
from shop.jobs.models import Draft, Origin, Revision
from shop.jobs.selectors import SLUG, newest_of, open_drafts, problems_in, problems_of

NOT_REVIEWED: dict[str, Any] = {
    "submitted_by": None, "submitted_at": None, "submit_note": "",
    "reviewed_by": None, "reviewed_at": None, "review_note": "",
}  # fmt: skip


def begin_draft(
    *, id: UUID, slug: str, title: str, by: Person, source: Revision | None = None
) -> tuple[Draft, bool]:
    """Begin a draft, empty or as a copy of a revision; also says whether it is new.

    A copy under the slug of its source is a change of that template; under another slug it is a
    new one. A repeat of the id returns the first. Raises BadField, SlugTaken, Conflict.
    """
    if known := Draft.objects.filter(id=id).first():
        return _same(known, slug, by), False
    body = _first_body(slug, title.strip(), source)
    based_on = newest_of(slug)
    try:
        _require_free(slug, source, based_on)
        return keep_draft(id=id, body=body, slug=slug, based_on=based_on, by=by), True
    except (IntegrityError, SlugTaken):
        known = Draft.objects.filter(id=id).first()
        if known is None:
            raise
        return _same(known, slug, by), False  # the same id at the same moment


def _same(known: Draft, slug: str, by: Person) -> Draft:
    if (known.slug, known.created_by_id) != (slug, by.id):
        raise Conflict(id=str(known.id))
    return known


def _first_body(slug: str, title: str, source: Revision | None) -> dict[str, Any]:
    if len(slug) > 60 or not SLUG.fullmatch(slug):
        reason = _("Lower-case letters and digits, in words joined by hyphens.")
        raise BadField("slug", reason, "invalid")
    if source is None:
        if not title:
            raise BadField("title", _("A job template needs a title."), "blank")
        return {
            "schema_version": 1, "slug": slug, "title": title, "summary": "", "minutes": 30,
            "role": "tech", "steps": [],
        }  # fmt: skip
    kept = source.body["title"]
    is_new = title and title != in_language(kept, "en")
    return {**source.body, "slug": slug, "title": title if is_new else kept}


def _require_free(slug: str, source: Revision | None, newest: Revision | None) -> None:
    is_change = source is not None and source.template_id == slug
    if newest and not is_change:
        raise SlugTaken(slug=slug)
    if newest is None and open_drafts().filter(slug=slug).exists():
        raise SlugTaken(_("A draft of this name exists."), slug=slug)


def keep_draft(
    *, id: UUID, body: dict[str, Any], slug: str, based_on: Revision | None, by: Person | None,
    origin: str = Origin.SHOP,
) -> Draft:  # fmt: skip
    """Store a new draft. Raises BadField for what cannot be kept at all."""
    require_keepable(body)
    now = timezone.now()
    made = {"created_by": by, "created_at": now, "updated_by": by, "updated_at": now}
    columns = _derived(body, slug, based_on)
    draft = Draft(id=id, origin=origin, based_on=based_on, **made, **columns)
    return _insert(draft, by)


@transaction.atomic
def _insert(draft: Draft, by: Person | None) -> Draft:
    draft.save(force_insert=True)
    if by:
        draft.editors.add(by)
    return draft


def replace_unedited(
    *, draft: Draft, body: dict[str, Any], based_on: Revision | None, now: datetime
) -> Draft:
    """Put a newer file in the place of one that nobody has changed. Raises Stale."""
    fresh = {
        **_derived(body, draft.slug, based_on), **NOT_REVIEWED, "based_on": based_on,
        "stage": Draft.Stage.DRAFT, "created_at": now, "updated_at": now,
        "version": F("version") + 1,
    }  # fmt: skip
    unchanged = Draft.objects.filter(id=draft.id, version=draft.version, revision=None)
    if not unchanged.update(**fresh):
        raise Stale()
    return Draft.objects.get(id=draft.id)


def _derived(body: dict[str, Any], slug: str, based_on: Revision | None) -> dict[str, Any]:
    """The columns that follow from a body. What a template is called must be readable."""
    named = body.get("slug")
    if based_on is None and isinstance(named, str) and len(named) <= 60 and SLUG.fullmatch(named):
        slug = named
    problems = problems_in(body, slug=slug, based_on=based_on)
    return {"body": body, "slug": slug, "title": _title(body) or slug, "faults": len(problems)}


def _title(body: dict[str, Any]) -> str:
    title = body.get("title")
    if isinstance(title, dict):
        title = title.get("en") or next(iter(title.values()), "")
    return title.strip()[:120] if isinstance(title, str) else ""


def save_draft(
    *, draft: Draft, body: dict[str, Any], version: int, by: Person, based_on: int | None = None
) -> Draft:
    """Keep what was typed. Whatever was submitted or reviewed is a draft again.

    `based_on` is given by who has taken a newer revision's changes in. A repeat of the same body by
    the same person changes nothing. Raises BadField, Stale, DraftPublished, NewerRevisionPublished.
    """
    require_keepable(body)
    if draft.stage == Draft.Stage.PUBLISHED:
        raise DraftPublished()
    known = _known_revision(draft, based_on)
    if (draft.body, draft.based_on) == (body, known):
        return _unchanged(draft, version, by)
    fresh = {
        **_derived(body, draft.slug, known), **NOT_REVIEWED, "based_on": known,
        "stage": Draft.Stage.DRAFT, "updated_by": by, "updated_at": timezone.now(),
        "version": F("version") + 1,
    }  # fmt: skip
    return _save(draft.id, version, fresh, by)


def _known_revision(draft: Draft, number: int | None) -> Revision | None:
    """The revision a draft goes on from: as before, or the newest when somebody looked at it."""
    if number is None:
        return draft.based_on
    newest = newest_of(draft.slug)
    if newest is None or newest.number != number:
        raise NewerRevisionPublished(newest=newest.number if newest else None)
    return newest


def _unchanged(draft: Draft, version: int, by: Person) -> Draft:
    """The same again, also where the answer to the first got lost."""
    is_repeat = version == draft.version - 1 and draft.updated_by_id == by.id
    if version != draft.version and not is_repeat:
        raise Stale()
    return draft


@transaction.atomic
def _save(id: UUID, version: int, fresh: dict[str, Any], by: Person) -> Draft:
    # One UPDATE checks and writes, so that of two who save at once one is told.
    unpublished = Draft.objects.filter(id=id, version=version, revision=None)
    if not unpublished.update(**fresh):
        raise Stale()
    draft = Draft.objects.get(id=id)
    draft.editors.add(by)
    return draft


def recount_faults(*, slug: str) -> None:
    """Count anew the faults of drafts that work a template, when that one became another."""
    for draft in Draft.objects.filter(revision=None).select_related("based_on"):
        if slug in {named["template"] for _path, named in procedures_in(draft.body)}:
            same_state = Draft.objects.filter(id=draft.id, version=draft.version)
            same_state.update(faults=len(problems_of(draft)))


@transaction.atomic
def drop_draft(*, draft: Draft, version: int | None = None) -> None:
    """Throw a draft away. What was published stays. Raises DraftPublished, Stale, NotFound."""
    locked = Draft.objects.select_for_update().filter(id=draft.id).first()
    if locked is None:
        raise NotFound()
    if locked.stage == Draft.Stage.PUBLISHED:
        raise DraftPublished()
    if version is not None and version != locked.version:
        raise Stale()
    locked.delete()
