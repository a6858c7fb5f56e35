"""Procedures: another template's steps, worked with its own values and prefixed with the step.

A step `check` that works a template with a step `cord` and work `fuse` gives the pack a step
`check-cord` and work `check_fuse`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from shop.jobs.errors import Gate, NoSuchTemplate
from shop.jobs.format.bench_conditions import renamed
from shop.jobs.format.revisions import FindProcedure, Procedure, procedure_steps
from shop.jobs.packing.values import Values

Step = dict[str, Any]
Condition = dict[str, Any] | None


def procedure_of(step: Step, find: FindProcedure) -> Procedure:
    """The revision that a step works. Raises NoSuchTemplate."""
    found = find(step["procedure"])
    if found is None:
        raise NoSuchTemplate(template=step["procedure"]["template"])
    return found


def values_for_procedure(values: Values) -> Values:
    """The same facts, none of the work around it."""
    return Values(facts=values.facts, language=values.language, patience=values.patience)


def require_open_gates(template: dict[str, Any], values: Values, find: FindProcedure) -> None:
    """Raises Gate with the reason of the first gate whose condition holds, also in procedures."""
    require_own_gates(template, values)
    for step in procedure_steps(template):
        if values.holds(step.get("when_fact")):
            inner = values_for_procedure(values)
            require_open_gates(procedure_of(step, find).body, inner, find)


def require_own_gates(template: dict[str, Any], values: Values) -> None:
    for gate in template.get("gates", []):
        if values.holds(gate["when"]):
            raise Gate(values.text(gate["reason"]))


def prefixed_work(work: dict[str, Any], name: str) -> dict[str, Any]:
    return {f"{name}_{key}": answer for key, answer in work.items()}


def prefixed_step(step: Step, name: str, when: Condition, of: dict[str, Any]) -> Step:
    """One step of a procedure as it stands in the pack. `of` says where it comes from."""
    made = _changed(step, name)
    made["id"] = _id(name)(step["id"])[0]
    made["when"] = _both(when, renamed(step["when"], _id(name)) if step["when"] else None)
    made["group"] = step["group"] or of["title"]
    made["procedure"] = step.get("procedure") or of
    if variants := step["variants"]:
        keys = [_id(name)(key)[0] for key in variants["keys"]]
        cases = {case: _changed(fields, name) for case, fields in variants["cases"].items()}
        made["variants"] = {"keys": keys, "cases": cases}
    return made


def _id(name: str) -> Callable[[str], list[str]]:
    return lambda inner: [f"{name}-{inner}"]


def _changed(fields: Step, name: str) -> Step:
    """Fields with the names of work and of other readings prefixed."""
    made = dict(fields)
    if fields.get("work"):
        made["work"] = f"{name}_{fields['work']}"
    band = fields.get("band")
    if band and "along" in band:
        made["band"] = {**band, "along": f"{name}-{band['along']}"}
    return made


def _both(outer: Condition, inner: Condition) -> Condition:
    return {"and": [outer, inner]} if outer and inner else outer or inner
