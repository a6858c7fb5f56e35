"""How computed values were worked out, with the standing of each source."""

from __future__ import annotations

from typing import Any, NamedTuple

import orjson
from django.utils.translation import gettext_lazy as _

from shop.calc.working import standing
from shop.documents.papers.common import Context
from shop.jobs.models import Worksheet


def pack_of(sheet: Worksheet) -> dict[str, Any]:
    """What the phone worked from, as it was kept."""
    pack: dict[str, Any] = orjson.loads(bytes(sheet.pack))
    return pack


def worked_out(sheets: list[Worksheet]) -> Context:
    """Every computed answer of these worksheets, and every source by number, each only once."""
    found: dict[bytes, dict[str, Any]] = {}
    for sheet in sheets:
        for answer in pack_of(sheet).get("work", {}).values():
            found.setdefault(orjson.dumps(answer, option=orjson.OPT_SORT_KEYS), answer)
    numbers: dict[_Source, int] = {}
    answers = [_answer(answer, numbers) for answer in found.values()]
    return {"answers": answers, "sources": [_shown(source) for source in numbers]}


class _Source(NamedTuple):
    text: str
    at: str
    status: str


def _answer(answer: dict[str, Any], numbers: dict[_Source, int]) -> Context:
    """One answer; its sources join the numbered ones."""
    working = answer.get("working", {})
    cited = [
        _Source(source["text"], source.get("at", ""), source.get("status", ""))
        for source in working.get("sources", [])
    ]
    return {
        "title": answer.get("title", ""),
        "text": answer.get("text", ""),
        "drawings": _drawings(answer.get("value")),
        "lines": working.get("lines", []),
        "cited": sorted({numbers.setdefault(source, len(numbers) + 1) for source in cited}),
        "cautions": working.get("cautions", []),
        "disagreements": working.get("disagreements", []),
    }


def _shown(source: _Source) -> Context:
    return {**source._asdict(), "status": standing(source.status)}


def _drawings(value: Any) -> list[Context]:
    """The geometry of a primary as it was found and as it is to be set, where it was drawn."""
    if not isinstance(value, dict):
        return []
    named = (("drawing_now", _("As found")), ("drawing", _("For the supply")))
    return [{"words": words, "drawing": value[key]} for key, words in named if value.get(key)]
