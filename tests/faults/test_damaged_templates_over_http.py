"""Damaged template files over HTTP: taken in, saved, tried and compared without a fault of ours."""

from __future__ import annotations

import json
import random

import orjson
import pytest

from shop.core.ids import new_id
from shop.jobs.services import import_template
from tests.api.fuzzing import damaged
from tests.factories.core import ShopFactory
from tests.factories.jobs import MeterFactory, on_the_bench
from tests.factories.templates import ANSWERS, SHEET
from tests.faults.test_damaged_templates import FILES, variant

pytestmark = pytest.mark.django_db
SOME = ("everything", "safety-check", "backup-cell-swap")
SEEDS = range(18)


@pytest.fixture
def client(api, max):
    """The manager's, in a shop with every template."""
    ShopFactory()
    MeterFactory()
    for content in FILES.values():
        import_template(content=content, by=max)
    made = api(max)
    made.raise_request_exception = False
    return made


def require_answer(answer, seed):
    """Whatever was sent: done, or refused with a code; never a fault of ours."""
    assert answer.status_code < 500, (seed, answer.content[:300])
    if answer.status_code >= 400:
        assert answer.json()["code"], seed


@pytest.mark.parametrize("name", SOME)
def test_a_damaged_file_is_taken_in_or_refused(client, name):
    for seed in SEEDS:
        text = variant(FILES[name], seed).decode("utf-8", "replace")
        how = ("new", "change")[seed % 2]

        answer = client.post("/api/v1/job-templates/", {"content": text, "as": how}, format="json")

        require_answer(answer, seed)


@pytest.mark.parametrize("name", SOME)
def test_a_damaged_draft_is_kept_tried_and_compared_or_refused(client, name):
    repair = on_the_bench(**SHEET)
    begun = {"id": str(new_id()), "slug": "odd", "title": "Odd", "from": {"template": name}}
    made = client.post("/api/v1/template-drafts/", begun, format="json")
    assert made.status_code == 201, made.content
    draft = f"/api/v1/template-drafts/{begun['id']}/"
    asked = {"repair": str(repair.id), "facts": ANSWERS if name == "everything" else {}}
    assert client.post(f"{draft}try/", asked, format="json").status_code in (200, 409)
    for seed in SEEDS:
        body = damaged(orjson.loads(FILES[name]), random.Random(seed), (0.002, 0.01, 0.1)[seed % 3])
        version = client.get(draft).json()["version"]
        # Not by the client's own way of writing JSON, which half a surrogate pair would break.
        sent = json.dumps({"body": body})
        headers = {"HTTP_IF_MATCH": f'"{version}"'}

        require_answer(client.put(draft, sent, content_type="application/json", **headers), seed)
        require_answer(client.post(f"{draft}try/", asked, format="json"), seed)
        require_answer(client.get(f"{draft}difference/"), seed)
        require_answer(client.post(f"{draft}submit/", {"note": "x"}, format="json"), seed)

    assert client.get("/api/v1/template-shelf/").status_code == 200
