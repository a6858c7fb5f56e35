"""How computed values were worked out, with the standing of each source."""

from __future__ import annotations

from typing import Any

import orjson
from django.utils.translation import gettext_lazy as _

from shop.documents.papers.common import Context
from shop.jobs.models import Worksheet

# A figure from memory is never shown as a standard's figure.
STATUS_WORDS = {
    "verified": _("seen in the source itself"),
    "second_hand": _("second-hand"),
    "from_memory": _("from memory, not verified"),
    "computed": _("follows by the formula"),
    "proposed": _("a proposal"),
    "common_practice": _("common practice, no source"),
}


def pack_of(sheet: Worksheet) -> dict[str, Any]:
    """What the phone worked from, as it was kept."""
    pack: dict[str, Any] = orjson.loads(bytes(sheet.pack))
    return pack


def worked_out(sheets: list[Worksheet]) -> list[Context]:
    """Every computed answer of these worksheets, the same one only once."""
    found: dict[bytes, Context] = {}
    for sheet in sheets:
        for answer in pack_of(sheet).get("work", {}).values():
            found.setdefault(orjson.dumps(answer, option=orjson.OPT_SORT_KEYS), _answer(answer))
    return list(found.values())


def _answer(answer: dict[str, Any]) -> Context:
    working = answer.get("working", {})
    sources = [
        {**source, "status": STATUS_WORDS.get(source.get("status", ""), source.get("status", ""))}
        for source in working.get("sources", [])
    ]
    return {
        "title": answer.get("title", ""),
        "text": answer.get("text", ""),
        "drawings": _drawings(answer.get("value")),
        "lines": working.get("lines", []),
        "sources": sources,
        "cautions": working.get("cautions", []),
        "disagreements": working.get("disagreements", []),
    }


def _drawings(value: Any) -> list[Context]:
    """The geometry of a primary as it was found and as it is to be set, where it was drawn."""
    if not isinstance(value, dict):
        return []
    named = (("drawing_now", _("As found")), ("drawing", _("For the supply")))
    return [{"words": words, "drawing": value[key]} for key, words in named if value.get(key)]
