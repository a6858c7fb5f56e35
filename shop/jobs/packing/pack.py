"""A whole pack: gates, facts, work, steps, meters; checked against its published schema."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import orjson
from django.utils.translation import gettext as _

from shop.jobs.errors import FactsMissing, Gate
from shop.jobs.format.revisions import FindProcedure
from shop.jobs.format.schemas import faults
from shop.jobs.packing.isolation import with_isolation
from shop.jobs.packing.procedures import (
    prefixed_step,
    prefixed_work,
    procedure_of,
    require_own_gates,
    values_for_procedure,
)
from shop.jobs.packing.steps import Parts, steps_of
from shop.jobs.packing.values import Values
from shop.jobs.packing.work import with_work
from shop.jobs.record.state import is_grid

FindParts = Callable[[dict[str, Any], Values], Parts]


class Resolved(NamedTuple):
    """What a template says to a pack, with the procedures worked in it."""

    cautions: list[str]
    work: dict[str, Any]
    steps: list[dict[str, Any]]


def make_pack(
    template: dict[str, Any],
    values: Values,
    find_parts: FindParts,
    head: dict[str, Any],
    find_procedure: FindProcedure = lambda _named: None,
) -> dict[str, Any]:
    """Resolve a template. `head` are the fields that the template has no say in.

    `find_parts` is asked once the work is known, since a part may be named by an answer.

    Raises Gate where the template is not for this unit or leaves nothing to do, FactsMissing where
    a safety reading could not be judged, NoSuchTemplate where a procedure is not there.
    """
    resolved = _resolved(template, values, find_parts, find_procedure)
    _require_work(resolved.steps)
    steps = with_isolation(resolved.steps, values.facts)
    _require_judged_safety(steps)
    pack = {
        **head,
        "cautions": list(dict.fromkeys(resolved.cautions)),
        "work": resolved.work,
        "steps": steps,
    }
    pack["template"] = {
        **head["template"],
        "title": values.text(template["title"]),
        "minutes": template["minutes"],
    }
    _require_valid(pack)
    return pack


def _resolved(
    template: dict[str, Any], values: Values, find_parts: FindParts, find: FindProcedure
) -> Resolved:
    values = with_work(values, template)
    require_own_gates(template, values)
    cautions = [values.text(text) for text in template.get("cautions", [])]
    found = Resolved(cautions, dict(values.work), [])

    def work_procedure(step: dict[str, Any]) -> list[dict[str, Any]]:
        inner = procedure_of(step, find)
        made = _resolved(inner.body, values_for_procedure(values), find_parts, find)
        found.cautions.extend(made.cautions)
        found.work.update(prefixed_work(made.work, step["id"]))
        title = values.text(step.get("title", inner.body["title"]))
        of = {"slug": inner.slug, "revision": inner.revision, "title": title}
        return [prefixed_step(one, step["id"], step["when"], of) for one in made.steps]

    parts = find_parts(template, values)
    found.steps.extend(steps_of(template, values, parts, work_procedure))
    return found


def _require_work(steps: list[dict[str, Any]]) -> None:
    """A worksheet in which nothing must be done would pass with the first note on it."""
    if not any(step["required"] for step in steps):
        raise Gate(_("Nothing in this job template must be done on this unit."))


def _require_judged_safety(steps: list[dict[str, Any]]) -> None:
    """A safety reading without limits, or a wait without an end, would let anything through."""
    words = _("%(step)s cannot be judged. %(why)s")
    missing = [
        (f"steps.{step['id']}", words % {"step": step["title"], "why": step["why_not_judged"]})
        for step in steps
        if step["safety"] and any(map(_is_open_ended, _as_it_can_read(step)))
    ]
    if missing:
        raise FactsMissing(missing)


def _as_it_can_read(step: dict[str, Any]) -> list[dict[str, Any]]:
    """The step, and the step as each of its variants makes it."""
    cases = step["variants"]["cases"] if step["variants"] else {}
    return [step, *({**step, **case} for case in cases.values())]


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
