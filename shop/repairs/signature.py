"""A signature drawn on the screen: strokes, and a plain drawing of them for papers."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from shop.core.errors import BadField

MAX_BYTES = 100_000
MAX_DEPTH = 4
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
    if not is_strokes(signature.get("strokes")):
        raise BadField("signature.strokes", _("This is no list of strokes."), "not_strokes")
    if not is_plain_drawing(str(signature.get("svg", ""))):
        raise BadField("signature.svg", _("This is no drawing of strokes."), "not_a_drawing")


def is_strokes(value: Any, depth: int = 0) -> bool:
    """True for lists, or objects, of finite numbers, nested at most four deep."""
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        return depth < MAX_DEPTH and all(is_strokes(inner, depth + 1) for inner in value)
    # Above 2^53 a JSON number is not the same number for everybody (RFC 8785).
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return depth > 0 and is_number and abs(value) < 2**53


def is_plain_drawing(svg: str) -> bool:
    """True for one <svg> of strokes: known tags and attributes, no text, link, style or script."""
    if not svg.startswith("<svg") or TAG.sub("", svg).strip():
        return False
    return all(_is_plain(match) for match in TAG.finditer(svg))


def _is_plain(tag: re.Match[str]) -> bool:
    attributes = [(name, one or two) for name, one, two in ATTRIBUTE.findall(tag[3])]
    known = tag[2] in TAGS and {name for name, _value in attributes} <= ATTRIBUTES
    return known and not any("url" in value.lower() for _name, value in attributes)
