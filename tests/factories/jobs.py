"""Small job templates, worksheets started from them, and what a phone would send."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import factory

from shop.benches.models import Bench, Meter
from shop.calc.codes import Kind, make_code
from shop.core.ids import new_id
from shop.jobs.models import Worksheet
from shop.jobs.services import publish_revision, start_worksheet
from tests.factories.core import NOW
from tests.factories.units import ModelSheetFactory, RepairFactory, UnitFactory

ACCURACY = [
    {"quantity": "voltage_ac", "percent": 1.0, "counts": 3, "resolution": 0.1},
    {"quantity": "voltage_dc", "percent": 0.5, "counts": 2, "resolution": 0.001},
    {"quantity": "power", "percent": 1.0, "counts": 2, "resolution": 0.1},
    {"quantity": "resistance", "percent": 1.0, "counts": 2, "resolution": 1e6, "range_end": 2e9},
]


class BenchFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Bench

    name = factory.Sequence(lambda n: f"Bench {n}")
    volt = 230
    hz = 50
    lamps = factory.LazyFunction(lambda: [{"watt": 40, "volt": 230}, {"watt": 100, "volt": 230}])


class MeterFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Meter

    code = factory.Sequence(lambda n: make_code(Kind.METER, f"{n:06d}"))
    name = factory.Sequence(lambda n: f"Meter {n}")
    kinds = factory.LazyFunction(lambda: ["multimeter"])
    accuracy = ACCURACY
    calibration_due_on = NOW.date() + timedelta(days=300)


def caution(id: str = "unplug", **more: Any) -> dict[str, Any]:
    return {"id": id, "kind": "caution", "title": "Unplug it", "safety": True, **more}


def look(id: str = "cord", **more: Any) -> dict[str, Any]:
    choices = [
        {"key": "sound", "label": "sound", "verdict": "pass"},
        {"key": "damaged", "label": "damaged", "verdict": "fail"},
    ]
    return {"id": id, "kind": "look", "title": "Look", "choices": choices, **more}


def reading(id: str = "rail", **more: Any) -> dict[str, Any]:
    asked = {"quantity": "voltage_dc", "phase": "as_left", "band": {"low": 4.75, "high": 5.25}}
    return {"id": id, "kind": "reading", "title": "Rail", **asked, "blocks": True, **more}


def table(id: str = "rails", **more: Any) -> dict[str, Any]:
    """Two rows, one column. `rows`, `columns` are the table's, anything else the step's."""
    column = {"key": "volt", "title": "Volts", "quantity": "voltage_dc"}
    rows = more.pop("rows", [{"title": "+15 V"}, {"title": "-15 V"}])
    inside = {"rows": rows, "columns": more.pop("columns", [column])}
    return {"id": id, "kind": "table", "title": "Rails", "table": inside, **more}


def template(*steps: dict[str, Any], slug: str = "small", **more: Any) -> dict[str, Any]:
    head = {"schema_version": 1, "slug": slug, "title": slug, "summary": "A test.", "minutes": 5}
    return {**head, "role": "tech", "steps": list(steps) or [caution(), look(), reading()], **more}


def on_the_bench(stage: str = "on_the_bench", **sheet: Any) -> Any:
    """A repair of a unit with a model sheet."""
    unit = UnitFactory(model_sheet=ModelSheetFactory(**sheet))
    return RepairFactory(unit=unit, stage=stage, set_for_volt=230, set_for_hz=50)


def started(body: dict[str, Any], *, by: Any, repair: Any = None, **more: Any) -> Worksheet:
    """A worksheet, started through the service itself."""
    publish_revision(body=body)
    repair = repair or on_the_bench()
    made = start_worksheet(id=new_id(), repair=repair, template=body["slug"], by=by, **more)
    return made[0]


class Phone:
    """Makes operations as a phone does: its own ids, its own clock."""

    def __init__(self, person: Any, worksheet: Worksheet | None = None, repair: Any = None) -> None:
        self.person, self.worksheet = person, worksheet
        self.repair = repair or worksheet.repair
        self.now: datetime = NOW

    def entry(self, kind: str, step: str | None = None, **value: Any) -> dict[str, Any]:
        self.now += timedelta(seconds=10)
        id = str(new_id())
        worksheet = str(self.worksheet.id) if self.worksheet else None
        body = {
            "id": id,
            "record": worksheet or str(self.repair.id),
            "repair": str(self.repair.id),
            "worksheet": worksheet,
            "step": step,
            "kind": kind,
            "value": value,
            "replaces": None,
            "reason": "",
            "made_by": str(self.person.id),
            "made_by_name": self.person.name,
            "device_id": None,
            "made_at": self.now.isoformat().replace("+00:00", "Z"),
            "verdict": None,
        }
        return {"id": id, "kind": "entry", "version": 1, "body": body}

    def acknowledge(self, step: str = "unplug") -> dict[str, Any]:
        return self.entry("acknowledge", step)

    def choose(self, step: str, choice: str) -> dict[str, Any]:
        return self.entry("choice", step, choice=choice)

    def read(
        self, step: str | None, typed: str, text: str | None = None, unit: str = "V", **more: Any
    ) -> dict[str, Any]:
        value = {"as_typed": typed, "value_text": text or typed, "unit": unit, "state": "measured"}
        return self.entry("reading", step, **{**value, "meter": None, **more})

    def skip(self, step: str, how: str = "skipped") -> dict[str, Any]:
        return self.entry("skip", step, how=how, reason="not needed here")


def correcting(operation: dict[str, Any], before: dict[str, Any], reason: str = "slip") -> Any:
    """The operation as a correction of an earlier one."""
    operation["body"] |= {"replaces": before["id"], "reason": reason}
    return operation
