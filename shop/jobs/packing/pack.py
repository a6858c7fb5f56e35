"""A whole pack: gates, facts, work, steps, meters; checked against its published schema."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import orjson
from django.utils.translation import gettext as _

from shop.jobs.errors import FactsMissing, Gate
from shop.jobs.format.schemas import faults
from shop.jobs.packing.steps import Parts, steps_of
from shop.jobs.packing.values import NotKnown, Values
from shop.jobs.packing.work import with_work
from shop.jobs.record.state import is_grid


def make_pack(
    template: dict[str, Any],
    values: Values,
    find_parts: Callable[[dict[str, Any], Values], Parts],
    head: dict[str, Any],
) -> dict[str, Any]:
    """Resolve a template. `head` are the fields that the template has no say in.

    `find_parts` is asked once the work is known, since a part may be named by an answer.

    Raises Gate where the template is not for this unit, FactsMissing where a safety reading could
    not be judged.
    """
    values = with_work(values, template)
    require_open_gates(template, values)
    steps = steps_of(template, values, find_parts(template, values))
    _require_judged_safety(steps)
    pack = {
        **head,
        "cautions": [values.text(text) for text in template.get("cautions", [])],
        "work": values.work,
        "steps": steps,
    }
    pack["template"] = {
        **head["template"],
        "title": values.text(template["title"]),
        "minutes": template["minutes"],
    }
    _require_valid(pack)
    return pack


def require_open_gates(template: dict[str, Any], values: Values) -> None:
    """Raises Gate with the reason of the first gate whose condition holds."""
    for gate in template.get("gates", []):
        if values.holds(gate["when"]):
            raise Gate(values.text(gate["reason"]))


def _require_judged_safety(steps: list[dict[str, Any]]) -> None:
    """A safety reading without limits, or a wait without an end, would let anything through."""
    words = _("%(step)s cannot be judged. %(why)s")
    missing = [
        (f"steps.{step['id']}", words % {"step": step["title"], "why": step["why_not_judged"]})
        for step in steps
        if step["safety"] and _is_open_ended(step)
    ]
    if missing:
        raise FactsMissing(missing)


def _is_open_ended(step: dict[str, Any]) -> bool:
    if step["kind"] == "timer":
        return step["seconds"] is None
    if is_grid(step):
        return bool(step["why_not_judged"]) and _has_open_cell(step)
    return bool(step.get("blocks") and step["band"] is None and step["why_not_judged"])


def _has_open_cell(grid: dict[str, Any]) -> bool:
    """No rows at all, or a required cell that must pass and has no limits."""
    must = [c for c in grid["columns"] if grid.get("blocks") and c["required"] and c["band"]]
    return not grid["rows"] or any([None, None] in column["band"]["rows"] for column in must)


def _require_valid(pack: dict[str, Any]) -> None:
    """A pack that departs from its schema is a fault of ours, never of the template's writer."""
    wrong = faults("pack-1", orjson.loads(pack_bytes(pack)))
    if wrong:
        path, reason = wrong[0]
        raise AssertionError(f"pack at {'.'.join(map(str, path))}: {reason}")


def pack_bytes(pack: dict[str, Any]) -> bytes:
    """The pack as it is kept and sent."""
    return orjson.dumps(pack)


def ask(template: dict[str, Any], values: Values, sent: dict[str, Any]) -> dict[str, Any]:
    """What was asked: as answered, else from what is already known. Raises FactsMissing."""
    asked = values.facts["asked"]  # filled as we go, so that later questions may hang on earlier
    missing = []
    for fact in template.get("facts", []):
        key = fact["key"]
        if not values.holds(fact.get("when")):
            continue
        if (answer := sent.get(key, _known(values, fact))) is not None:
            asked[key] = answer
        elif fact.get("required", False):
            missing.append((f"facts.{key}", values.text(fact["title"])))
    if missing:
        raise FactsMissing(missing)
    return dict(asked)


def _known(values: Values, fact: dict[str, Any]) -> Any:
    try:
        return values.get(fact["from"]) if "from" in fact else None
    except NotKnown:
        return None
