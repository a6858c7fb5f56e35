"""Verdicts by shape and word first: the same four shapes as on the screens."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from shop.documents.marks import data_uri
from shop.documents.papers.common import Context

WORDS = {
    "pass": _("pass"),
    "fail": _("fail"),
    "borderline": _("borderline"),
    "meter_not_good_enough": _("meter not good enough"),
    "not_judged": _("not judged"),
}
_SHAPES = {
    "pass": '<circle cx="8" cy="8" r="7" fill="#1d6638"/>',
    "fail": '<path d="M1.5 1.5h13v13h-13zM4 4l8 8M12 4l-8 8" fill="none" stroke="#a1251b" '
    'stroke-width="2"/>',
    "borderline": '<path d="M8 1l7 7-7 7-7-7z" fill="none" stroke="#31538c" stroke-width="1.6"/>'
    '<path d="M8 1v14L1 8z" fill="#31538c"/>',
    "not_judged": '<circle cx="8" cy="8" r="6.2" fill="none" stroke="#5a4e41" stroke-width="1.6"/>',
}


def verdict_mark(verdict: str | None) -> Context:
    """The shape and the word of a verdict; none at all is "not judged"."""
    key = verdict if verdict in WORDS else "not_judged"
    shape = _SHAPES.get(key, _SHAPES["borderline"])
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16">{shape}</svg>'
    return {"key": key, "word": WORDS[key], "shape": data_uri("image/svg+xml", svg.encode())}
