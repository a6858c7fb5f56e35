"""A template resolved for a repair, with what this shop knows and has."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

import msgspec
from django.utils import timezone, translation

from shop.benches.models import Bench
from shop.benches.selectors import meter_card, meters_in_use
from shop.core.models import Person, Shop
from shop.core.selectors import the_shop
from shop.jobs.format.revisions import remembered
from shop.jobs.format.texts import in_language
from shop.jobs.packing import make_pack
from shop.jobs.packing.asking import ask, asked_answers, questions_of
from shop.jobs.packing.facts import facts_of, supplies_of
from shop.jobs.packing.procedures import require_open_gates
from shop.jobs.packing.values import Values
from shop.jobs.selectors import find_procedure
from shop.repairs.models import Repair
from shop.stock.models import Part
from shop.stock.selectors import fullest_level
from shop.units.selectors import hazard_rows


class Job(msgspec.Struct, frozen=True):
    """What is to be worked on what. Neither worksheet nor repair need be stored."""

    worksheet: UUID
    slug: str
    number: int
    body: dict[str, Any]
    repair: Repair
    bench: Bench | None
    sent: dict[str, Any]  # answers to what is asked


def pack_of_job(job: Job, by: Person, now: datetime) -> dict[str, Any]:
    """The pack, in the language of who works it.

    Raises BadField, Gate, FactsMissing, NoSuchTemplate (of a procedure).
    """
    asked: dict[str, Any] = {}
    shop = the_shop()
    today = timezone.localdate(now, ZoneInfo(shop.time_zone))
    known = facts_of(repair=job.repair, shop=shop, bench=job.bench, asked=asked, today=today)
    values = Values(facts=known, language=by.language)
    find = remembered(find_procedure)
    with translation.override(by.language):
        questions = questions_of(job.body, find)
        answers = asked_answers(questions, job.sent)
        # "Not this unit" is said before anything is asked.
        require_open_gates(job.body, values, find)
        ask(questions, values, answers)
        return make_pack(job.body, values, shop_parts, _head(job, by, now, shop), find)


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


def _head(job: Job, by: Person, now: datetime, shop: Shop) -> dict[str, Any]:
    """The fields of a pack that the template has no say in."""
    repair, unit, sheet = job.repair, job.repair.unit, job.repair.unit.model_sheet
    supplies = supplies_of(repair, shop, job.bench)
    # A conversion is worked out from the setting as found; on screen stands what it is set for now.
    is_known = unit.set_for_volt is not None
    supplies["set_for"] = {"volt": unit.set_for_volt, "hz": unit.set_for_hz} if is_known else None
    today = timezone.localdate(now, ZoneInfo(shop.time_zone))
    return {
        "pack_version": 1,
        "worksheet": job.worksheet,
        "repair": repair.id,
        "repair_number": str(repair.number),
        "language": by.language,
        "made_at": now.isoformat().replace("+00:00", "Z"),
        "template": {"slug": job.slug, "revision": job.number},
        "unit": {name: getattr(unit, name) for name in ("code", "make", "model", "serial")},
        "supplies": supplies,
        "allowed": {"visible_changes": repair.visible_changes, "sounds": repair.sounds},
        "hazards": hazard_rows(sheet.hazards if sheet else []),
        "meters": [meter_card(meter, today) for meter in meters_in_use(today)],
        "overdue_forbidden": shop.overdue_forbidden,
    }
