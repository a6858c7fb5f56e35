"""Publishing and retiring job templates. A published revision never changes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField
from shop.core.idempotency import content_hash
from shop.core.models import Person
from shop.jobs.errors import NewerRevisionPublished, TemplateFaulty
from shop.jobs.format import check_template
from shop.jobs.format.keeping import uncounted_numbers
from shop.jobs.format.procedures import pinned, procedures_in
from shop.jobs.format.texts import in_language
from shop.jobs.models import JobTemplate, Origin, Revision
from shop.jobs.selectors import find_procedure, newest_numbers

ANY: Any = object()  # whatever the newest revision is


def publish_revision(
    *, body: dict[str, Any], by: Person | None = None, audit: Mapping[str, Any] | None = None
) -> Revision:
    """Check a body and keep it as the template's next revision. Raises TemplateFaulty."""
    return keep_revision(body=checked(body), by=by, audit=audit or {})


def checked(body: dict[str, Any]) -> dict[str, Any]:
    """The body as it can be published: without faults, its procedures pinned to the newest.

    Slow, so it is called before a transaction: SQLite's write lock is not held over the checks.
    Raises TemplateFaulty.
    """
    body = pinned(body, newest_numbers({named["template"] for _path, named in procedures_in(body)}))
    if problems := check_template(body, find_procedure=find_procedure) + uncounted_numbers(body):
        raise TemplateFaulty(problems)
    return body


@transaction.atomic
def keep_revision(
    *,
    body: dict[str, Any],
    by: Person | None,
    audit: Mapping[str, Any],
    follows: Revision | None = ANY,
    brings_back: bool = True,
) -> Revision:
    """Keep a checked body as the next revision. The same body again is the same revision.

    `follows` is the revision that whoever wrote the body knew; `audit` are fields of the revision
    that say how it came about; `brings_back` says whether a retired template is worked again.
    Raises NewerRevisionPublished.
    """
    origin = audit.get("origin", Origin.SHOP)
    fresh: dict[str, Any] = {"title": in_language(body["title"], "en")[:120]}
    if brings_back:
        fresh |= {"retired_at": None, "retired_reason": ""}
    # This locks the row of the template, so that two cannot take the same number.
    template, _new = JobTemplate.objects.update_or_create(
        slug=body["slug"], defaults=fresh, create_defaults={**fresh, "origin": origin}
    )
    last = template.revisions.order_by("-number").first()
    if follows is not ANY and last != follows:
        raise NewerRevisionPublished(newest=last.number if last else None)
    sha256 = content_hash(body)
    if last and last.body_sha256 == sha256:
        return last
    return Revision.objects.create(
        template=template,
        number=last.number + 1 if last else 1,
        body=body,
        body_sha256=sha256,
        published_at=timezone.now(),
        published_by=by,
        **audit,
    )


def retire_template(*, template: JobTemplate, reason: str, by: Person) -> None:
    """No worksheet is started from it any more; those begun go on. A repeat changes nothing.

    Raises BadField.
    """
    if not reason.strip():
        raise BadField("reason", _("Say why it is retired."), "blank")
    words = f"{by}: {reason.strip()}"[:300]
    JobTemplate.objects.filter(slug=template.slug, retired_at=None).update(
        retired_at=timezone.now(), retired_reason=words
    )


def bring_back_template(*, template: JobTemplate) -> None:
    """Worksheets are started from it again. A repeat changes nothing."""
    JobTemplate.objects.filter(slug=template.slug).update(retired_at=None, retired_reason="")
