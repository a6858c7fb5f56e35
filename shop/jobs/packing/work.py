"""The computed part of a pack: each calculator called once, its answer kept with its working."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.registry import answer_as_json, work_out
from shop.calc.working import BadInput
from shop.jobs.packing.loops import turns_of
from shop.jobs.packing.patience import CALCULATION
from shop.jobs.packing.values import NotKnown, Values

EMPTY_WORKING: dict[str, Any] = {"lines": [], "sources": [], "cautions": [], "disagreements": []}


def with_work(values: Values, template: dict[str, Any]) -> Values:
    """The values with the answer of every piece of work, in the order of the template."""
    for work in template.get("work", []):
        if "for_each" in work:
            values = _looped(values, work)
        elif values.holds(work.get("when")):
            values = _with(values, work["name"], _answer(values, work))
    return values


def _looped(values: Values, work: dict[str, Any]) -> Values:
    loop = work["for_each"]
    turns = turns_of(loop, values)
    values = replace(values, turns={**values.turns, work["name"]: (loop["over"], len(turns))})
    for number, turn in enumerate(turns, 1):
        if turn.holds(work.get("when")):
            values = _with(values, f"{work['name']}.{number}", _answer(turn, work))
    return values


def _with(values: Values, name: str, answer: dict[str, Any]) -> Values:
    return replace(values, work={**values.work, name: answer})


def _answer(values: Values, work: dict[str, Any]) -> dict[str, Any]:
    """The answer with its title; what is missing or unusable is an answer without a value."""
    values.patience.spend(CALCULATION)
    title = values.text(work["title"])
    try:
        given = values.evaluate({"object": work["given"]})
        answer = answer_as_json(work_out(work["calculator"], given))
    except NotKnown as missing:
        answer = _no_answer(missing.reason)
    except BadInput as bad:
        answer = _no_answer(_("Cannot be worked out: %s") % bad)
    return {"title": title, **answer}


def _no_answer(text: str) -> dict[str, Any]:
    return {"outcome": "no_answer", "text": text, "value": None, "working": EMPTY_WORKING}
