"""A published template as one file that another shop can take in."""

from __future__ import annotations

import hashlib
from base64 import b64encode
from typing import Any

from shop.jobs.format.pictures import pictures_in, with_pictures
from shop.jobs.format.procedures import procedures_in, unpinned
from shop.jobs.format.writing import in_lines, written_file
from shop.jobs.models import Revision
from shop.jobs.selectors.templates import revision_of
from shop.repairs.models import Photo


def template_file(revision: Revision, form: str) -> bytes:
    """The revision with the templates it works and the pictures it shows, as YAML or JSON.

    Numbers of revisions are left out: in another shop they are others. Pictures go by the hash of
    the bytes in the file, which the other shop can check.
    """
    bodies = [unpinned(body) for body in _with_procedures(revision)]
    pictures, names = _pictures(bodies, form)
    body, *includes = [with_pictures(body, lambda sha256: names[sha256]) for body in bodies]
    more = {"includes": includes} if includes else {}
    return written_file({**body, **more, **({"pictures": pictures} if pictures else {})}, form)


def _with_procedures(revision: Revision) -> list[dict[str, Any]]:
    """The body, then those of all templates it works, each once and in the revision worked."""
    found = {revision.template_id: revision.body}
    waiting = [revision.body]
    while waiting:
        for _path, named in procedures_in(waiting.pop()):
            if named["template"] not in found:
                inner = revision_of(named["template"], named.get("revision")).body
                found[named["template"]] = inner
                waiting.append(inner)
    return list(found.values())


def _pictures(bodies: list[dict[str, Any]], form: str) -> tuple[dict[str, str], dict[str, str]]:
    """Base64 by hash, and the hash of the kept bytes by the hash that templates name.

    A photo is named by the bytes that were sent; what is kept may have lost its camera's data.
    """
    named = dict.fromkeys(sha256 for body in bodies for sha256 in pictures_in(body))
    names = {sha256: sha256 for sha256 in named}
    pictures = {}
    kept = {photo.sha256: photo for photo in Photo.objects.filter(sha256__in=list(named))}
    for photo in [kept[sha256] for sha256 in named if sha256 in kept]:
        with photo.file.open("rb") as file:
            content = file.read()
        names[photo.sha256] = hashlib.sha256(content).hexdigest()
        text = b64encode(content).decode()
        pictures[names[photo.sha256]] = in_lines(text) if form == "yaml" else text
    return pictures, names
