"""The customer's page: shows one repair, changes nothing unless the customer answers."""

import re
from datetime import timedelta

import pytest
from django.core.cache import cache
from django.utils import timezone

from shop.billing.services import make_estimate, send_estimate
from shop.core.ids import new_id
from shop.core.models import OutboxEvent, Shop
from shop.documents import services as papers
from shop.repairs.models import StageEvent, StatusLink
from shop.repairs.services import issue_status_link, revoke_status_links
from shop.units.models import Piece
from tests.factories.core import ShopFactory
from tests.factories.papers import worked
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def nobody_guessed_yet():
    cache.clear()


@pytest.fixture
def repair(db):
    ShopFactory(
        name="Lamp Lane Repairs", address="Yard 7", opening_words="Tuesday to Friday.",
        phone="+49 30 5550199",
    )  # fmt: skip
    repair = RepairFactory(
        number=1042, stage="on_the_bench", complaint="Hums.", due_on="2026-03-14"
    )
    repair.customer.name, repair.customer.phone = "Marie Sample", "+49 170 5550123"
    repair.customer.save()
    Piece.objects.create(code="P1", unit=repair.unit, name="mains cord")
    return repair


def page_of(repair):
    return issue_status_link(repair=repair).removeprefix("https://shop.example")


def opened(client, repair):
    return client.get(page_of(repair)).content.decode()


def asked(repair, by):
    lines = [{"text": "New fuse", "quantity": 1, "price_minor": 10000}]
    estimate = make_estimate(id=new_id(), repair=repair, lines=lines, by=by)
    return send_estimate(estimate=estimate, by=by)


def answer(client, repair, **changes):
    proof = re.search(r'name="proof" value="([^"]+)"', opened(client, repair))
    form = {"proof": proof[1] if proof else "", "answer": "agree", "name": "Marie"} | changes
    return client.post(f"{page_of(repair)}answer/", form)


def everything():
    return (
        list(StageEvent.objects.values()),
        list(StatusLink.objects.values()),
        OutboxEvent.objects.count(),
    )


def test_it_says_in_plain_words_where_the_repair_stands(client, repair):
    page = opened(client, repair)

    for words in (
        "Hello Marie, your Testmake Model", "It is being worked on.", "14 Mar 2026", "1042",
        "Lamp Lane Repairs",
    ):  # fmt: skip
        assert words in page


def test_it_shows_no_more_than_the_customer_needs(client, repair):
    repair.unit.serial = "SERIAL921043"
    repair.unit.save()

    page = opened(client, repair)

    for secret in (
        "Sample", "5550123", repair.customer.email, "SERIAL921043", str(repair.id),
        repair.unit.code, "Person",
    ):  # fmt: skip
        assert secret not in page


@pytest.mark.parametrize("method", ["get", "head"])
def test_opening_it_changes_nothing(client, repair, dora, method):
    asked(repair, dora)
    address = page_of(repair)
    before = everything()

    answered = [getattr(client, method)(address) for _ in range(2)]

    assert [one.status_code for one in answered] == [200, 200]
    assert everything() == before


def test_opening_the_answers_address_agrees_to_nothing(client, repair, dora):
    estimate = asked(repair, dora)

    for method in (client.get, client.head):
        assert method(f"{page_of(repair)}answer/?answer=agree&name=x").status_code == 405

    estimate.refresh_from_db()
    assert estimate.state == "sent"


def test_it_is_kept_out_of_caches_searches_and_referers(client, repair):
    answered = client.get(page_of(repair))

    assert answered["Referrer-Policy"] == "no-referrer"
    assert answered["Cache-Control"] == "no-store"
    assert answered["X-Robots-Tag"] == "noindex, nofollow"
    assert not answered.cookies
    assert "<script" not in answered.content.decode()
    assert client.get("/robots.txt").content == b"User-agent: *\nDisallow: /s/\n"


def test_it_is_in_the_customers_language(client, repair):
    repair.customer.language = "de"
    repair.customer.save()

    answered = client.get(page_of(repair))

    assert "Es wird daran gearbeitet." in answered.content.decode()
    assert '<html lang="de">' in answered.content.decode()
    assert answered["Content-Language"] == "de"


@pytest.mark.parametrize("stage", StageEvent._meta.get_field("to_stage").choices)
def test_every_stage_has_its_sentence(client, repair, stage):
    repair.stage = stage[0]
    repair.save()

    page = opened(client, repair)

    assert re.search(r"<h1>[A-Z][^<]+\.</h1>", page)


def test_agreeing_once_puts_it_on_the_bench(client, repair, dora):
    estimate = asked(repair, dora)

    answered = answer(client, repair)

    estimate.refresh_from_db()
    repair.refresh_from_db()
    assert answered.status_code == 303
    assert (estimate.state, estimate.answered_how) == ("agreed", "on the status page")
    assert (estimate.answer_words, estimate.answer_taken_by) == ("Marie", None)
    assert repair.stage == "on_the_bench"
    assert "Agreed on" in opened(client, repair)


def test_agreeing_twice_is_agreeing_once(client, repair, dora):
    asked(repair, dora)
    proof = re.search(r'name="proof" value="([^"]+)"', opened(client, repair))[1]
    answer(client, repair)
    events = StageEvent.objects.count()

    again = answer(client, repair, proof=proof)

    assert again.status_code == 303
    assert StageEvent.objects.count() == events


def test_after_agreeing_it_cannot_be_declined_here(client, repair, dora):
    estimate = asked(repair, dora)
    proof = re.search(r'name="proof" value="([^"]+)"', opened(client, repair))[1]
    answer(client, repair)

    refused = answer(client, repair, proof=proof, answer="decline")

    estimate.refresh_from_db()
    assert (refused.status_code, estimate.state) == (409, "agreed")
    assert "waits for no answer any more" in refused.content.decode()


def test_declining_leaves_it_unrepaired(client, repair, dora):
    asked(repair, dora)

    answer(client, repair, answer="decline")

    repair.refresh_from_db()
    assert repair.stage == "declined"
    assert "Do not connect it to the mains." in opened(client, repair)


@pytest.mark.parametrize(
    ("changes", "status", "words"),
    [
        ({"name": "  "}, 400, "type your name"),
        ({"answer": "perhaps"}, 400, "type your name|choose one"),
        ({"answer": ""}, 400, "choose one"),
        ({"proof": "made-up"}, 403, "could not be taken"),
    ],
)
def test_an_answer_that_cannot_be_taken_says_why(client, repair, dora, changes, status, words):
    estimate = asked(repair, dora)

    refused = answer(client, repair, **changes)

    estimate.refresh_from_db()
    assert (refused.status_code, estimate.state) == (status, "sent")
    assert re.search(words, refused.content.decode())


def test_another_site_cannot_answer_for_the_customer(client, repair, dora):
    estimate = asked(repair, dora)
    proof = re.search(r'name="proof" value="([^"]+)"', opened(client, repair))[1]

    refused = client.post(
        f"{page_of(repair)}answer/",
        {"proof": proof, "answer": "agree", "name": "M"},
        headers={"Sec-Fetch-Site": "cross-site"},
    )

    estimate.refresh_from_db()
    assert (refused.status_code, estimate.state) == (403, "sent")


def test_the_form_of_one_repair_cannot_answer_for_another(client, repair, dora):
    other = RepairFactory(stage="on_the_bench")
    estimate = asked(other, dora)
    proof = re.search(r'name="proof" value="([^"]+)"', opened(client, other))[1]

    refused = answer(client, repair, proof=proof)

    estimate.refresh_from_db()
    assert (refused.status_code, estimate.state) == (403, "sent")


def test_when_ready_it_says_how_to_fetch_it_and_gives_the_report(client, repair, anna):
    worked(repair, person=anna)
    papers.issue_test_report(repair_id=repair.id, cause_id=new_id())
    repair.stage = "ready"
    repair.save()

    page = opened(client, repair)
    report = client.get(f"{page_of(repair)}report.pdf")

    for words in ("It is ready to fetch.", "Yard 7", "Tuesday to Friday.", "mains cord"):
        assert words in page
    assert (report.status_code, report["Content-Type"]) == (200, "application/pdf")
    assert b"".join(report.streaming_content).startswith(b"%PDF-")
    assert (report["Cache-Control"], report["Referrer-Policy"]) == ("no-store", "no-referrer")


def test_a_fee_is_asked_as_it_was_said_and_by_its_name(client, repair):
    Shop.objects.update(tax_percent="19.00")
    repair.stage, repair.diagnosis_fee_minor = "declined", 3500
    repair.save()

    page = opened(client, repair).replace("\u00a0", " ")

    assert "<b>35.00 EUR</b>" in page
    assert "For: Fee for looking it over (tax included)" in page


def test_before_it_is_ready_there_is_no_report(client, repair, anna):
    worked(repair, person=anna)
    papers.issue_test_report(repair_id=repair.id, cause_id=new_id())

    refused = client.get(f"{page_of(repair)}report.pdf")

    assert refused.status_code == 404
    assert "report.pdf" not in opened(client, repair)


@pytest.mark.parametrize("path", ["", "report.pdf"])
def test_an_unknown_address_is_404_with_kind_words(client, repair, path):
    answered = client.get(f"/s/{'x' * 32}/{path}")

    assert answered.status_code == 404
    assert "or call us" in answered.content.decode()
    assert "+49 30 5550199" in answered.content.decode()


def expire(repair):
    StatusLink.objects.update(expires_at=timezone.now() - timedelta(seconds=1))


def revoke(repair):
    revoke_status_links(repair=repair)


@pytest.mark.parametrize("end", [expire, revoke])
def test_an_address_that_was_once_good_is_410_with_kind_words(client, repair, dora, end):
    estimate = asked(repair, dora)
    address = page_of(repair)
    end(repair)

    answered = client.get(address)
    refused = client.post(f"{address}answer/", {"answer": "agree", "name": "M", "proof": "x"})

    estimate.refresh_from_db()
    assert (answered.status_code, refused.status_code) == (410, 410)
    assert "no longer in use" in answered.content.decode()
    assert estimate.state == "sent"


def test_who_keeps_guessing_has_to_wait_but_a_good_address_still_opens(client, repair):
    guesses = [client.get(f"/s/{number:032d}/").status_code for number in range(32)]

    assert guesses[:30] == [404] * 30
    assert guesses[30:] == [429] * 2
    assert client.get(page_of(repair)).status_code == 200
