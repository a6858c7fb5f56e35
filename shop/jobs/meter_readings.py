"""Everything read with one meter: the one look for the day on which it turns out to be wrong."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

import orjson
from django.db.models import Exists, OuterRef, QuerySet

from shop.benches.models import Meter
from shop.calc.judging import Rule, judge
from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.chain import plain
from shop.repairs.models import Stage

MOST_ROWS = 500
Titles = dict[tuple[UUID | None, str], str]  # what a step is called, by (worksheet, step)


def readings_taken_with(meter: Meter, since: datetime) -> QuerySet[Entry]:
    """Readings with this meter since then, newest first, replaced ones included."""
    later = Entry.objects.filter(replaces=OuterRef("id"))
    return (
        Entry.objects.filter(meter=meter, made_at__gte=since)
        .annotate(is_replaced=Exists(later))
        .select_related("made_by", "repair__unit", "repair__customer")
        .order_by("-made_at", "-id")
    )


def meter_history(
    meter: Meter, since: datetime, off_percent: float | None = None
) -> dict[str, Any]:
    """The newest of these readings as rows, and what they come to.

    `off_percent`: how much too high the meter read (below 0: too low); then each row says what the
    value and the verdict would have been.
    """
    found = readings_taken_with(meter, since)
    entries = list(found[:MOST_ROWS])
    titles = _titles(entries)
    rows = [_row(entry, titles, off_percent) for entry in entries]
    return {"readings": rows, "total": found.count(), **_summary(rows)}


def _titles(entries: Iterable[Entry]) -> Titles:
    """What each step is called in the worksheet of its entry."""
    wanted = {entry.worksheet_id for entry in entries if entry.worksheet_id}
    packs = Worksheet.objects.filter(id__in=wanted).values_list("id", "pack")
    return {
        (id, name): title
        for id, pack in packs.iterator()
        for name, title in _titles_in(orjson.loads(bytes(pack)))
    }


def _titles_in(pack: dict[str, Any]) -> Iterable[tuple[str, str]]:
    for step in pack["steps"]:
        yield step["id"], step["title"]
        for row in step.get("rows", []):
            at = row.get("title") or f"{row.get('set_volt') or row.get('set_percent')}"
            for column in step["columns"]:
                name = f"{step['id']}/{row['id']}/{column['key']}"
                yield name, f"{step['title']}: {column['title']}, {at}"


def _row(entry: Entry, titles: Titles, off_percent: float | None) -> dict[str, Any]:
    repair, value = entry.repair, entry.value
    judged = value.get("judged", {})
    where = (entry.worksheet_id, entry.step)
    return {
        "id": entry.id,
        "made_at": entry.made_at,
        "made_by_name": str(entry.made_by),
        "repair": repair.id,
        "repair_number": repair.number,
        "repair_stage": repair.stage,
        "customer_name": repair.customer.name,
        "unit": str(repair.unit),
        "worksheet": entry.worksheet_id,
        "title": titles.get(where) or value.get("name") or entry.step,
        "as_typed": value.get("as_typed", ""),
        "quantity": value.get("quantity") or "",
        "value_text": entry.value_text or None,
        "unit_code": entry.unit,
        "low": _text(judged.get("low")),
        "high": _text(judged.get("high")),
        "rule": judged.get("rule", "simple"),
        "verdict": entry.verdict,
        "calibration": (entry.meter_state or {}).get("state", "unknown"),
        "due_on": (entry.meter_state or {}).get("due_on"),
        "is_replaced": entry.is_replaced,  # type: ignore[attr-defined]  # annotated
        "would_be": None if off_percent is None else _would_be(entry, judged, off_percent),
    }


def _text(value: float | None) -> str | None:
    """A limit as canonical decimal text, so that it is shown as the reading is."""
    return None if value is None else str(plain(value))


def _would_be(
    entry: Entry, judged: dict[str, Any], off_percent: float
) -> dict[str, str | None] | None:
    """The value and verdict if the meter read `off_percent` too high; None for what has no value.

    Formula: true = read / (1 + off / 100), judged by the limits, rule and uncertainty of then.
    """
    if entry.value_si is None:
        return None
    value = float(f"{entry.value_si / (1 + off_percent / 100):.6g}")
    verdict = judge(
        value,
        judged.get("low"),
        judged.get("high"),
        judged.get("expanded_uncertainty") or 0.0,
        Rule(judged.get("rule", "simple")),
    )
    return {"value_text": _text(value), "verdict": verdict.value}


def _summary(rows: list[dict[str, Any]]) -> dict[str, int]:
    """How many repairs are touched, how many of them have left, how many verdicts would change."""
    standing = [row for row in rows if not row["is_replaced"]]
    left = {row["repair"] for row in standing if row["repair_stage"] == Stage.HANDED_BACK}
    changed = [r for r in standing if r["would_be"] and r["would_be"]["verdict"] != r["verdict"]]
    return {
        "repairs": len({row["repair"] for row in standing}),
        "handed_back": len(left),
        "would_change": len(changed),
    }
