"""Works the safety check of a repair at a time in the past, through the rules of real entries.

Every entry is made, judged and chained as one from a phone would be; only its time is given.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any

from shop.benches.models import Meter
from shop.calc.quantities import Quantity
from shop.calc.readings import parse_reading
from shop.core.models import Person
from shop.insight.demo.fixed import id_at
from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.ledger import Ledger
from shop.jobs.record.making import make_entry
from shop.jobs.record.state import Step, states
from shop.jobs.record.wire import EntryIn
from shop.jobs.services import start_worksheet
from shop.jobs.services.recording import open_ledger
from shop.repairs.models import Repair

CHECK = "safety-check"
MINUTES = 12
SIMPLE_KINDS = {"caution": "acknowledge", "instruction": "acknowledge", "computed": "acknowledge"}
CLASSES = {"0": "class_0", "I": "class_i", "II": "class_ii"}


def prove(*, repair: Repair, by: Person, at: datetime, meters: list[Meter]) -> None:
    """Leave a passed safety check that was begun at `at` and took twelve minutes."""
    worksheet, _new = start_worksheet(
        id=id_at(at, f"worksheet {repair.number} {CHECK}"),
        repair=repair,
        template=CHECK,
        by=by,
        facts=_asked(repair),
    )
    ended_at = at + timedelta(minutes=MINUTES)
    with open_ledger(worksheet.id, is_worksheet=True, now=ended_at) as ledger:
        for number, step in enumerate(_steps_to_do(ledger)):
            made_at = at + timedelta(seconds=45 * (number + 1))
            ledger.append(_entry(ledger, step, by, min(made_at, ended_at), meters))
    Worksheet.objects.filter(id=worksheet.id).update(opened_at=at)


def _asked(repair: Repair) -> dict[str, Any]:
    """What the template asks at the start of a unit with two wires."""
    sheet = repair.unit.model_sheet
    return {"class_now": CLASSES[sheet.protection_class]} if sheet and sheet.two_wire else {}


def _steps_to_do(ledger: Ledger) -> Iterator[Step]:
    """The required steps one after another, those that a choice brings up included."""
    while True:
        assert ledger.pack is not None  # noqa: S101 - this is a worksheet
        left = [
            state.step
            for state in states(ledger.pack, ledger.standing)
            if state.step["required"] and not state.settled
        ]
        if not left:
            return
        yield left[0]
        if not ledger.standing.get(left[0]["id"]):
            raise RuntimeError(f"the demo cannot settle step {left[0]['id']}")


def _entry(ledger: Ledger, step: Step, by: Person, at: datetime, meters: list[Meter]) -> Entry:
    id = id_at(at, f"{ledger.head.record} {step['id']}")
    if step["kind"] == "sign_off":
        return _signature(ledger, step, by, at)
    kind, value = _answer(step, meters)
    sent = EntryIn(
        id=id,
        record=ledger.head.record,
        repair=ledger.repair.id,
        worksheet=ledger.head.record,
        step=step["id"],
        kind=kind,  # type: ignore[arg-type]  # one of the literals, by _answer
        value=value,
        made_by=by.id,
        made_at=at,
    )
    known = {meter.id: meter for meter in meters}
    return make_entry(ledger, sent, person=by, devices=frozenset(), meters=known, now=at)


def _signature(ledger: Ledger, step: Step, by: Person, at: datetime) -> Entry:
    return Entry(
        id=id_at(at, f"{ledger.head.record} {step['id']}"),
        record=ledger.head.record,
        repair_id=ledger.repair.id,
        worksheet_id=ledger.head.record,
        step=step["id"],
        kind=Entry.Kind.SIGN_OFF,
        value={"role": by.role, "signed_by": str(by.id), "note": ""},
        made_by=by,
        made_at=at,
        received_at=at,
    )


def _answer(step: Step, meters: list[Meter]) -> tuple[str, dict[str, Any]]:
    """What a person would record on a sound unit."""
    if step["kind"] in SIMPLE_KINDS:
        return SIMPLE_KINDS[step["kind"]], {}
    if step["kind"] == "look":
        return "choice", {"choice": _good_choice(step["choices"])}
    if step["kind"] == "reading":
        return "reading", _reading(step, meters)
    if step["kind"] == "note":
        return "note", {"text": "As it should be."}
    raise RuntimeError(f"the demo cannot answer a step of kind {step['kind']}")


def _good_choice(choices: list[dict[str, Any]]) -> str:
    passing = [choice["key"] for choice in choices if choice.get("verdict") == "pass"]
    return str((passing or [choices[0]["key"]])[0])


def _reading(step: Step, meters: list[Meter]) -> dict[str, Any]:
    """A value well inside the limits, read on a meter of a wanted kind."""
    typed = f"{_good_value(step.get('band') or {}):.6f}".rstrip("0").rstrip(".")
    reading = parse_reading(typed, Quantity(step["quantity"]))
    wanted = set(step.get("meter_kinds") or [])
    meter = next((one for one in meters if wanted.intersection(one.kinds)), None)
    return {
        "as_typed": typed,
        "value_text": reading.text,
        "unit": reading.unit,
        "state": "measured",
        "meter": str(meter.id) if meter else None,
        "quantity": step["quantity"],
    }


def _good_value(band: dict[str, Any]) -> float:
    low, high = band.get("low"), band.get("high")
    if low is not None and high is not None:
        return float(low + (high - low) * 0.4)
    if high is not None:
        return float(high * 0.4)
    return float(low * 10 if low is not None else 1)
