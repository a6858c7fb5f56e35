"""Good bodies, damaged at any depth, as raw JSON: refused or taken, never a fault of ours.

PostgreSQL keeps neither NUL characters nor half surrogate pairs, SQLite keeps both; so this runs on
both. The long form: `FUZZ_EXAMPLES=2000 python -m pytest tests/api/test_damaged_bodies.py`
"""

from __future__ import annotations

import hashlib
import json
import os
import random
import struct
import tracemalloc
import zlib
from base64 import b64encode

import pytest
from django.db import transaction

from shop.jobs.models import Entry, RecordHead
from shop.jobs.record.chain import first_break
from tests.api.fuzzing import NASTY, damaged
from tests.factories.bodies import bodies
from tests.factories.core import hold
from tests.factories.everything import everything, filled, picture

pytestmark = pytest.mark.django_db
EXAMPLES = int(os.environ.get("FUZZ_EXAMPLES", "30"))
HEADERS = {"HTTP_IF_MATCH": '"1"'}
LISTS = (
    "customers", "devices", "find", "job-templates", "meters", "benches", "model-sheets", "orders",
    "parts", "people", "repairs", "worksheets", "stuck-work", "my-packs", "board", "calculators",
    "my-bench",
)  # fmt: skip
SIGNED_OUT = "POST /api/v1/session/"


@pytest.fixture
def shop(db):
    return everything()


def manager_at_phone(api, shop):
    return hold(api(shop.people["manager"]), shop.device, shop.phone_key)


def raw(value):
    """JSON with half surrogate pairs as a browser writes them: as escapes."""
    return json.dumps(value).encode()


def ask(client, method, path, body):
    """The answer to raw JSON; whatever was written is taken back."""
    client.raise_request_exception = False
    with transaction.atomic():
        answer = client.generic(method, path, raw(body), "application/json", **HEADERS)
        transaction.set_rollback(True)
    return answer


WRITES = (
    "POST /api/v1/benches/{id}/offered-readings/",
    "POST /api/v1/calculators/{name}/", "POST /api/v1/counts/", "POST /api/v1/customers/",
    "POST /api/v1/estimates/{id}/answer/", "POST /api/v1/job-templates/",
    "POST /api/v1/labels/", "PUT /api/v1/meter-rules/", "POST /api/v1/meters/",
    "PUT /api/v1/meters/{id}/",
    "POST /api/v1/meters/{id}/calibrations/",
    "POST /api/v1/model-sheets/", "PUT /api/v1/model-sheets/{id}/",
    "POST /api/v1/model-sheets/{id}/units/", "POST /api/v1/moves/",
    "POST /api/v1/orders/{id}/receive/", "POST /api/v1/repairs/", "PATCH /api/v1/repairs/{id}/",
    "POST /api/v1/repairs/{id}/documents/", "POST /api/v1/repairs/{id}/estimates/",
    "POST /api/v1/mentions/seen/", "POST /api/v1/repairs/{id}/take/",
    "POST /api/v1/repairs/{id}/hand-over/",
    "POST /api/v1/repairs/{id}/hand-back/", "POST /api/v1/repairs/{id}/labour/",
    "POST /api/v1/repairs/{id}/payments/", "POST /api/v1/repairs/{id}/stage/", SIGNED_OUT,
    "POST /api/v1/session/pin/", "PUT /api/v1/session/pin/",
    "POST /api/v1/sync/", "POST /api/v1/job-templates/{slug}/retire/",
    "POST /api/v1/template-drafts/", "PUT /api/v1/template-drafts/{id}/",
    "POST /api/v1/template-drafts/{id}/submit/", "POST /api/v1/template-drafts/{id}/review/",
    "POST /api/v1/template-drafts/{id}/publish/", "POST /api/v1/template-drafts/{id}/try/",
    "POST /api/v1/units/{id}/place/", "POST /api/v1/units/{id}/power/",
    "POST /api/v1/worksheets/", "POST /api/v1/worksheets/{id}/sign-off/",
    "POST /api/v1/worksheets/{id}/stop/",
)  # fmt: skip


def concrete(shop, operation):
    method, path = operation.split()
    return method, filled(shop, path)


def test_every_write_with_a_body_is_damaged_here(shop):
    assert set(bodies(shop, "manager")) == set(WRITES)


@pytest.mark.parametrize("operation", WRITES)
def test_an_undamaged_body_is_taken(api, shop, operation):
    if operation == "POST /api/v1/estimates/{id}/answer/":
        ask_and_keep(api(shop.people["manager"]), f"/api/v1/estimates/{shop.estimate.id}/send/")
    method, path = concrete(shop, operation)

    answer = ask(manager_at_phone(api, shop), method, path, bodies(shop, "manager")[operation])

    # Handing back a unit that is still on the bench is against the rules, not against the shape.
    assert answer.status_code in ({409} if "hand-back" in path else {200, 201, 204}), answer.content


def ask_and_keep(client, path):
    assert client.post(path, {}, format="json").status_code == 200


@pytest.mark.parametrize("operation", WRITES)
def test_damage_anywhere_in_a_body_is_refused_or_taken(api, shop, operation):
    client, (method, path) = manager_at_phone(api, shop), concrete(shop, operation)

    for seed in range(EXAMPLES):
        dice = random.Random(f"{operation}{seed}")
        body = damaged(bodies(shop, "manager")[operation], dice, dice.choice((0.05, 0.15, 0.4)))
        answer = ask(client, method, path, body)

        assert answer.status_code < 500, (seed, answer.content[:500], body)
        assert answer.status_code in {200, 201, 204} or answer.json()["code"], (seed, body)


@pytest.mark.parametrize("operation", WRITES)
def test_what_is_no_body_at_all_is_refused(api, shop, operation):
    client, (method, path) = manager_at_phone(api, shop), concrete(shop, operation)

    for value in NASTY:
        answer = ask(client, method, path, value)
        assert answer.status_code in {200, 400, 404, 409}, (value, answer.content)


@pytest.mark.parametrize(
    "content",
    [b"", b"{", b"\xff\xfe", b"[" * 100_000, b'{"a":' * 5000, b"1" * 10_000, b"NaN", b'"\\ud800"'],
    ids=["empty", "half", "no text", "deep list", "deep object", "huge number", "nan", "half pair"],
)
@pytest.mark.parametrize("path", ["/api/v1/repairs/", "/api/v1/sync/", "/api/v1/moves/"])
def test_what_is_no_json_is_refused_with_a_reason(api, shop, path, content):
    client = api(shop.people["manager"])

    answer = client.generic("POST", path, content, "application/json")

    assert answer.status_code == 400
    assert answer.json()["detail"]


def cursors():
    """Cursors that lead nowhere: a place in the list that is no id, no time, no text."""
    for place in ("p=abc", "p=", "p=%00", "p=99999999999999999999", "r=1&p=\ud7ff", "o=-1", "o=x"):
        yield b64encode(place.encode()).decode()
    yield from ("%", "ä", "", "\0", "A" * 5000)


@pytest.mark.parametrize("resource", LISTS)
def test_odd_questions_to_a_list_are_refused_or_answered(api, shop, resource):
    client = api(shop.people["manager"])
    client.raise_request_exception = False
    texts = [value for value in NASTY if isinstance(value, str)]
    texts = [text.encode("utf-8", "replace").decode() for text in texts]
    questions = [{"cursor": cursor} for cursor in cursors()]
    questions += [
        {name: text}
        for name in ("q", "page_size", "stage", "repair", "mine", "open", "cursor")
        for text in texts
    ]

    for question in questions:
        with transaction.atomic():
            answer = client.get(f"/api/v1/{resource}/", question)
            transaction.set_rollback(True)
        assert answer.status_code in {200, 400, 404}, (question, answer.content[:300])


@pytest.mark.parametrize("seed", range(3))
def test_damaged_batches_leave_whole_records_and_an_answer_for_each_operation(api, shop, seed):
    client, dice = api(shop.people["tech"]), random.Random(seed)
    client.raise_request_exception = False
    taken = 0

    for _round in range(EXAMPLES):
        batch = bodies(shop, "tech")["POST /api/v1/sync/"]
        batch["operations"] = [damaged(op, dice, 0.04) for op in batch["operations"]]
        answer = client.generic("POST", "/api/v1/sync/", raw(batch), "application/json")
        assert answer.status_code == 200, (answer.content[:500], batch)
        results = answer.json()["results"]
        taken += sum(result["outcome"] == "applied" for result in results)
        assert len(results) == len(batch["operations"])

    assert Entry.objects.count() == taken > 0
    for head in RecordHead.objects.all():
        entries = Entry.objects.filter(record=head.record).order_by("seq")
        assert first_break(head.record, entries, (head.last_seq, head.last_hash)) is None


def test_times_at_the_ends_of_the_calendar_do_no_harm(api, shop):
    client = api(shop.people["tech"])
    for made_at in ("0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-14:00", "2026-03-29T02:30Z"):
        (operation, *_more) = bodies(shop, "tech")["POST /api/v1/sync/"]["operations"]
        operation["body"]["made_at"] = made_at
        answer = ask(client, "POST", "/api/v1/sync/", {"format": 1, "operations": [operation]})

        assert answer.status_code == 200, (made_at, answer.content[:300])


# A photo's own parser is shown in test_photos; here what only looks like a picture.
@pytest.mark.parametrize("cut", [0, 1, 8, 20, 33, 50, -1, -12])
@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP", "GIF", "BMP", "TIFF"])
def test_a_cut_or_odd_picture_is_refused(api, shop, kind, cut):
    content = picture(kind)[:cut] if cut else picture(kind)
    sha256 = hashlib.sha256(content).hexdigest()
    path = f"/api/v1/photos/{sha256}/?repair={shop.repair.id}"
    client = api(shop.people["tech"])
    client.raise_request_exception = False

    answer = client.generic("PUT", path, content, f"image/{kind.lower()}")

    whole = cut == 0 and kind in {"PNG", "JPEG", "WEBP"}
    assert answer.status_code in ({200, 201} if whole else {200, 201, 400}), answer.content
    assert answer.status_code < 400 or answer.json()["code"] == "not_an_image"


def chunk(kind, content):
    body = kind + content
    return struct.pack(">I", len(content)) + body + struct.pack(">I", zlib.crc32(body))


def bomb(width, height):
    """A PNG of a few kilobytes that claims to unfold to this many pixels."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    rows = zlib.compress(bytes(1_000_000), 9)
    parts = chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + parts


@pytest.mark.parametrize(
    "size", [(50_000, 50_000), (2**31 - 1, 1), (1, 2**31 - 1), (7000, 7000), (0, 0)]
)
def test_a_picture_that_unfolds_to_too_much_is_refused_unread(api, shop, size):
    content = bomb(*size)
    path = f"/api/v1/photos/{hashlib.sha256(content).hexdigest()}/?repair={shop.repair.id}"
    client = api(shop.people["tech"])
    client.raise_request_exception = False
    tracemalloc.start()

    answer = client.generic("PUT", path, content, "image/png")

    _now, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert answer.status_code == 400, answer.content
    assert answer.json()["code"] in {"photo_too_large", "not_an_image"}
    assert most < 30_000_000
