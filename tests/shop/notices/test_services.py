"""Messages: written once per cause, in the customer's language, with the right paper."""

import re
import socket
from email import message_from_bytes, policy

import pytest
from aiosmtpd.controller import Controller
from django.core import mail

from shop.billing.services import make_estimate, send_estimate
from shop.core import outbox
from shop.core.ids import new_id
from shop.notices.models import Notice
from shop.notices.services import send_order, tell_customer
from shop.repairs.selectors import status_url
from shop.stock.models import OrderLine, Part, PurchaseOrder, Supplier
from shop.units.models import Piece
from tests.factories.core import NOW, ShopFactory
from tests.factories.papers import worked
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def repair(db):
    ShopFactory(
        name="Lamp Lane Repairs", address="Yard 7", phone="+49 30 5550199",
        email="desk@lamplane.example", opening_words="Tuesday to Friday, 10 to 18.",
    )  # fmt: skip
    repair = RepairFactory(number=1042, stage="on_the_bench", diagnosis_fee_minor=4500)
    repair.customer.name, repair.customer.email = "Marie Sample", "marie@mail.example"
    repair.customer.save()
    return repair


def tell(repair, kind, cause=None):
    return tell_customer(kind=kind, repair_id=str(repair.id), cause_id=str(cause or new_id()))


def only_mail():
    (sent,) = mail.outbox
    return sent


def attached(message):
    return [(name, kind, body[:5]) for name, body, kind in message.attachments]


def test_booking_in_sends_the_receipt_and_the_status_link(repair):
    notice = tell(repair, "booked_in")

    sent = only_mail()
    assert sent.to == ["marie@mail.example"]
    assert sent.reply_to == ["desk@lamplane.example"]
    assert sent.body.startswith("Hello Marie,")
    assert status_url(repair) in sent.body
    assert attached(sent) == [("receipt.pdf", "application/pdf", b"%PDF-")]
    assert notice.sent_at
    assert notice.document.kind == "receipt"


def test_ready_says_how_to_fetch_it_and_brings_the_report(repair, anna):
    worked(repair, person=anna)
    Piece.objects.create(code="P1", unit=repair.unit, name="mains cord")

    tell(repair, "ready")

    sent = only_mail()
    for words in (
        "ready to fetch", "Yard 7", "Tuesday to Friday, 10 to 18.", "45.00\u00a0EUR", "mains cord",
        status_url(repair),
    ):  # fmt: skip
        assert words in sent.body
    assert attached(sent) == [("test-report.pdf", "application/pdf", b"%PDF-")]


def test_the_report_of_the_same_cause_is_not_drawn_twice(repair, anna):
    worked(repair, person=anna)
    cause = str(new_id())
    ids = {"repair_id": str(repair.id), "cause_id": cause}
    outbox.record("notices.tell_customer", kind="ready", **ids)
    outbox.record("documents.issue_test_report", **ids)

    outbox.sweep()

    assert repair.documents.count() == 1
    assert len(mail.outbox) == 1


def test_leaving_unrepaired_warns_of_the_mains(repair):
    repair.stage = "declined"
    repair.save()

    tell(repair, "leaves_unrepaired")

    assert "do not connect it to the mains" in only_mail().body
    assert only_mail().attachments == []


def test_an_estimate_is_mailed_with_its_paper_and_the_way_to_answer(repair, dora):
    lines = [{"text": "Work", "quantity": 1, "price_minor": 10000}]
    estimate = make_estimate(id=new_id(), repair=repair, lines=lines, by=dora)
    send_estimate(estimate=estimate, by=dora)

    outbox.sweep()

    sent = only_mail()
    assert "100.00\u00a0EUR" in sent.body
    assert status_url(repair) in sent.body
    assert attached(sent) == [("estimate.pdf", "application/pdf", b"%PDF-")]


def test_without_a_public_address_the_mail_has_no_link(repair, settings):
    settings.PUBLIC_URL = ""

    tell(repair, "booked_in")

    assert "://" not in only_mail().body


def test_a_message_is_in_the_customers_language(repair):
    repair.customer.language = "de"
    repair.customer.save()

    notice = tell(repair, "booked_in")

    assert only_mail().body.startswith("Hallo Marie,")
    assert "ist bei uns (Reparatur 1042)" in only_mail().subject
    assert (notice.language, notice.document.language) == ("de", "de")


def test_a_repeat_sends_nothing_more(repair):
    cause = new_id()

    assert tell(repair, "booked_in", cause) == tell(repair, "booked_in", cause)

    assert len(mail.outbox) == 1
    assert Notice.objects.count() == 1


def test_no_robot_answers_it_and_its_id_is_fixed(repair):
    notice = tell(repair, "booked_in")

    headers = only_mail().message()
    assert headers["Auto-Submitted"] == "auto-generated"
    assert headers["Message-ID"] == notice.message_id


def test_a_mail_server_that_is_away_is_tried_again_with_the_same_id(repair, monkeypatch):
    from django.core.mail import EmailMessage

    cause, send = new_id(), EmailMessage.send

    def away(message):
        raise ConnectionRefusedError

    monkeypatch.setattr(EmailMessage, "send", away)
    with pytest.raises(ConnectionRefusedError):
        tell(repair, "booked_in", cause)
    waiting = Notice.objects.get()
    monkeypatch.setattr(EmailMessage, "send", send)

    notice = tell(repair, "booked_in", cause)

    assert (notice.id, notice.message_id) == (waiting.id, waiting.message_id)
    assert notice.sent_at
    assert repair.documents.count() == 1


def test_a_worker_that_ends_after_sending_repeats_the_same_mail(repair, monkeypatch):
    from shop.notices import services

    cause = new_id()

    class Killed(BaseException):
        pass

    def killed():
        raise Killed

    real_now = services.timezone.now
    tell_first = services._message

    def sent_then_killed(notice):
        message = tell_first(notice)
        monkeypatch.setattr(services.timezone, "now", killed)
        return message

    monkeypatch.setattr(services, "_message", sent_then_killed)
    with pytest.raises(Killed):
        tell(repair, "booked_in", cause)
    monkeypatch.setattr(services.timezone, "now", real_now)
    monkeypatch.setattr(services, "_message", tell_first)

    tell(repair, "booked_in", cause)

    ids = {message.message()["Message-ID"] for message in mail.outbox}
    assert (len(mail.outbox), len(ids)) == (2, 1)
    assert Notice.objects.count() == 1


def test_without_an_address_the_desk_sees_why(repair):
    repair.customer.email = ""
    repair.customer.save()

    notice = tell(repair, "booked_in")

    assert mail.outbox == []
    assert notice.sent_at is None
    assert "by phone" in notice.not_sent_why
    assert repair.documents.filter(kind="receipt").exists()


@pytest.fixture
def order(db, max):
    ShopFactory(name="Lamp Lane Repairs")
    supplier = Supplier.objects.create(
        name="Depot", email="orders@depot.example", customer_number="K-12"
    )
    part = Part.objects.create(
        code="A1", name="Fuse T160mAL250V", supplier=supplier, order_code="F-160"
    )
    order = PurchaseOrder.objects.create(
        number=7, supplier=supplier, stage="approved", created_at=NOW, approved_by=max
    )
    OrderLine.objects.create(order=order, part=part, quantity=100, cost_minor=23)
    return order


def test_an_approved_order_goes_to_its_supplier_with_the_paper(order):
    send_order(order_id=str(order.id))

    sent = only_mail()
    order.refresh_from_db()
    assert sent.to == ["orders@depot.example"]
    assert "100 × Fuse T160mAL250V (F-160)" in sent.body
    assert "K-12" in sent.body
    assert attached(sent) == [("order.pdf", "application/pdf", b"%PDF-")]
    assert (order.stage, bool(order.sent_at)) == ("sent", True)


def test_an_order_is_mailed_once_however_often_it_is_asked_for(order):
    for _ in range(2):
        send_order(order_id=str(order.id))

    assert len(mail.outbox) == 1
    assert order.documents.count() == 1


@pytest.mark.parametrize("stage", ["draft", "dropped"])
def test_an_order_nobody_approved_stays_here(order, stage):
    PurchaseOrder.objects.update(stage=stage)

    assert send_order(order_id=str(order.id)) is None

    assert mail.outbox == []
    assert not Notice.objects.exists()


class Post:
    """What a mail server was handed."""

    def __init__(self):
        self.letters = []

    async def handle_DATA(self, server, session, envelope):  # noqa: N802  # aiosmtpd's name
        self.letters.append((envelope.rcpt_tos, envelope.content))
        return "250 taken"


def test_a_real_mail_server_takes_it_whole(repair, settings):
    post = Post()
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    server = Controller(post, hostname="127.0.0.1", port=port)
    server.start()
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST = "127.0.0.1"
    settings.EMAIL_PORT = port

    try:
        notice = tell(repair, "booked_in")
    finally:
        server.stop()

    ((to, content),) = post.letters
    letter = message_from_bytes(content, policy=policy.default)
    (paper,) = letter.iter_attachments()
    assert to == ["marie@mail.example"]
    assert letter["Message-ID"] == notice.message_id
    assert re.search(r"https://shop\.example/s/\S+/", letter.get_body().get_content())
    assert paper.get_content().startswith(b"%PDF-")
