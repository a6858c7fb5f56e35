"""Papers, messages, estimates and payments through the API: shapes, roles, repeats."""

import pytest

from shop.core import outbox
from shop.core.ids import new_id
from shop.documents.models import Document
from shop.notices.services import tell_customer
from tests.factories.core import ShopFactory
from tests.factories.papers import worked
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db

LINES = [{"text": "Work", "quantity": 2, "price_minor": 5000}]


@pytest.fixture
def repair(db):
    ShopFactory(tax_percent="19.00")
    return RepairFactory(number=1042, stage="on_the_bench", diagnosis_fee_minor=3500)


def address(repair, what):
    return f"/api/v1/repairs/{repair.id}/{what}/"


def post(client, path, body=None):
    return client.post(path, body or {}, format="json")


def test_a_paper_asked_for_is_drawn_and_opened(api, dora, repair):
    asked = post(api(dora), address(repair, "documents"), {"kind": "tag"})
    outbox.sweep()

    (row,) = api(dora).get(address(repair, "documents")).data
    file = api(dora).get(row["url"])
    assert (asked.status_code, asked.data["state"], asked.data["url"]) == (201, "drawing", None)
    assert (row["id"], row["kind"], row["state"]) == (asked.data["id"], "tag", "ready")
    assert file["Content-Type"] == "application/pdf"
    assert b"".join(file.streaming_content).startswith(b"%PDF-")


def test_a_paper_that_is_not_drawn_yet_says_so(api, dora, repair):
    id = post(api(dora), address(repair, "documents"), {"kind": "tag"}).data["id"]

    refused = api(dora).get(f"/api/v1/documents/{id}/file/")

    assert (refused.status_code, refused.data["code"]) == (409, "document_not_ready")


def test_only_receipt_tag_and_sticker_can_be_asked_for(api, dora, repair):
    refused = post(api(dora), address(repair, "documents"), {"kind": "invoice"})

    assert (refused.status_code, refused.data["code"]) == (400, "bad_input")
    assert not Document.objects.exists()


def test_a_sticker_without_a_fuse_is_refused_with_the_reason(api, anna, repair):
    refused = post(api(anna), address(repair, "documents"), {"kind": "plate_sticker"})

    assert (refused.status_code, refused.data["code"]) == (409, "document_not_drawn")
    assert "mains conversion" in refused.data["detail"]


def test_a_tech_opens_what_the_bench_needs_and_no_receipt(api, anna, dora, repair):
    worked(repair, person=anna)
    for kind in ("receipt", "plate_sticker"):
        post(api(dora), address(repair, "documents"), {"kind": kind})
    outbox.sweep()
    receipt = Document.objects.get(kind="receipt")

    rows = api(anna).get(address(repair, "documents")).data
    refused = api(anna).get(f"/api/v1/documents/{receipt.id}/file/")
    asked = post(api(anna), address(repair, "documents"), {"kind": "receipt"})

    assert [row["kind"] for row in rows] == ["plate_sticker"]
    assert (refused.status_code, asked.status_code) == (403, 403)


def test_the_desk_sees_what_became_of_each_message(api, anna, dora, repair):
    repair.customer.email = ""
    repair.customer.save()
    tell_customer(kind="booked_in", repair_id=repair.id, cause_id=new_id())

    (row,) = api(dora).get(address(repair, "notices")).data

    assert (row["kind"], row["sent_at"]) == ("booked_in", None)
    assert "by phone" in row["not_sent_why"]
    assert api(anna).get(address(repair, "notices")).status_code == 403


def test_an_estimate_is_made_sent_and_answered(api, dora, repair):
    id, client = str(new_id()), api(dora)
    body = {"id": id, "lines": LINES, "note": "Two evenings."}

    made = post(client, address(repair, "estimates"), body)
    sent = post(client, f"/api/v1/estimates/{id}/send/")
    answer = {"id": str(new_id()), "agreed": True, "how": "by phone", "words": "Go on."}
    answered = post(client, f"/api/v1/estimates/{id}/answer/", answer)

    assert (made.status_code, made.data["total_minor"], made.data["state"]) == (201, 11900, "draft")
    assert made.data["lines"][0]["total_minor"] == 10000
    assert (sent.data["state"], answered.data["state"]) == ("sent", "agreed")
    assert answered.data["answered_how"] == "by phone"
    assert post(client, address(repair, "estimates"), body).data["id"] == id


def test_an_answer_is_taken_at_the_desk_only(api, anna, dora, repair):
    id = str(new_id())
    post(api(anna), address(repair, "estimates"), {"id": id, "lines": LINES})
    post(api(anna), f"/api/v1/estimates/{id}/send/")

    answer = {"id": str(new_id()), "agreed": True, "how": "at the desk"}

    assert post(api(anna), f"/api/v1/estimates/{id}/answer/", answer).status_code == 403
    assert post(api(dora), f"/api/v1/estimates/{id}/answer/", answer).status_code == 200


@pytest.mark.parametrize(
    ("lines", "field"),
    [
        ([], "lines"),
        ([{"text": "x", "quantity": 0, "price_minor": 1}], "lines[0].quantity"),
        ([{"text": "x", "quantity": 1, "price_minor": -1}], "lines[0].price_minor"),
    ],
)
def test_a_wrong_line_is_named(api, dora, repair, lines, field):
    body = {"id": str(new_id()), "lines": lines}

    refused = post(api(dora), address(repair, "estimates"), body)

    assert refused.status_code == 400
    assert refused.data["errors"][0]["field"].startswith(field)


def test_a_payment_settles_the_account_once(api, dora, repair):
    body = {"id": str(new_id()), "amount_minor": 3500, "how": "card"}
    before = api(dora).get(address(repair, "account")).data

    first = post(api(dora), address(repair, "payments"), body)
    again = post(api(dora), address(repair, "payments"), body)

    assert (before["total_minor"], before["due_minor"]) == (3500, 3500)
    assert (first.status_code, first.data["due_minor"]) == (201, 0)
    assert again.data["paid_minor"] == 3500


def test_waiving_needs_a_reason(api, dora, repair):
    body = {"id": str(new_id()), "amount_minor": 3500, "how": "waived"}

    refused = post(api(dora), address(repair, "payments"), body)

    assert (refused.status_code, refused.data["errors"][0]["field"]) == (400, "reason")


def test_an_invoice_is_issued_and_drawn(api, dora, repair):
    issued = post(api(dora), address(repair, "invoices"))
    outbox.sweep()

    assert (issued.status_code, issued.data["number"], issued.data["total_minor"]) == (201, 1, 3500)
    assert Document.objects.get(kind="invoice").issued_at


@pytest.mark.parametrize("what", ["account", "payments", "invoices"])
def test_money_is_not_for_techs(api, anna, repair, what):
    client = api(anna)
    call = client.get if what == "account" else client.post

    assert call(address(repair, what)).status_code == 403


@pytest.mark.parametrize("what", ["documents", "notices", "account"])
def test_nobody_else_sees_anything(api, stranger, repair, what):
    assert api().get(address(repair, what)).status_code == 401
    assert api(stranger).get(address(repair, what)).status_code in {401, 403}
