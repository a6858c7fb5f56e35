"""Repairs that are not what a test is about, booked in without a screen."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from tests.e2e.steps.staff import ThroughApi


def book_in(desk: ThroughApi, *, serial: str, **changes: Any) -> dict[str, Any]:
    """A unit of 1992 that is to go to a 120 V country, or what `changes` say."""
    sheet = desk.get("model-sheets/?q=Nebelhorn")["results"][0]
    facts: dict[str, Any] = {
        "id": str(uuid4()),
        "customer": {"name": "Karl Kunde", "phone": "030 23125 7", "email": "karl@mail.example"},
        "unit": {"model_sheet": sheet["id"], "serial": serial,
                 "make": sheet["make"], "model": sheet["model"]},
        "complaint": "Forgets its sounds.", "last_worked": "last year", "last_supply": "230 V",
        "set_for_volt": 230, "set_for_hz": 50,
        "use_at_country": "US", "use_at_volt": 120, "use_at_hz": 60, "damage": "", "pieces": [],
        "allowed": {"diagnosis_fee_minor": 3500, "spending_limit_minor": 20000,
                    "visible_changes": "yes", "sounds": "save_first"},
        "signature": None, "photos": [], "due_on": None,
    }  # fmt: skip
    return dict(desk.post("repairs/", {**facts, **changes}))


def on_the_bench(
    desk: ThroughApi, tech: ThroughApi, *, serial: str, **changes: Any
) -> dict[str, Any]:
    repair = book_in(desk, serial=serial, **changes)
    for stage in ("looking_over", "on_the_bench"):
        tech.change_stage(repair["id"], stage)
    return dict(tech.get(f"repairs/{repair['id']}/"))


def start_worksheet(tech: ThroughApi, repair: str, template: str, **facts: str) -> str:
    bench = tech.get("benches/")["results"][0]["id"]
    body = {
        "id": str(uuid4()),
        "repair": repair,
        "template": template,
        "bench": bench,
        "facts": facts,
    }
    return str(tech.post("worksheets/", body)["id"])
