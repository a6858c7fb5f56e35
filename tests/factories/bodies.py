"""A body for each write of the API that is taken, by method and address."""

from __future__ import annotations

from typing import Any

import orjson
from django.utils import timezone

from shop.core.ids import new_id
from tests.factories.booking import booking_json
from tests.factories.core import PIN
from tests.factories.everything import Everything
from tests.factories.jobs import Phone, look, reading
from tests.factories.jobs import template as template_body
from tests.factories.sheets import full_sheet

PASSWORD = "a long enough pass phrase"
_METER = {
    "name": "Hand meter", "kinds": ["multimeter"], "serial": "N12", "retired_on": None,
    "accuracy": [
        {"quantity": "voltage_dc", "percent": 0.5, "counts": 2, "resolution": 0.01,
         "range_end": 1000},
    ],
}  # fmt: skip


def bodies(shop: Everything, role: str) -> dict[str, Any]:
    """What each write takes, by method and address. Ids are fresh, so nothing is a repeat."""
    part, bin = shop.level.part.code, shop.level.bin_id
    me = {"username": shop.people[role].username, "password": PASSWORD}
    line = {"text": "Belt", "quantity": 2, "price_minor": 900}
    return {
        "POST /api/v1/benches/{id}/offered-readings/": {
            "id": str(new_id()), "meter": shop.meter.code, "quantity": "voltage_dc",
            "said": "+4.98700000E+00", "taken_at": "2026-03-02T09:00:00Z",
            "sent_at": "2026-03-02T09:00:01Z",
        },
        "POST /api/v1/calculators/{name}/": {
            "lamp": {"watt": 40, "volt": 230}, "load": {"kind": "resistance", "ohm": 1000},
            "supply_volt": 230,
        },
        "POST /api/v1/counts/": {
            "id": str(new_id()), "part": part, "bin": bin, "counted": 4, "reason": "counted",
        },
        "POST /api/v1/customers/": {
            "id": str(new_id()), "name": "Ada Muster", "phone": "0151 1", "email": "", "language":
            "en",
        },
        "POST /api/v1/estimates/{id}/answer/": {
            "id": str(new_id()), "agreed": True, "how": "by phone", "words": "yes",
        },
        "POST /api/v1/job-templates/": {"content": _template_text()},
        "PUT /api/v1/meter-rules/": {"overdue_forbidden": ["resistance"]},
        "POST /api/v1/labels/": {"codes": [part, bin, shop.meter.code], "address": False},
        "POST /api/v1/meters/": {"id": str(new_id()), **_METER},
        "PUT /api/v1/meters/{id}/": _METER,
        "POST /api/v1/meters/{id}/calibrations/": {
            "id": str(new_id()), "done_on": "2026-01-07", "due_on": "2027-01-07",
            "found": "in_tolerance", "certificate": "K 12", "note": "",
        },
        "POST /api/v1/model-sheets/": {"id": str(new_id()), **full_sheet(model="Echo 93")},
        "PUT /api/v1/model-sheets/{id}/": {**full_sheet(rated_watt=15), "why": "by the plate"},
        "POST /api/v1/model-sheets/{id}/units/": {"unit": str(shop.repair.unit_id)},
        "POST /api/v1/moves/": {
            "id": str(new_id()), "part": part, "from": bin, "to": str(shop.repair.number),
            "quantity": 1, "reason": "",
        },
        "POST /api/v1/orders/{id}/receive/": {
            "id": str(new_id()), "lines": [{"part": part, "quantity": 2, "bin": bin}],
        },
        "POST /api/v1/repairs/": booking_json(
            unit={"model_sheet": str(shop.sheet.id), "make": "Testmake", "model": "Glimmer 3",
                  "serial": "92-0999"},
        ),
        "PATCH /api/v1/repairs/{id}/": {
            "due_on": "2026-12-01", "assigned_to": str(shop.people["tech"].id),
        },
        "POST /api/v1/repairs/{id}/documents/": {"kind": "tag"},
        "POST /api/v1/repairs/{id}/estimates/": {
            "id": str(new_id()), "lines": [line], "note": "more",
        },
        "POST /api/v1/mentions/seen/": {"ids": [str(new_id())]},
        "POST /api/v1/repairs/{id}/take/": {
            "id": str(new_id()), "taken_from": str(shop.people["tech"].id), "note": "she is ill",
        },
        "POST /api/v1/repairs/{id}/hand-over/": {
            "id": str(new_id()), "note": "hum is left",
            "to": None if role == "manager" else str(shop.people["manager"].id),
        },
        "POST /api/v1/repairs/{id}/hand-back/": {
            "id": str(new_id()), "pieces": [], "signature": None, "missing_reason": "",
            "is_closed_up": False,
        },
        "POST /api/v1/repairs/{id}/labour/": {"minutes": 40},
        "POST /api/v1/repairs/{id}/payments/": {
            "id": str(new_id()), "amount_minor": 1000, "how": "cash", "reason": "",
        },
        "POST /api/v1/repairs/{id}/stage/": {
            "id": str(new_id()), "to": "awaiting_parts", "reason": "belt",
        },
        "POST /api/v1/session/": {**me, "device": {"id": str(new_id()), "name": "Phone"}},
        "POST /api/v1/session/pin/": {"person": str(shop.people[role].id), "pin": PIN},
        "PUT /api/v1/session/pin/": {"pin": "90217", "password": PASSWORD},
        "POST /api/v1/sync/": _sync(shop, role),
        **_template_bodies(),
        "POST /api/v1/units/{id}/place/": {"shelf": shop.shelf.code},
        "POST /api/v1/units/{id}/power/": {"cleared": False, "reason": "live chassis"},
        "POST /api/v1/worksheets/": {
            "id": str(new_id()), "repair": str(shop.repair.id), "template": "small",
            "bench": str(shop.bench.id), "facts": {},
        },
        "POST /api/v1/worksheets/{id}/sign-off/": {
            "id": str(new_id()), "step": "signed", "password": PASSWORD, "note": "",
        },
        "POST /api/v1/worksheets/{id}/stop/": {"id": str(new_id()), "reason": "not needed"},
    }  # fmt: skip


def _template_bodies() -> dict[str, Any]:
    body = template_body(look(), reading(), slug="draft")
    return {
        "POST /api/v1/job-templates/{slug}/retire/": {"reason": "not done here any more"},
        "POST /api/v1/template-drafts/": {
            "id": str(new_id()), "slug": "another", "title": "Another",
            "from": {"template": "small", "revision": 1},
        },
        "PUT /api/v1/template-drafts/{id}/": {"body": body},
        "POST /api/v1/template-drafts/{id}/submit/": {"note": "please"},
        "POST /api/v1/template-drafts/{id}/review/": {
            "agree": True, "note": "", "password": PASSWORD,
        },
        "POST /api/v1/template-drafts/{id}/publish/": {"change_note": "first", "reason": ""},
        "POST /api/v1/template-drafts/{id}/try/": {"facts": {}},
    }  # fmt: skip


def _template_text() -> str:
    return orjson.dumps(template_body(slug="other")).decode()


def _sync(shop: Everything, role: str) -> dict[str, Any]:
    phone = Phone(shop.people[role], shop.worksheet)
    phone.now = timezone.now().replace(microsecond=0)
    bench_log = Phone(shop.people[role], repair=shop.repair)
    operations = [
        phone.acknowledge(), phone.choose("cord", "sound"), phone.read("rail", "5.01"),
        bench_log.entry("note", text="smells of dust", mentions=[str(shop.people["desk"].id)]),
        bench_log.entry("part", part=shop.level.part.code, quantity=1, bin=shop.level.bin_id),
    ]  # fmt: skip
    return {
        "format": 1, "device_id": str(shop.device.id), "known": {str(shop.worksheet.id): 0},
        "operations": operations,
    }  # fmt: skip
