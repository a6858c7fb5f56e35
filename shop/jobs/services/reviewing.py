"""From a draft to a revision: submitted, reviewed by somebody else, published by the manager."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField, NotAllowed, Stale
from shop.core.models import Person, Role
from shop.jobs.errors import (
    DraftFaulty,
    DraftPublished,
    NotAtThisStage,
    NothingChanged,
    ReviewNeedsOtherPerson,
)
from shop.jobs.models import Draft, Origin, Revision
from shop.jobs.selectors import BENCH, problems_of, reviewers_of
from shop.jobs.services.drafts import NOT_REVIEWED, recount_faults
from shop.jobs.services.templates import checked, keep_revision

Stage = Draft.Stage


def submit_draft(*, draft: Draft, note: str, by: Person, version: int | None = None) -> Draft:
    """Ask for a review. A repeat changes nothing. Raises DraftFaulty, NotAtThisStage, Stale."""
    if draft.stage == Stage.IN_REVIEW and draft.submitted_by_id == by.id:
        return draft
    _require_stage(draft, Stage.DRAFT)
    _require_sound(draft)
    asked = {"submitted_by": by, "submitted_at": timezone.now(), "submit_note": note.strip()}
    return _move(draft, version, stage=Stage.IN_REVIEW, **{**NOT_REVIEWED, **asked})


def review_draft(
    *, draft: Draft, agree: bool, note: str, by: Person, version: int | None = None
) -> Draft:
    """Agree to a draft, or send it back with a note. `by` has just proved who they are.

    A repeat changes nothing. Raises ReviewNeedsOtherPerson, NotAllowed, BadField, NotAtThisStage,
    DraftFaulty, Stale.
    """
    stage, note = (Stage.REVIEWED if agree else Stage.DRAFT), note.strip()
    if (draft.stage, draft.reviewed_by_id, draft.review_note) == (stage, by.id, note):
        return draft
    _require_reviewer(draft, by)
    if not agree and not note:
        raise BadField("note", _("Say what is to be changed."), "blank")
    if agree:
        _require_sound(draft)  # a procedure may have been retired since
    said = {"reviewed_by": by, "reviewed_at": timezone.now(), "review_note": note}
    return _move(draft, version, stage=stage, **said)


def _require_reviewer(draft: Draft, by: Person) -> None:
    if by.role not in BENCH:
        raise NotAllowed(_("A tech or the manager reviews job templates."))
    _require_stage(draft, Stage.IN_REVIEW)
    if draft.editors.filter(id=by.id).exists():
        raise ReviewNeedsOtherPerson()


def publish_draft(
    *, draft: Draft, change_note: str, by: Person, reason: str = "", version: int | None = None
) -> Revision:
    """Publish a reviewed draft as the next revision. A repeat returns the revision it became.

    Where nobody else active could review, a manager publishes with a reason, and the revision says
    so. Raises NotAllowed, NotAtThisStage, BadField, DraftFaulty, NewerRevisionPublished,
    NothingChanged, Stale.
    """
    if by.role != Role.MANAGER:
        raise NotAllowed(_("The manager publishes job templates."))
    if draft.revision:
        return draft.revision
    _require_note(draft, change_note)
    audit = {"change_note": change_note.strip(), "origin": _origin(draft)}
    audit |= _review(draft) if draft.stage == Stage.REVIEWED else _alone(draft, reason)
    if problems := problems_of(draft):
        return _published_meanwhile(draft, DraftFaulty(problems))
    body = checked(draft.body)
    seen = draft.version if version is None else version
    revision = _publish(draft, body, seen, by, audit)
    recount_faults(slug=revision.template_id)
    return revision


def _published_meanwhile(draft: Draft, why_not: DraftFaulty) -> Revision:
    """A new template's name is taken as soon as somebody else has published this very draft."""
    published = Revision.objects.filter(draft=draft).first()
    if published is None:
        raise why_not
    return published


def _require_note(draft: Draft, note: str) -> None:
    if draft.based_on and not note.strip():
        raise BadField("change_note", _("Say what changed, for those who work from it."), "blank")


def _origin(draft: Draft) -> str:
    """A shipped or imported draft on which somebody wrote more is the shop's own."""
    return Origin.SHOP if draft.is_edited else draft.origin


def _review(draft: Draft) -> dict[str, Any]:
    return {name: getattr(draft, name) for name in ("reviewed_by", "reviewed_at", "review_note")}


def _alone(draft: Draft, reason: str) -> dict[str, Any]:
    if reviewers_of(draft).exists():
        raise NotAtThisStage(_("Somebody who did not write on it must review it first."))
    if not reason.strip():
        words = _("Nobody else here could review it. Say why it is published all the same.")
        raise BadField("reason", words, "blank")
    return {"alone_reason": reason.strip()}


@transaction.atomic
def _publish(
    draft: Draft, body: dict[str, Any], version: int, by: Person, audit: dict[str, Any]
) -> Revision:
    """`body` is the draft's of this version, checked before the transaction."""
    locked = Draft.objects.select_for_update().get(id=draft.id)
    if locked.revision:
        return locked.revision
    if not version == locked.version == draft.version:
        raise Stale()
    revision = keep_revision(body=body, by=by, follows=locked.based_on, audit=audit)
    if revision == locked.based_on:
        raise NothingChanged()
    published = {"stage": Stage.PUBLISHED, "revision": revision, "version": F("version") + 1}
    Draft.objects.filter(id=draft.id).update(**published)
    return revision


def _require_stage(draft: Draft, stage: str) -> None:
    if draft.stage == Stage.PUBLISHED:
        raise DraftPublished()
    if draft.stage != stage:
        raise NotAtThisStage()


def _require_sound(draft: Draft) -> None:
    if problems := problems_of(draft):
        raise DraftFaulty(problems)


def _move(draft: Draft, version: int | None, **fresh: Any) -> Draft:
    """Bring a draft to another stage, from the state that was looked at and no other."""
    seen = draft.version if version is None else version
    same = Draft.objects.filter(id=draft.id, version=seen, stage=draft.stage)
    if not same.update(**fresh, version=F("version") + 1):
        raise Stale()
    draft.refresh_from_db()
    return draft
