"""From what a phone sent to an entry that can be kept: checked, read again, judged again."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.utils import timezone
from django.utils.translation import gettext as _

from shop.benches.models import Meter
from shop.benches.selectors import calibration_state
from shop.calc.judging import Band, Rule
from shop.core.models import Person
from shop.jobs.errors import BadEntry
from shop.jobs.models import Entry
from shop.jobs.record.judged import NO_LIMITS, accuracy_for, judge_reading, limits_of, read_again
from shop.jobs.record.ledger import Ledger
from shop.jobs.record.rules import (
    choice_verdict,
    require_in_date,
    require_may_add,
    require_reason,
    require_waited,
    step_for,
)
from shop.jobs.record.state import Step
from shop.jobs.record.wire import (
    ChoiceValue,
    EntryIn,
    ReadingValue,
    SkipValue,
    TimerValue,
    read_value,
)


def make_entry(
    ledger: Ledger,
    sent: EntryIn,
    *,
    person: Person,
    devices: frozenset[UUID],
    meters: Mapping[UUID, Meter],
    zone: ZoneInfo,
    now: datetime,
) -> Entry:
    """The entry as it will be kept, not yet in the chain. Raises the refusal of the first rule.

    `zone` is where the shop is: its days decide whether a meter is overdue.
    """
    require_may_add(ledger, sent, person)
    value = read_value(sent)
    step = step_for(ledger, sent)
    entry = Entry(
        id=sent.id,
        record=sent.record,
        repair_id=sent.repair,
        worksheet_id=sent.worksheet,
        step=sent.step or "",
        kind=sent.kind,
        value={name: inner for name, inner in sent.value.items() if name != "judged"},
        replaces_id=sent.replaces,
        reason=sent.reason,
        made_by=person,
        device_id=sent.device_id if sent.device_id in devices else None,
        made_at=sent.made_at,
        received_at=now,
    )
    if isinstance(value, ReadingValue):
        _judge(entry, step, value, ledger, meters, zone)
    else:
        _complete(entry, step, value)
    return entry


def _complete(entry: Entry, step: Step | None, value: Any) -> None:
    """What the kind adds: a verdict, a check of its own."""
    match value:
        case ChoiceValue() if step:
            entry.verdict = choice_verdict(step, value.choice)
        case TimerValue() if step:
            require_waited(step, value)
        case SkipValue():
            require_reason(value)


def _judge(
    entry: Entry,
    step: Step | None,
    value: ReadingValue,
    ledger: Ledger,
    meters: Mapping[UUID, Meter],
    zone: ZoneInfo,
) -> None:
    """Adds the exact value, the verdict, and the meter as it was on the day of the reading."""
    quantity, band, rule = _asked(step, entry.step, value, ledger)
    reading = read_again(value, quantity)
    meter = _meter(value, meters)
    if meter:
        require_in_date(meter, quantity, _day_for_rules(entry, ledger, zone), ledger)
    accuracy = _kept_accuracy(meter, ledger) if meter else []
    row = accuracy_for(accuracy, quantity)
    judged = judge_reading(reading, band, rule, row)
    entry.value_text, entry.value_si, entry.unit = reading.text or "", reading.si, reading.unit
    entry.verdict = judged.verdict.value
    entry.value["judged"] = judged.as_kept()
    if meter:
        entry.meter = meter
        entry.meter_state = _meter_state(meter, row, timezone.localdate(entry.made_at, zone))


def _day_for_rules(entry: Entry, ledger: Ledger, zone: ZoneInfo) -> date:
    """The day a reading counts for: not before its worksheet, whatever the phone's clock says."""
    began = ledger.worksheet.opened_at if ledger.worksheet else entry.made_at
    return timezone.localdate(max(entry.made_at, began), zone)


def _asked(
    step: Step | None, name: str, value: ReadingValue, ledger: Ledger
) -> tuple[str, Band, Rule]:
    """(quantity, limits, rule): of the step; in the bench log as its maker gave them."""
    if step is not None:
        quantity, band = limits_of(step, name, ledger.standing)
        return quantity, band, Rule(step.get("rule") or "simple")
    if not value.name or not value.quantity:
        raise BadEntry(_("value: a reading in the bench log has a name and a quantity"))
    if value.low is not None and value.high is not None and value.low > value.high:
        raise BadEntry(_("value.low: the lower limit is above the upper one"))
    band = Band(value.low, value.high) if (value.low, value.high) != (None, None) else NO_LIMITS
    return value.quantity, band, Rule(value.rule)


def _meter(value: ReadingValue, meters: Mapping[UUID, Meter]) -> Meter | None:
    if value.meter is None:
        if value.instrument:
            raise BadEntry(_("value.meter: what an instrument read names its meter"))
        return None
    if value.meter not in meters:
        raise BadEntry(_("value.meter: the shop has no such meter"))
    return meters[value.meter]


def _kept_accuracy(meter: Meter, ledger: Ledger) -> list[dict[str, Any]]:
    """The accuracy as the pack has it, so that phone and server judge with the same."""
    for card in ledger.pack["meters"] if ledger.pack else []:
        if card["id"] == str(meter.id):
            accuracy: list[dict[str, Any]] = card["accuracy"]
            return accuracy
    return list(meter.accuracy)


def _meter_state(meter: Meter, row: dict[str, Any] | None, today: Any) -> dict[str, Any]:
    due = meter.calibration_due_on
    return {
        "name": meter.name,
        "code": meter.code,
        "due_on": due.isoformat() if due else None,
        "state": calibration_state(meter, today),
        "accuracy": row,
    }
