"""Taking in a template file from elsewhere: it becomes drafts and overwrites nothing."""

from __future__ import annotations

import binascii
from base64 import b64decode
from typing import Any

import msgspec
from django.db import transaction
from django.utils.translation import gettext as _

from shop.core.errors import ShopError
from shop.core.ids import new_id
from shop.core.models import Person
from shop.jobs.errors import TemplateFaulty
from shop.jobs.format import Problem, read_template
from shop.jobs.format.difference.same import same
from shop.jobs.format.keeping import require_keepable
from shop.jobs.format.procedures import unpinned, with_procedures
from shop.jobs.models import Draft, JobTemplate, Origin, Revision
from shop.jobs.selectors import SLUG, newest_of, open_drafts
from shop.jobs.services.drafts import keep_draft
from shop.repairs.services import store_photo

MOST_INCLUDES = 40
NAMELESS = "imported"  # the slug of a draft whose file names none that can be used


class Taken(msgspec.Struct):
    """What became of a file: drafts made, or found again, and slugs whose content is published."""

    drafts: list[Draft]
    unchanged: list[str]


def import_file(*, content: bytes, by: Person, as_change: bool = False) -> Taken:
    """Make drafts of a template file and of the templates it brings with it.

    A slug that exists gets a number, `-2`; with `as_change` the draft is a change of the template
    that has it. The same file again finds its drafts. Faults of a template are no reason to refuse
    it: its draft says them. Raises TemplateFaulty for what is no such file, BadField.
    """
    body, includes, pictures = _parts(content)
    for one in (*includes, body):
        require_keepable(one)
    _keep_pictures(pictures, by)
    taken, names = Taken([], []), dict[str, str]()
    with transaction.atomic():
        for one in (*includes, body):  # what is worked before what works it, so that names fit
            _take(one, names, as_change, by, taken)
    return taken


def _parts(content: bytes) -> tuple[Any, list[Any], dict[str, bytes]]:
    """The body, the bodies it brings with it, and its pictures by hash."""
    file, lines, problems = read_template(content)
    if problems:
        raise TemplateFaulty(problems)
    if not isinstance(file, dict):
        raise TemplateFaulty([Problem((), _("This is no job template."), line=lines.get(()))])
    includes, pictures = file.pop("includes", []), file.pop("pictures", {})
    if not isinstance(includes, list) or len(includes) > MOST_INCLUDES:
        reason = _("A list of at most %d job templates belongs here.") % MOST_INCLUDES
        raise TemplateFaulty([Problem(("includes",), reason)])
    if not isinstance(pictures, dict):
        raise TemplateFaulty([Problem(("pictures",), _("Pictures stand here by their hash."))])
    return file, includes[::-1], {name: _bytes(name, text) for name, text in pictures.items()}


def _bytes(name: str, text: Any) -> bytes:
    try:
        return b64decode("".join(str(text).split()), validate=True)
    except (binascii.Error, ValueError) as error:
        raise TemplateFaulty([Problem(("pictures", name), _("This is no Base64."))]) from error


def _keep_pictures(pictures: dict[str, bytes], by: Person) -> None:
    for name, content in pictures.items():
        try:
            store_photo(sha256=name, content=content, by=by)
        except ShopError as error:
            raise TemplateFaulty([Problem(("pictures", name), str(error.detail))]) from error


def _take(
    body: dict[str, Any], names: dict[str, str], as_change: bool, by: Person, taken: Taken
) -> None:
    """Make one draft, unless what it says is published or waits as a draft already."""
    body = with_procedures(
        body, lambda named: {**named, "template": names.get(named["template"], named["template"])}
    )
    slug = _slug(body)
    newest = newest_of(slug)
    if newest and same(unpinned(newest.body), unpinned(body)):
        taken.unchanged.append(slug)
        return
    based_on = newest if as_change else None
    draft = _waiting(body, based_on) or _draft(body, slug, based_on, by)
    names[slug] = draft.slug
    taken.drafts.append(draft)


def _slug(body: dict[str, Any]) -> str:
    named = body.get("slug")
    is_good = isinstance(named, str) and len(named) <= 60 and SLUG.fullmatch(named)
    return str(named) if is_good else NAMELESS


def _draft(body: dict[str, Any], slug: str, based_on: Revision | None, by: Person) -> Draft:
    free = slug if based_on else free_slug(slug)
    body = {**body, "slug": free} if "slug" in body and slug != NAMELESS else body
    return keep_draft(
        id=new_id(), body=body, slug=free, based_on=based_on, by=by, origin=Origin.IMPORTED
    )


def free_slug(slug: str) -> str:
    """The slug, or with the first number behind it that neither template nor draft has."""
    taken = {*JobTemplate.objects.values_list("slug", flat=True)}
    taken |= {*open_drafts().values_list("slug", flat=True)}
    number, stem = 2, slug[:55].rstrip("-")
    free = slug
    while free in taken:
        free = f"{stem}-{number}"
        number += 1
    return free


def _waiting(body: dict[str, Any], based_on: Revision | None) -> Draft | None:
    """An open draft of a file that says the same, whatever number its slug got."""
    imported = Draft.objects.filter(origin=Origin.IMPORTED, based_on=based_on, revision=None)
    wanted = {**body, "slug": ""}
    found = (draft for draft in imported if same({**draft.body, "slug": ""}, wanted))
    return next(found, None)
