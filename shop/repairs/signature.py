"""A signature drawn on the screen: strokes, and a plain drawing of them for papers."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from shop.core.errors import BadField

MAX_BYTES = 100_000
TAG = re.compile(r"<(/?)([A-Za-z]*)((?:\s+[A-Za-z:-]+=(?:\"[^\"<>&]*\"|'[^'<>&]*'))*)\s*(/?)>")
ATTRIBUTE = re.compile(r"([A-Za-z:-]+)=(?:\"([^\"]*)\"|'([^']*)')")
TAGS = {"svg", "g", "path", "polyline", "line", "circle"}
ATTRIBUTES = {
    *("xmlns", "viewBox", "width", "height", "version", "preserveAspectRatio"),
    *("d", "points", "x1", "y1", "x2", "y2", "cx", "cy", "r", "transform"),
    *("fill", "stroke", "stroke-width", "stroke-linecap", "stroke-linejoin"),
}


def require_signature(signature: Mapping[str, Any] | None) -> None:
    """Refuse a signature that is too large or more than strokes. Raises BadField.

    The drawing ends up on papers, so nothing in it may load, link or run.
    """
    if signature is None:
        return
    if len(json.dumps(dict(signature))) > MAX_BYTES:
        raise BadField("signature", _("This signature is too large. Sign again."), "too_large")
    if not is_plain_drawing(str(signature.get("svg", ""))):
        raise BadField("signature.svg", _("This is no drawing of strokes."), "not_a_drawing")


def is_plain_drawing(svg: str) -> bool:
    """True for one <svg> of strokes: known tags and attributes, no text, link, style or script."""
    if not svg.startswith("<svg") or TAG.sub("", svg).strip():
        return False
    return all(_is_plain(match) for match in TAG.finditer(svg))


def _is_plain(tag: re.Match[str]) -> bool:
    attributes = [(name, one or two) for name, one, two in ATTRIBUTE.findall(tag[3])]
    known = tag[2] in TAGS and {name for name, _value in attributes} <= ATTRIBUTES
    return known and not any("url" in value.lower() for _name, value in attributes)
