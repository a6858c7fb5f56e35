"""One worksheet on the report: as found, as left, checks, ramp, sign-offs, what was left out."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from shop.documents.papers.common import Context, short_time
from shop.documents.papers.report.entries import made, reading_row, reading_text
from shop.documents.papers.report.verdicts import verdict_mark
from shop.documents.papers.report.work import pack_of
from shop.jobs.models import Entry, Worksheet

Step = dict[str, Any]
Kind = Entry.Kind
STAGE_VERDICTS = {"passed": "pass", "failed": "fail"}


def worksheet_facts(sheet: Worksheet, entries: list[Entry]) -> Context:
    """What a worksheet says, in the order of its steps."""
    pack, steps = pack_of(sheet), {}
    for step in pack["steps"]:
        steps[step["id"]] = step
    mine = [entry for entry in entries if entry.worksheet_id == sheet.id]
    rows = [row for step in steps.values() for row in _rows(step, mine)]
    return {
        "title": title_of(sheet, pack),
        "revision": sheet.revision.number,
        "stage": sheet.get_stage_display(),
        "stop_reason": sheet.stop_reason,
        "verdict": verdict_mark(STAGE_VERDICTS.get(sheet.stage)),
        "opened_by": str(sheet.opened_by),
        "opened_at": short_time(sheet.opened_at),
        "closed_at": short_time(sheet.closed_at) if sheet.closed_at else "",
        "as_found": [row for row in rows if row["phase"] == "as_found"],
        "as_left": [row for row in rows if row["phase"] == "as_left"],
        "checks": [row for row in rows if not row["phase"]],
        "ramps": [ramp for step in steps.values() if (ramp := _ramp(step, mine))],
        "sign_offs": [_sign_off(steps, entry) for entry in mine if entry.kind == Kind.SIGN_OFF],
        "not_tested": list(_not_tested(sheet, title_of(sheet, pack), steps, mine)),
        "cautions": pack.get("cautions", []),
    }


def _rows(step: Step, mine: list[Entry]) -> list[Context]:
    return [
        {**_row(step, entry), "phase": step.get("phase")}
        for entry in mine
        if entry.step == step["id"] and entry.kind in {Kind.READING, Kind.CHOICE, Kind.TIMER}
    ]


def _row(step: Step, entry: Entry) -> Context:
    if entry.kind == Kind.READING:
        return reading_row(entry, step["title"])
    value, verdict = _choice(step, entry) if entry.kind == Kind.CHOICE else _timer(entry)
    row = {"title": step["title"], "value": value, "limits": "", "spread": "", "meter": ""}
    return {**row, "verdict": verdict_mark(verdict) if verdict else None, **made(entry)}


def _choice(step: Step, entry: Entry) -> tuple[str, str | None]:
    key = entry.value.get("choice", "")
    chosen: dict[str, Any] = next((c for c in step.get("choices", []) if c["key"] == key), {})
    return chosen.get("label", key), entry.verdict or chosen.get("verdict")


def _timer(entry: Entry) -> tuple[str, None]:
    return _("waited to the end"), None


def _ramp(step: Step, mine: list[Entry]) -> Context | None:
    """A ramp as its own table: one line per setting, one cell per column."""
    if step["kind"] != "ramp":
        return None
    cells = {entry.step: entry for entry in mine if entry.step.startswith(f"{step['id']}/")}
    rows = [
        {
            "set": _setting(row),
            "cells": [
                _cell(cells.get(f"{step['id']}/{row['id']}/{column['key']}"))
                for column in step["columns"]
            ],
        }
        for row in step["rows"]
    ]
    worked = [row for row in rows if any(row["cells"])]
    columns = [column["title"] for column in step["columns"]]
    return {"title": step["title"], "columns": columns, "rows": worked} if worked else None


def _setting(row: dict[str, Any]) -> str:
    """Where the transformer stood: per cent, volts, or both, as the pack knows them."""
    units = (("set_percent", "%"), ("set_volt", "V"))
    return ", ".join(
        f"{row[name]:g}\u00a0{unit}" for name, unit in units if row.get(name) is not None
    )


def _cell(entry: Entry | None) -> Context | None:
    if entry is None or entry.kind != Kind.READING:
        return None
    return {"value": reading_text(entry), "verdict": verdict_mark(entry.verdict)}


def _sign_off(steps: dict[str, Step], entry: Entry) -> Context:
    return {"title": steps.get(entry.step, {}).get("title", ""), **made(entry)}


def title_of(sheet: Worksheet, pack: dict[str, Any]) -> str:
    """The title in the language of the pack, as whoever worked it saw it."""
    return str(pack.get("template", {}).get("title") or sheet.revision.template.title)


def _not_tested(sheet: Worksheet, title: str, steps: dict[str, Step], mine: list[Entry]) -> Any:
    """Steps that were left out, with the reason, and readings that gave no value."""
    for entry in mine:
        name = steps.get(entry.step.split("/")[0], {}).get("title", entry.step)
        if entry.kind == Kind.SKIP:
            why = entry.value.get("reason") or entry.reason
            yield {"sheet": title, "step": name, "why": why}
        elif entry.value.get("state") == "not_measured":
            yield {"sheet": title, "step": name, "why": _("not measured")}
    if sheet.stage == Worksheet.Stage.STOPPED:
        yield {"sheet": title, "step": _("the rest of it"), "why": sheet.stop_reason}
    for step in steps.values():
        if step.get("why_not_judged"):
            yield {"sheet": title, "step": step["title"], "why": step["why_not_judged"]}
