"""A bench worker for tests: works any pack to its end with answers that pass."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

import orjson

from shop.calc.decimals import canonical
from shop.calc.judging import band_at
from shop.core.ids import new_id
from shop.core.models import Person
from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.state import Standing, StepState, cells_of, standing_of, states
from shop.jobs.selectors import entries_of
from shop.jobs.services import apply_operations, sign_off
from tests.factories.jobs import Phone

Answers = Mapping[str, str]
PHOTO = {"sha256": "ab" * 32, "width": 1200, "height": 1600, "size": 250_000, "caption": ""}


def work_to_end(
    worksheet: Worksheet,
    person: Person,
    answers: Answers | None = None,
    until: str | None = None,
    other: Person | None = None,
) -> str:
    """Work every open step, the first unlocked one first; returns the worksheet's stage.

    `answers`: choice or typed value by step id, where the one that passes is not wanted; of a table
    or ramp by the id of a cell, `step/r1/column`.
    `until`: the step that stays open, and all after it. `other` signs what asks for somebody else.
    """
    phone, pack = Phone(person, worksheet), orjson.loads(bytes(worksheet.pack))
    for _round in range(len(pack["steps"]) + 1):
        standing = standing_of(entries_of(worksheet.id))
        step = _next_step(pack, standing)
        if step is None or step["id"] == until:
            break
        if step["kind"] == "sign_off":
            by = other if step["other_person"] and other else person
            sign_off(id=new_id(), worksheet=worksheet, step=step["id"], by=by)
            continue
        for operation in entries_for(phone, step, standing, answers):
            (result,) = apply_operations(person=person, device_id=None, operations=[operation])
            assert result.outcome == "applied", (step["id"], result)
    worksheet.refresh_from_db()
    return worksheet.stage


def _next_step(pack: dict[str, Any], standing: Standing) -> dict[str, Any] | None:
    open_ones = (s for s in states(pack, standing) if _is_open(s, standing))
    return next((state.step for state in open_ones), None)


def _is_open(state: StepState, standing: Standing) -> bool:
    # worked already, though its result did not pass
    has_own = any(name.partition("/")[0] == state.step["id"] for name in standing)
    return not state.settled and not state.locked_by and state.step["required"] and not has_own


def entries_for(
    phone: Phone,
    step: dict[str, Any],
    standing: Standing | None = None,
    answers: Answers | None = None,
) -> list[dict[str, Any]]:
    """What settles a step well; several entries for a grid."""
    standing, answers = standing or {}, answers or {}
    id, kind = step["id"], step["kind"]
    if kind in ("ramp", "table"):
        return [
            _cell(phone, step, cell, column, row, answers.get(cell))
            for cell, column, row in cells_of(step)
        ]
    if kind == "look":
        return [phone.choose(id, answers.get(id) or _passing(step))]
    if kind == "reading":
        text = answers.get(id) or inside(step["band"], standing)
        return [phone.read(id, text, unit=step["unit"])]
    return [_simple(phone, id, kind, step)]


def _simple(phone: Phone, id: str, kind: str, step: dict[str, Any]) -> dict[str, Any]:
    if kind == "photo":
        return phone.entry("photo", id, **PHOTO)
    if kind == "take_part":
        return phone.entry("part", id, part=step["part"]["code"], quantity=step["quantity"])
    if kind == "timer":
        started = datetime(2026, 3, 2, 9, tzinfo=UTC)
        ended = started + timedelta(seconds=step["seconds"])
        times = {"started_at": started.isoformat(), "ended_at": ended.isoformat()}
        return phone.entry("timer", id, **times)
    if kind == "note":
        return phone.entry("note", id, text="noted")
    return phone.acknowledge(id)


def _passing(step: dict[str, Any]) -> str:
    """A choice that passes, else one that says nothing, else the first."""
    by_verdict = {choice["verdict"]: choice["key"] for choice in reversed(step["choices"])}
    found = by_verdict.get("pass") or by_verdict.get(None)
    return found or str(step["choices"][0]["key"])


def _cell(
    phone: Phone,
    step: dict[str, Any],
    cell: str,
    column: dict[str, Any],
    row: int,
    said: str | None,
) -> dict[str, Any]:
    band = column["band"]
    if said is not None:
        text = said
    elif column["key"] == "set":
        text = canonical(repr(step["rows"][row]["set_volt"]))
    elif band is None:
        text = "1" if column["quantity"] == "count" else "0.01"
    else:
        low, high = band["rows"][row]
        text = middle(low, high)
    return phone.read(cell, text, unit=column["unit"])


def inside(band: dict[str, Any] | None, standing: Standing) -> str:
    """A value well inside a band; without a band, one."""
    if band is None:
        return "1"
    if "along" in band:
        entries = standing.get(band["along"], [])
        x = entries[-1].value_si if entries else 0.0
        found = band_at([tuple(point) for point in band["points"]], x or 0.0)
        assert found is not None
        return middle(found.low, found.high)
    return middle(band["low"], band["high"])


def middle(low: float | None, high: float | None) -> str:
    if low is None and high is None:
        return "1"
    if high is None:
        return canonical(repr((low or 0.0) + 9 * abs(low or 0.0) + 1))
    # dBu and dB of a sound unit lie below nought, so half of a limit is not always below it
    value = high - abs(high) / 2 if low is None else (low + high) / 2
    return canonical(f"{value:.6g}")


def verdicts_of(worksheet: Worksheet) -> dict[str, str]:
    """The verdict of each entry by step."""
    rows = Entry.objects.filter(worksheet=worksheet).exclude(verdict="")
    return dict(rows.values_list("step", "verdict"))
