"""Starting and stopping worksheets."""

from __future__ import annotations

import hashlib
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from shop.benches.models import Bench
from shop.benches.selectors import meter_card, meters_in_use
from shop.calc.quantities import Quantity
from shop.calc.readings import parse_reading
from shop.calc.working import BadInput
from shop.core.errors import BadField, Conflict, NotAllowed
from shop.core.models import Person, Role
from shop.core.selectors import the_shop
from shop.jobs.errors import RepairClosed
from shop.jobs.format.texts import in_language
from shop.jobs.models import RecordHead, Worksheet
from shop.jobs.packing import make_pack, pack_bytes
from shop.jobs.packing.facts import facts_of, supplies_of
from shop.jobs.packing.pack import ask, require_open_gates
from shop.jobs.packing.values import Values
from shop.jobs.selectors import published_revision
from shop.repairs.models import Repair
from shop.repairs.stages import CLOSED
from shop.stock.models import Part
from shop.stock.selectors import fullest_level
from shop.units.selectors import hazard_rows


def start_worksheet(
    *,
    id: UUID,
    repair: Repair,
    template: str,
    by: Person,
    bench: Bench | None = None,
    facts: dict[str, Any] | None = None,
) -> tuple[Worksheet, bool]:
    """Resolve a template against a repair and keep the pack; also says whether it is new.

    A repeat of the id returns the first worksheet, whatever became known since. Raises
    NoSuchTemplate, RepairClosed, NotAllowed, BadField, Gate, FactsMissing, Conflict.
    """
    sent = facts or {}
    if known := Worksheet.objects.select_related("revision").filter(id=id).first():
        return _same(known, repair, template, bench, sent), False
    revision = published_revision(template)
    if revision.body["role"] == Role.MANAGER and by.role != Role.MANAGER:
        raise NotAllowed(_("This job template is worked by the manager."))
    if repair.stage in CLOSED:
        raise RepairClosed()
    now = timezone.now()
    row = Worksheet(
        id=id,
        repair=repair,
        revision=revision,
        bench=bench,
        opened_by=by,
        opened_at=now,
        facts=sent,
    )
    # Calculations run before the transaction: SQLite's write lock is not held over them.
    with translation.override(by.language):
        _fill_pack(row, by, now)
    try:
        return _keep(row), True
    except IntegrityError:  # the same id at the same moment
        return _same(Worksheet.objects.get(id=id), repair, template, bench, sent), False


@transaction.atomic
def _keep(row: Worksheet) -> Worksheet:
    row.save(force_insert=True)
    RecordHead.objects.create(record=row.id)
    return row


def _same(
    row: Worksheet, repair: Repair, template: str, bench: Bench | None, sent: dict[str, Any]
) -> Worksheet:
    now = (repair.id, template, bench.id if bench else None, sent)
    first = (row.repair_id, row.revision.template_id, row.bench_id, row.facts)
    if now != first:
        raise Conflict(id=str(row.id))
    return row


def _fill_pack(row: Worksheet, by: Person, now: datetime) -> None:
    """Work out the pack and put it on the row as bytes, with its hash."""
    template = row.revision.body
    asked: dict[str, Any] = {}
    today = timezone.localdate(now)
    known = facts_of(repair=row.repair, shop=the_shop(), bench=row.bench, asked=asked, today=today)
    values = Values(facts=known, language=by.language)
    answers = asked_answers(template, row.facts)
    require_open_gates(template, values)  # "not this unit" is said before anything is asked
    ask(template, values, answers)
    pack = make_pack(template, values, shop_parts, _head(row, by, now))
    row.pack = pack_bytes(pack)
    row.pack_sha256 = hashlib.sha256(row.pack).hexdigest()


def asked_answers(template: dict[str, Any], sent: dict[str, Any]) -> dict[str, Any]:
    """Answers to what a template asks, checked against choices and quantities. Raises BadField."""
    facts = {fact["key"]: fact for fact in template.get("facts", [])}
    for key in sent.keys() - facts.keys():
        raise BadField(f"facts.{key}", _("This is not asked."), "unknown")
    return {key: _answer(facts[key], answer) for key, answer in sent.items() if answer is not None}


def _answer(fact: dict[str, Any], answer: Any) -> Any:
    field = f"facts.{fact['key']}"
    if "choices" in fact:
        chosen = [choice for choice in fact["choices"] if choice["key"] == answer]
        if not chosen:
            raise BadField(field, _("This is none of the choices."), "not_a_choice")
        return chosen[0].get("value", answer)
    try:
        reading = parse_reading(str(answer), Quantity(fact["quantity"]), field)
    except BadInput as bad:
        raise BadField(field, bad.reason, bad.code) from bad
    if reading.si is None:
        raise BadField(field, _("A number is needed here."), "not_a_number")
    return reading.si


def shop_parts(template: dict[str, Any], values: Values) -> dict[str, dict[str, Any]]:
    """The shop's part for each part a template names: by order code, else by name, else none."""
    wanted = [part for part in template.get("parts", []) if values.holds(part.get("when"))]
    codes = [values.text(part.get("order_code", "")) for part in wanted]
    names = [values.text(in_language(part["name"], "en")) for part in wanted]
    by_code = {p.order_code: p for p in Part.objects.filter(order_code__in=filter(None, codes))}
    by_name = {p.name: p for p in Part.objects.filter(name__in=names)}
    found = {}
    for part, code, name in zip(wanted, codes, names, strict=True):
        match = by_code.get(code) or by_name.get(name)
        level = fullest_level(part=match) if match else None
        found[part["key"]] = {
            "code": match.code if match else "",
            "name": match.name if match else values.text(part["name"]),
            "bin": level.bin.name if level else None,
            "quantity": part["quantity"],
        }
    return found


def _head(row: Worksheet, by: Person, now: datetime) -> dict[str, Any]:
    """The fields of a pack that the template has no say in."""
    repair, unit, sheet = row.repair, row.repair.unit, row.repair.unit.model_sheet
    shop = the_shop()
    supplies = supplies_of(repair, shop, row.bench)
    # A conversion is worked out from the setting as found; on screen stands what it is set for now.
    is_known = unit.set_for_volt is not None
    supplies["set_for"] = {"volt": unit.set_for_volt, "hz": unit.set_for_hz} if is_known else None
    today = timezone.localdate(now)
    return {
        "pack_version": 1,
        "worksheet": row.id,
        "repair": repair.id,
        "repair_number": str(repair.number),
        "language": by.language,
        "made_at": now.isoformat().replace("+00:00", "Z"),
        "template": {"slug": row.revision.template_id, "revision": row.revision.number},
        "unit": {name: getattr(unit, name) for name in ("code", "make", "model", "serial")},
        "supplies": supplies,
        "allowed": {"visible_changes": repair.visible_changes, "sounds": repair.sounds},
        "hazards": hazard_rows(sheet.hazards if sheet else []),
        "meters": [meter_card(meter, today) for meter in meters_in_use(today)],
        "overdue_forbidden": shop.overdue_forbidden,
    }


@transaction.atomic
def stop_worksheet(*, worksheet: Worksheet, reason: str, by: Person) -> Worksheet:
    """End a worksheet that will not be finished. A repeat changes nothing. Raises BadField."""
    if not reason.strip():
        raise BadField("reason", _("Say why it is stopped."), "blank")
    open_ones = Worksheet.objects.filter(id=worksheet.id).exclude(stage=Worksheet.Stage.STOPPED)
    words = f"{by.name or by.username}: {reason.strip()}"[:300]
    now = timezone.now()
    open_ones.update(stage=Worksheet.Stage.STOPPED, closed_at=now, stop_reason=words)
    worksheet.refresh_from_db(fields=["stage", "closed_at", "stop_reason"])
    return worksheet
