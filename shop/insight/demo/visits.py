"""Turns the plan into rows: customers, units, repairs and the way each came through its stages."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from shop.calc.codes import Kind
from shop.core.models import Counter, Person
from shop.customers.models import Customer
from shop.customers.phones import phone_digits
from shop.insight.demo.fixed import ago, code, id_at
from shop.insight.demo.plan import CUSTOMERS, PATHS, Plan
from shop.repairs import stages
from shop.repairs.models import Repair, Stage, StageEvent
from shop.units.models import ModelSheet, Piece, PlaceEvent, Shelf, Unit

Crew = dict[str, Person]
REASONS = {
    ("awaiting_go_ahead", "on_the_bench"): "agreed by phone",
    ("awaiting_go_ahead", "declined"): "too dear for the customer",
    ("on_the_bench", "awaiting_parts"): "parts ordered",
}
PIECES = ("mains cord", "step-down transformer", "footswitch", "bag with four rack screws")


def write_customers(at: datetime) -> list[Customer]:
    return [_customer(number, name, at) for number, name in enumerate(CUSTOMERS)]


def _customer(number: int, name: str, at: datetime) -> Customer:
    phone = f"030 23125 {100 + number}"
    first = name.split()[0].lower()
    return Customer.objects.create(
        id=id_at(at, name),
        name=name,
        phone=phone,
        phone_digits=phone_digits(phone),
        email="" if number % 9 == 4 else f"{first}@mail.example",
        language="de" if number % 3 == 0 else "en",
        created_at=at,
    )


def write_sheets(sheets: Sequence[dict[str, object]], at: datetime) -> dict[str, ModelSheet]:
    """The model sheets, by model."""
    return {
        str(facts["model"]): ModelSheet.objects.create(id=id_at(at, str(facts["model"])), **facts)
        for facts in sheets
    }


def write_visit(
    *, number: int, plan: Plan, owner: Customer, sheet: ModelSheet, crew: Crew,
    shelves: list[Shelf], now: datetime,
) -> Repair:  # fmt: skip
    """One repair with its unit, pieces and events."""
    booked_at = ago(now, plan.booked)
    unit = _unit(number, plan, owner, sheet, booked_at)
    country, volt, hz = plan.use_at
    marks = _marks(plan, now)
    stage, since = marks[-1]
    repair = Repair.objects.create(
        id=id_at(booked_at, f"repair {number}"), number=number, unit=unit, customer=owner,
        stage=stage, stage_since=since, version=len(marks),
        booked_in_at=booked_at, booked_in_by=crew["dora"],
        due_on=None if plan.due_in is None else (now + timedelta(days=plan.due_in)).date(),
        assigned_to=None if stage == Stage.BOOKED_IN else crew[plan.tech],
        complaint=plan.complaint, last_worked="years ago" if number % 3 else "last week",
        last_supply=f"{plan.set_for} V", set_for_volt=plan.set_for, set_for_hz=50,
        use_at_country=country, use_at_volt=volt, use_at_hz=hz,
        damage="scratched lid" if number % 4 == 0 else "",
        diagnosis_fee_minor=3500, spending_limit_minor=(0, 8000, 15000)[number % 3],
        visible_changes=("ask", "yes", "no")[number % 3], sounds=plan.sounds,
        closed_at=since if stage in stages.CLOSED else None, outcome=_outcome(plan),
    )  # fmt: skip
    _write_events(repair, plan, marks, crew)
    _write_pieces(repair, number, is_gone=stage in stages.CLOSED)
    if stage not in stages.CLOSED:
        _put_on_shelf(repair, shelves[number % len(shelves)], crew["dora"])
    return repair


def _unit(number: int, plan: Plan, owner: Customer, sheet: ModelSheet, at: datetime) -> Unit:
    left = plan.path in {"declined", "beyond_repair", "left_declined"}
    return Unit.objects.create(
        id=id_at(at, f"unit {number}"),
        code=code(Kind.UNIT, f"unit {number}"),
        model_sheet=sheet,
        make=sheet.make,
        model=sheet.model,
        serial=plan.serial or f"{(sheet.year_from or 1980) % 100:02}{1000 + number * 7}",
        owner=owner,
        set_for_volt=plan.set_for,
        set_for_hz=50,
        do_not_power=PATHS[plan.path][-1:] not in (("ready",), ("handed_back",)) or left,
        power_note="Left unrepaired." if left else "",
    )


def _marks(plan: Plan, now: datetime) -> list[tuple[str, datetime]]:
    """Stages with their times, spread evenly from booking in to the last change."""
    way = ("booked_in", *PATHS[plan.path])
    start, end = ago(now, plan.booked), ago(now, plan.since, hour=15)
    step = (end - start) / max(len(way) - 1, 1)
    between = [_in_working_hours(start + step * place) for place in range(1, len(way) - 1)]
    return list(zip(way, [start, *between, end][: len(way)], strict=True))


def _in_working_hours(at: datetime) -> datetime:
    """The same day between 9 and 17 o'clock, earlier times staying before later ones."""
    return at.replace(hour=9 + at.hour // 3)


def _write_events(
    repair: Repair, plan: Plan, marks: list[tuple[str, datetime]], crew: Crew
) -> None:
    first = StageEvent(
        id=id_at(repair.booked_in_at, f"event {repair.number} 0"), repair=repair, from_stage="",
        to_stage=Stage.BOOKED_IN, at=repair.booked_in_at, by=crew["dora"],
    )  # fmt: skip
    later = [
        StageEvent(
            id=id_at(at, f"event {repair.number} {place}"), repair=repair, from_stage=here,
            to_stage=to, at=at, by=_actor(here, to, plan, crew), reason=_reason(here, to, plan),
        )
        for place, ((here, _at), (to, at)) in enumerate(pairwise(marks), start=1)
    ]  # fmt: skip
    StageEvent.objects.bulk_create([first, *later])


def _actor(here: str, to: str, plan: Plan, crew: Crew) -> Person:
    """Somebody whom the table of stages allows this change."""
    roles = stages.TABLE[here, to].roles
    return crew[plan.tech] if "tech" in roles else crew["dora"]


def _reason(here: str, to: str, plan: Plan) -> str:
    is_last = PATHS[plan.path][-1] == to
    return (plan.reason if is_last else "") or REASONS.get((here, to), "")


def _outcome(plan: Plan) -> str:
    return {"left_declined": "unrepaired"}.get(
        plan.path, "repaired" if PATHS[plan.path][-1:] == ("handed_back",) else ""
    )


def _write_pieces(repair: Repair, number: int, *, is_gone: bool) -> None:
    for name in PIECES[: number % 4]:
        Piece.objects.create(
            code=code(Kind.PIECE, f"{number} {name}"),
            unit=repair.unit,
            name=name,
            state=Piece.State.HANDED_BACK if is_gone else Piece.State.HERE,
        )


def _put_on_shelf(repair: Repair, shelf: Shelf, by: Person) -> None:
    Unit.objects.filter(id=repair.unit_id).update(shelf=shelf)
    at = repair.booked_in_at
    PlaceEvent.objects.create(
        id=id_at(at, f"place {repair.number}"), unit=repair.unit, shelf=shelf, by=by, at=at
    )


def set_counter(kind: str, last: int) -> None:
    """Numbers go on after those of the demo."""
    Counter.objects.update_or_create(kind=kind, defaults={"last": last})
