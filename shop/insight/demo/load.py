"""Loading the invented shop into empty books."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from shop.benches.models import Bench, Meter
from shop.core.errors import ShopError
from shop.core.models import OutboxEvent, Person, Shop
from shop.customers.models import Customer
from shop.insight.demo import money, sheets_linear, sheets_special, stock_list, visits, wall
from shop.insight.demo.fixed import ago, id_at, pick
from shop.insight.demo.morning import leave_waiting
from shop.insight.demo.people import LOGINS, NAME, hire_people, open_shop
from shop.insight.demo.places import build_benches, build_shelves, hang_up_meters
from shop.insight.demo.plan import Plan
from shop.insight.demo.proving import prove
from shop.insight.demo.rows_checks import CHECKED
from shop.insight.demo.rows_closed import closed_plans
from shop.insight.demo.rows_open import OPEN
from shop.insight.demo.worked import work_through
from shop.jobs.services import import_template_file, start_worksheet
from shop.jobs.shipped import shipped_templates
from shop.repairs.models import Repair, Stage
from shop.repairs.services.stage_changes import record_work
from shop.repairs.stages import CLOSED
from shop.stock.models import OrderLine, Part, PurchaseOrder

__all__ = ["LOGINS", "BooksInUse", "load_demo"]

OPENED_DAYS_AGO = 230


class BooksInUse(ShopError):
    code = "books_in_use"
    title = "There is a real shop in these books: no demo is loaded."


@transaction.atomic
def load_demo(*, now: datetime) -> bool:
    """Fill empty books with the invented shop; says whether anything was loaded.

    A second call changes nothing. Raises BooksInUse when somebody else's work is in the books.
    Nobody is written to; only the papers of what is still in the shop are drawn afterwards.
    """
    if Shop.objects.filter(name=NAME).exists():
        return False
    if Person.objects.exists() or Shop.objects.exists():
        raise BooksInUse()
    shop = open_shop()
    local = now.astimezone(ZoneInfo(shop.time_zone))
    opened = ago(local, OPENED_DAYS_AGO, hour=9)
    crew = hire_people(opened)
    benches = build_benches(opened)
    meters = hang_up_meters(opened, local.date(), crew["max"])
    parts = wall.hang_up_parts(opened)
    import_templates(by=crew["max"])
    done = _write_repairs(crew, opened, local)
    uses = [use for repair, plan in done for use in _uses(repair, plan, crew)]
    wall.fill_bins(parts, uses, by=crew["max"], at=opened)
    _write_orders(parts, crew["max"], local)
    _work(done, crew, benches, meters)
    _prove(done, crew, meters)
    _write_money(done, crew)
    _begin_worksheets(done, crew, benches)
    for repair, plan in done:
        leave_waiting(repair, plan, crew, local)
    # The books were empty and hold what would have followed: nothing is to be sent.
    OutboxEvent.objects.all().delete()
    _ask_for_papers([repair for repair, _plan in done])
    return True


def _ask_for_papers(repairs: list[Repair]) -> None:
    """Receipt and tag of every unit in the shop, the test report of what is ready."""
    for repair in repairs:
        if repair.stage in CLOSED:
            continue
        events = list(repair.events.order_by("at", "id"))
        for kind in ("receipt", "tag"):
            record_work("documents.issue", repair, events[0], kind=kind)
        if repair.stage == Stage.READY:
            record_work("documents.issue_test_report", repair, events[-1])


def import_templates(*, by: Person | None = None) -> None:
    """The job templates that come along, unchanged ones keeping their revision."""
    for file in shipped_templates():
        import_template_file(path=file, by=by)


def _write_repairs(crew: visits.Crew, opened: datetime, now: datetime) -> list[tuple[Repair, Plan]]:
    sheets = visits.write_sheets([*sheets_linear.SHEETS, *sheets_special.SHEETS], opened)
    customers, shelves = visits.write_customers(opened), build_shelves()
    done = [
        (
            visits.write_visit(
                number=number,
                plan=plan,
                owner=_owner(customers, number),
                sheet=sheets[plan.sheet["model"]],
                crew=crew,
                shelves=shelves,
                now=now,
            ),
            plan,
        )
        for number, plan in enumerate(_plans(), start=1)
    ]
    visits.set_counter("repair", len(done))
    return done


def _plans() -> list[Plan]:
    return sorted([*closed_plans(), *OPEN, *CHECKED], key=lambda plan: -plan.booked)


def _owner(customers: list[Customer], number: int) -> Customer:
    return customers[pick(f"owner {number}", len(customers))]


def _uses(repair: Repair, plan: Plan, crew: visits.Crew) -> list[wall.Taken]:
    """Parts of a repair, taken while it was on the bench."""
    bench = repair.events.filter(to_stage=Stage.ON_THE_BENCH).order_by("at").first()
    if bench is None:
        return []
    at, by = bench.at + timedelta(minutes=20), crew[plan.tech]
    taken = [
        wall.Taken(repair, order_code, quantity, template, by, at)
        for order_code, quantity, template in plan.uses
    ]
    missing = [wall.Taken(repair, plan.short, 1, "", by, at, short=1)] if plan.short else []
    return [*taken, *missing]


def _write_orders(parts: dict[str, Part], manager: Person, now: datetime) -> None:
    """One order is on its way; what else runs low stands in open drafts."""
    part = parts["ELCO-47U-450"]
    approved_at, sent_at = ago(now, 9, hour=11), ago(now, 9, hour=12)
    order = PurchaseOrder.objects.create(
        id=id_at(approved_at, "order 1"), number=1, supplier=part.supplier,
        stage=PurchaseOrder.Stage.SENT, created_at=approved_at, approved_at=approved_at,
        approved_by=manager, sent_at=sent_at,
    )  # fmt: skip
    OrderLine.objects.create(order=order, part=part, quantity=10, cost_minor=part.cost_minor)
    visits.set_counter("order", 1)
    wall.draft_orders(parts, stock_list.RUNNING_OUT)


def _write_money(done: list[tuple[Repair, Plan]], crew: visits.Crew) -> None:
    for repair, _plan in done:
        money.write_estimate(repair, by=crew["dora"])
        if repair.closed_at:
            money.take_payment(repair, by=crew["dora"], at=repair.closed_at)


def _work(
    done: list[tuple[Repair, Plan]], crew: visits.Crew, benches: list[Bench], meters: list[Meter]
) -> None:
    """Job templates that were worked to their end, one after the other, before what came next."""
    for repair, plan in done:
        ended_at = {event.to_stage: event.at for event in repair.events.order_by("at", "id")}
        for job in plan.done:
            worksheet = work_through(
                repair=repair, template=job.template, by=crew[plan.tech],
                at=ended_at[job.at_stage] + timedelta(minutes=job.minutes),
                meters=sorted(meters, key=lambda meter: meter.name != job.meter),
                facts=job.facts, answers=job.answers, others=list(crew.values()),
                bench=_bench_for(repair, benches),
            )  # fmt: skip
            ended_at[job.at_stage] = worksheet.closed_at or worksheet.opened_at


def _bench_for(repair: Repair, benches: list[Bench]) -> Bench:
    return next((b for b in benches if b.volt == repair.use_at_volt), benches[0])


def _prove(done: list[tuple[Repair, Plan]], crew: visits.Crew, meters: list[Meter]) -> None:
    """Whatever became ready had passed its safety check an hour before."""
    for repair, plan in done:
        ready = repair.events.filter(to_stage=Stage.READY).first()
        if ready is None:
            continue
        stage = repair.stage
        _set_stage(repair, Stage.ON_TEST)  # nothing is recorded for a closed repair
        prove(repair=repair, by=crew[plan.tech], at=ready.at - timedelta(hours=1), meters=meters)
        _set_stage(repair, stage)


def _set_stage(repair: Repair, stage: str) -> None:
    Repair.objects.filter(id=repair.id).update(stage=stage)
    repair.stage = stage


def _begin_worksheets(
    done: list[tuple[Repair, Plan]], crew: visits.Crew, benches: list[Bench]
) -> None:
    """Worksheets that wait at the bench, begun by whoever has the repair."""
    for repair, plan in done:
        for template in plan.worksheets:
            start_worksheet(
                id=id_at(repair.stage_since, f"worksheet {repair.number} {template}"),
                repair=repair,
                template=template,
                by=crew[plan.tech],
                bench=_bench_for(repair, benches),
            )
