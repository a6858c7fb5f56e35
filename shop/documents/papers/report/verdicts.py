"""Verdicts by shape and word first: the same four shapes as on the screens.

The shapes are backgrounds from `assets/verdicts/`: a screen reader hears the word once.
"""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from shop.documents.papers.common import Context

WORDS = {
    "pass": _("pass"),
    "fail": _("fail"),
    "borderline": _("borderline"),
    "meter_not_good_enough": _("meter not good enough"),
    "not_judged": _("not judged"),
}
# Too close to call looks the same, whichever of the two is the reason.
SHAPES = {"meter_not_good_enough": "borderline"}


def verdict_mark(verdict: str | None) -> Context:
    """The shape and the word of a verdict; none at all is "not judged"."""
    key = verdict if verdict in WORDS else "not_judged"
    return {"key": key, "word": WORDS[key], "shape": SHAPES.get(key, key)}
