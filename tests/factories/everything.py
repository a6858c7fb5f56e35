"""One of everything that has an address of its own in the API."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

from django.core.files.base import ContentFile
from PIL import Image

from shop.benches.models import Bench, Meter
from shop.billing.models import Estimate
from shop.billing.services import make_estimate
from shop.calc.codes import Kind
from shop.core.codes import draw_code
from shop.core.ids import new_id
from shop.core.models import Device, OutboxEvent, Person
from shop.documents.models import Document
from shop.jobs.models import Draft, Worksheet
from shop.jobs.services import begin_draft
from shop.repairs.models import Repair
from shop.repairs.services import book_in, store_photo
from shop.stock.models import OrderLine, PurchaseOrder, StockLevel
from shop.units.models import ModelSheet, Shelf
from tests.factories.booking import booking
from tests.factories.core import NOW, PersonFactory, ShopFactory, phone_of
from tests.factories.jobs import BenchFactory, MeterFactory, caution, look, reading, started
from tests.factories.jobs import template as template_body
from tests.factories.sheets import full_sheet
from tests.factories.stock import (
    BinFactory,
    OrderLineFactory,
    PartFactory,
    PurchaseOrderFactory,
    StockLevelFactory,
)
from tests.factories.units import ModelSheetFactory, ShelfFactory

ROLES = ("desk", "tech", "manager")


@dataclass
class Everything:
    """The rows that stand behind the addresses of the API."""

    people: dict[str, Person]
    device: Device  # everybody has a PIN on it
    phone_key: str  # its secret
    sheet: ModelSheet
    bench: Bench
    meter: Meter
    shelf: Shelf
    repair: Repair  # on the bench, with an open worksheet
    worksheet: Worksheet
    level: StockLevel
    order: PurchaseOrder  # a draft
    sent: PurchaseOrder  # on its way
    estimate: Estimate
    document: Document  # a receipt, drawn
    photo: str
    stuck: OutboxEvent
    drafts: dict[str, Draft]  # of job templates: "draft", "in_review", "reviewed", at version 1
    media: Path | None = None  # where the files are, if not in the folder of the test


def everything() -> Everything:
    """One shop with one of each. Codes are valid, so that they can be asked for."""
    ShopFactory(tax_percent="19.00")
    people = {role: PersonFactory(username=f"{role}1", name=role, role=role) for role in ROLES}
    sheet = ModelSheetFactory(**full_sheet())
    repair, _created = book_in(facts=booking(), by=people["desk"])
    repair.unit.model_sheet = sheet
    repair.unit.save(update_fields=["model_sheet"])
    Repair.objects.filter(id=repair.id).update(stage="on_the_bench", assigned_to=people["tech"])
    repair.refresh_from_db()
    level = StockLevelFactory(
        part=PartFactory(code=draw_code(Kind.PART), order_code="FUSE-T80mAL250V", price_minor=50),
        bin=BinFactory(code=draw_code(Kind.BIN)),
    )
    worksheet = started(
        template_body(
            {"id": "signed", "kind": "sign_off", "title": "Signed", "role": "tech"},
            caution(), look(), reading(),
        ),
        by=people["tech"], repair=repair,
    )  # fmt: skip
    sent = _order(level, stage="sent", sent_at=NOW)
    device, phone_key = phone_of(*people.values())
    return Everything(
        people=people,
        device=device,
        phone_key=phone_key,
        sheet=sheet,
        bench=BenchFactory(),
        meter=MeterFactory(code=draw_code(Kind.METER)),
        shelf=ShelfFactory(code=draw_code(Kind.SHELF)),
        repair=repair,
        worksheet=worksheet,
        level=level,
        order=_order(level, stage="draft"),
        sent=sent,
        estimate=make_estimate(
            id=new_id(), repair=repair, by=people["desk"], note="",
            lines=[{"text": "Work", "quantity": 1, "price_minor": 5000}],
        ),
        document=_receipt(repair),
        photo=_photo(repair, people["desk"]),
        stuck=OutboxEvent.objects.create(
            kind="documents.issue", created_at=NOW, due_at=NOW, dead_at=NOW, tries=5,
            payload={"kind": "tag", "repair_id": str(repair.id), "cause_id": str(new_id())},
        ),
        drafts=_drafts(people["tech"]),
    )  # fmt: skip


def _drafts(reviewer: Person) -> dict[str, Draft]:
    """A sound draft at each stage, written by somebody who is none of the three roles' people."""
    made, writer = {}, PersonFactory(username="writer", role="tech")
    for stage in ("draft", "in_review", "reviewed"):
        slug = stage.replace("_", "-")
        draft, _new = begin_draft(id=new_id(), slug=slug, title=slug, by=writer)
        reviewed = {"reviewed_by": reviewer, "reviewed_at": NOW} if stage == "reviewed" else {}
        body = template_body(slug=slug)
        Draft.objects.filter(id=draft.id).update(body=body, stage=stage, faults=0, **reviewed)
        made[stage] = Draft.objects.get(id=draft.id)
    return made


def _order(level: StockLevel, **fields: Any) -> PurchaseOrder:
    order: PurchaseOrder = PurchaseOrderFactory(supplier=level.part.supplier, **fields)
    line: OrderLine = OrderLineFactory(order=order, part=level.part)
    assert line.quantity == 8
    return order


def _receipt(repair: Repair) -> Document:
    document = Document.objects.create(
        kind="receipt", title="Receipt", key=f"receipt:{new_id()}", repair=repair,
        requested_at=NOW, issued_at=NOW, sha256="0" * 64,
    )  # fmt: skip
    document.file.save(f"{document.id}.pdf", ContentFile(b"%PDF-1.7 kept"))
    return document


def picture(kind: str = "PNG", size: tuple[int, int] = (40, 30)) -> bytes:
    out = BytesIO()
    Image.new("RGB", size, (90, 60, 30)).save(out, kind)
    return out.getvalue()


def _photo(repair: Repair, by: Person) -> str:
    content = picture()
    sha256 = hashlib.sha256(content).hexdigest()
    store_photo(sha256=sha256, content=content, repair=repair, by=by)
    return sha256


def path_values(shop: Everything) -> dict[str, str]:
    """The value that leads somewhere, by the start of an address."""
    return {
        "/api/v1/calculators/": "series_lamp.operating_point",
        "/api/v1/codes/": shop.repair.unit.code,
        "/api/v1/customers/": str(shop.repair.customer_id),
        "/api/v1/devices/": str(shop.device.id),
        "/api/v1/documents/": str(shop.document.id),
        "/api/v1/estimates/": str(shop.estimate.id),
        "/api/v1/job-templates/": "small",
        "/api/v1/benches/": str(shop.bench.id),
        "/api/v1/meters/": str(shop.meter.id),
        "/api/v1/model-sheets/": str(shop.sheet.id),
        "/api/v1/orders/{id}/receive/": str(shop.sent.id),
        "/api/v1/orders/": str(shop.order.id),
        "/api/v1/parts/": str(shop.level.part_id),
        "/api/v1/photos/": shop.photo,
        "/api/v1/pins/": str(shop.device.pins.order_by("id")[0].id),
        "/api/v1/records/": str(shop.repair.id),
        "/api/v1/repairs/": str(shop.repair.id),
        "/api/v1/schemas/": "pack-1",
        "/api/v1/stuck-work/": str(shop.stuck.id),
        "/api/v1/template-drafts/": str(shop.drafts["draft"].id),
        "/api/v1/template-drafts/{id}/publish/": str(shop.drafts["reviewed"].id),
        "/api/v1/template-drafts/{id}/review/": str(shop.drafts["in_review"].id),
        "/api/v1/units/": str(shop.repair.unit_id),
        "/api/v1/worksheets/": str(shop.worksheet.id),
    }


def path_value(shop: Everything, path: str) -> str:
    """The value for the one place in an address of the schema."""
    found = [(start, value) for start, value in path_values(shop).items() if path.startswith(start)]
    return max(found)[1]  # the longest start


def filled(shop: Everything, path: str) -> str:
    """An address of the schema with values in it that lead somewhere."""
    if "{" not in path:
        return path
    start, _name, rest = path.replace("}", "{").split("{", 2)
    return start + path_value(shop, path) + rest.replace("{number{", "1")
