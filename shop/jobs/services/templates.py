"""Taking in job templates. A published revision never changes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.db import transaction
from django.utils import timezone

from shop.core.idempotency import content_hash
from shop.core.models import Person
from shop.jobs.errors import TemplateFaulty
from shop.jobs.format import check_template, read_template
from shop.jobs.format.texts import in_language
from shop.jobs.models import JobTemplate, Revision


def import_template(*, content: bytes, by: Person | None = None) -> Revision:
    """Check a template file and publish it; unchanged content keeps its revision.

    Raises TemplateFaulty with path, step, line and reason of every fault.
    """
    body, lines, problems = read_template(content)
    problems = problems or check_template(body, lines)
    if problems:
        raise TemplateFaulty(problems)
    return publish_revision(body=body, by=by)


def import_template_file(*, path: Path, by: Person | None = None) -> Revision:
    return import_template(content=path.read_bytes(), by=by)


@transaction.atomic
def publish_revision(*, body: dict[str, Any], by: Person | None = None) -> Revision:
    """Publish a template's body as its next revision. The same body again is the same revision.

    Raises TemplateFaulty.
    """
    if problems := check_template(body):
        raise TemplateFaulty(problems)
    title = in_language(body["title"], "en")[:120]
    # This locks the row of the template, so that two imports cannot take the same number.
    template, _new = JobTemplate.objects.update_or_create(
        slug=body["slug"], defaults={"title": title, "retired_at": None}
    )
    last = template.revisions.order_by("-number").first()
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
    )


def retire_template(*, template: JobTemplate) -> None:
    """No worksheet is started from it any more; those begun go on."""
    JobTemplate.objects.filter(slug=template.slug, retired_at=None).update(
        retired_at=timezone.now()
    )
