"""A draft tried out: the pack it would make, worked out and not kept."""

from __future__ import annotations

from typing import Any

from django.utils import timezone

from shop.benches.models import Bench
from shop.core.ids import new_id
from shop.core.models import Person
from shop.core.selectors import the_shop
from shop.jobs.errors import DraftFaulty
from shop.jobs.format.procedures import pinned, procedures_in
from shop.jobs.models import Draft
from shop.jobs.selectors import newest_numbers, problems_of
from shop.jobs.services.packs import Job, pack_of_job
from shop.repairs.models import Repair
from shop.units.models import ModelSheet, Unit


def try_draft(
    *, draft: Draft, repair: Repair, by: Person, bench: Bench | None = None,
    facts: dict[str, Any] | None = None,
) -> dict[str, Any]:  # fmt: skip
    """The pack of a sound draft for a repair, which may be made up. Nothing is stored.

    Raises DraftFaulty, BadField, Gate, FactsMissing.
    """
    if problems := problems_of(draft):
        raise DraftFaulty(problems)
    slugs = {named["template"] for _path, named in procedures_in(draft.body)}
    job = Job(
        worksheet=new_id(),
        slug=draft.slug,
        number=draft.based_on.number + 1 if draft.based_on else 1,
        body=pinned(draft.body, newest_numbers(slugs)),
        repair=repair,
        bench=bench,
        sent=facts or {},
    )
    return pack_of_job(job, by, timezone.now())


def made_up_repair(unit: Unit) -> Repair:
    """A visit that nobody booked in, in this shop's own country, of a unit real or made up."""
    shop = the_shop()
    return Repair(
        id=new_id(),
        number=0,
        unit=unit,
        complaint="",
        set_for_volt=unit.set_for_volt,
        set_for_hz=unit.set_for_hz,
        use_at_country=shop.country,
        use_at_volt=shop.bench_volt,
        use_at_hz=shop.bench_hz,
    )


def made_up_unit(sheet: ModelSheet | None) -> Unit:
    """A unit of a model, or one about which nothing is known."""
    named = {"make": sheet.make, "model": sheet.model} if sheet else {"make": "", "model": ""}
    return Unit(id=new_id(), code="", model_sheet=sheet, serial="", **named)
