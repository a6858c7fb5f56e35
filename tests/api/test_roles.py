"""Who may do what: one table for every operation of the schema, asked as each role."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from django.db import transaction

from tests.factories.bodies import bodies
from tests.factories.core import hold
from tests.factories.everything import ROLES, everything, filled, picture

pytestmark = pytest.mark.django_db
SCHEMA = json.loads((Path(__file__).parents[2] / "docs" / "openapi.json").read_text())
ALL, DESK, BENCH, MANAGER = set(ROLES), {"desk", "manager"}, {"tech", "manager"}, {"manager"}

# Whoever stands in the line may; the others get 403 `not_your_role`.
WHO = {
    "GET /benches/": ALL,
    "GET /benches/{id}/offered-readings/": BENCH,
    "POST /benches/{id}/offered-readings/": BENCH,
    "GET /board/": MANAGER,
    "GET /calculators/": ALL,
    "POST /calculators/{name}/": ALL,
    "GET /codes/": ALL,
    "GET /codes/{code}/": ALL,
    "POST /counts/": ALL,
    "GET /csrf/": ALL,
    "GET /customers/": DESK,
    "POST /customers/": DESK,
    "GET /customers/{id}/": DESK,
    "GET /devices/": MANAGER,
    "POST /devices/{id}/revoke/": MANAGER,
    "GET /documents/{id}/file/": DESK,  # a receipt; what techs may open is in test_papers_and_money
    "POST /estimates/{id}/answer/": DESK,
    "POST /estimates/{id}/send/": ALL,
    "GET /find/": ALL,
    "GET /job-templates/": ALL,
    "POST /job-templates/": BENCH,  # makes drafts; the manager publishes
    "GET /job-templates/{slug}/": ALL,
    "POST /job-templates/{slug}/bring-back/": MANAGER,
    "GET /job-templates/{slug}/difference/": ALL,
    "GET /job-templates/{slug}/file/": ALL,
    "POST /job-templates/{slug}/retire/": MANAGER,
    "GET /job-templates/{slug}/revisions/": ALL,
    "GET /job-templates/{slug}/revisions/{number}/": ALL,
    "GET /meter-rules/": ALL,
    "PUT /meter-rules/": MANAGER,
    "GET /meters/": ALL,
    "POST /meters/": MANAGER,
    "GET /meters/{id}/": ALL,
    "PUT /meters/{id}/": MANAGER,
    "POST /meters/{id}/calibrations/": MANAGER,
    "GET /meters/{id}/readings/": BENCH,
    "GET /model-sheets/": ALL,
    "POST /model-sheets/": BENCH,
    "GET /model-sheets/shape/": ALL,
    "GET /model-sheets/{id}/": ALL,
    "PUT /model-sheets/{id}/": BENCH,
    "GET /model-sheets/{id}/changes/": ALL,
    "POST /model-sheets/{id}/units/": BENCH,
    "POST /moves/": ALL,
    "POST /mentions/seen/": ALL,
    "GET /my-bench/": ALL,
    "GET /my-packs/": BENCH,
    "GET /orders/": ALL,
    "GET /orders/{id}/": ALL,
    "POST /orders/{id}/approve/": MANAGER,
    "POST /orders/{id}/drop/": MANAGER,
    "POST /orders/{id}/receive/": ALL,
    "GET /parts/": ALL,
    "GET /parts/{id}/": ALL,
    "GET /people/": ALL,
    "GET /photos/{sha256}/": ALL,
    "PUT /photos/{sha256}/": ALL,
    "GET /photos/{sha256}/upload/": ALL,
    "PATCH /photos/{sha256}/upload/": ALL,
    "DELETE /pins/{id}/": MANAGER,
    "GET /records/{id}/": ALL,
    "GET /records/{id}/log/": ALL,
    "GET /repairs/": ALL,
    "POST /repairs/": DESK,
    "GET /repairs/{id}/": ALL,
    "PATCH /repairs/{id}/": ALL,
    "GET /repairs/{id}/account/": DESK,
    "POST /repairs/{id}/closed-up/": ALL,
    "GET /repairs/{id}/documents/": ALL,
    "POST /labels/": ALL,
    "POST /repairs/{id}/documents/": ALL,  # a tag; a receipt is the desk's
    "POST /repairs/{id}/estimates/": ALL,
    "POST /repairs/{id}/hand-back/": DESK,
    "POST /repairs/{id}/hand-over/": ALL,
    "POST /repairs/{id}/invoices/": DESK,
    "POST /repairs/{id}/labour/": BENCH,
    "GET /repairs/{id}/notices/": DESK,
    "POST /repairs/{id}/payments/": DESK,
    "POST /repairs/{id}/stage/": BENCH,  # bench to waiting for parts; the table of stages has more
    "POST /repairs/{id}/status-link/": DESK,
    "POST /repairs/{id}/take/": BENCH,
    "GET /schemas/{name}/": ALL,
    "DELETE /session/": ALL,
    "GET /session/": ALL,
    "POST /session/": ALL,
    "DELETE /session/pin/": ALL,
    "GET /session/pin/": ALL,
    "POST /session/pin/": ALL,
    "PUT /session/pin/": ALL,
    "GET /stuck-work/": MANAGER,
    "POST /stuck-work/{id}/try-again/": MANAGER,
    "POST /sync/": ALL,
    "POST /template-drafts/": BENCH,
    "DELETE /template-drafts/{id}/": BENCH,
    "GET /template-drafts/{id}/": BENCH,
    "PUT /template-drafts/{id}/": BENCH,
    "GET /template-drafts/{id}/difference/": BENCH,
    "POST /template-drafts/{id}/publish/": MANAGER,
    "POST /template-drafts/{id}/review/": BENCH,
    "POST /template-drafts/{id}/submit/": BENCH,
    "POST /template-drafts/{id}/try/": BENCH,
    "GET /template-shelf/": BENCH,
    "GET /template-words/": BENCH,
    "GET /units/{id}/": ALL,
    "POST /units/{id}/place/": ALL,
    "POST /units/{id}/power/": BENCH,
    "GET /worksheets/": ALL,
    "POST /worksheets/": BENCH,
    "GET /worksheets/{id}/": ALL,
    "GET /worksheets/{id}/pack/": ALL,
    "POST /worksheets/{id}/sign-off/": ALL,  # who may sign is said by the step
    "POST /worksheets/{id}/stop/": BENCH,
}
OPERATIONS = [
    f"{method.upper()} {path}"
    for path, methods in SCHEMA["paths"].items()
    for method in methods
    if method in {"get", "post", "put", "patch", "delete"}
]


def test_every_operation_has_its_line():
    assert {operation.replace("/api/v1", "") for operation in OPERATIONS} == set(WHO)


def ask(client, shop, role, operation):
    """The answer to a good request of this role; whatever it wrote is taken back."""
    method, path = operation.split()
    body = bodies(shop, role).get(operation)
    path = filled(shop, path)
    headers = {"HTTP_IF_MATCH": f'"{shop.repair.version}"'}
    content, kind = json.dumps(body or {}), "application/json"
    if "photos" in path and method == "PUT":
        content, kind = picture(), "image/png"
    if "photos" in path and method == "PATCH":
        content, kind = picture(), "application/partial-upload"
        headers = {"HTTP_UPLOAD_OFFSET": "0", "HTTP_UPLOAD_COMPLETE": "?1"}
    if "job-templates" in path and "/difference/" in path:
        path += "?from=1&to=1"
    if "/readings/" in path:
        path += "?since=2020-01-01&off_percent=2"
    if operation == "GET /api/v1/worksheets/" or ("photos" in path and method != "GET"):
        path += f"?repair={shop.repair.id}"
    with transaction.atomic():
        answer = client.generic(method, path, content, kind, **headers)
        transaction.set_rollback(True)
    return answer


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("operation", OPERATIONS)
def test_a_role_may_do_what_its_line_says_and_nothing_else(client, operation, role):
    shop = everything()
    client.force_login(shop.people[role], backend="django.contrib.auth.backends.ModelBackend")
    hold(client, shop.device, shop.phone_key)

    answer = ask(client, shop, role, operation)

    if role in WHO[operation.replace("/api/v1", "")]:
        # 409: allowed, but a rule of the shop says no to this request.
        assert answer.status_code in {200, 201, 204, 409}, answer.content
    else:
        assert (answer.status_code, answer.json()["code"]) == (403, "not_your_role")
    if hasattr(answer, "close"):
        answer.close()


@pytest.mark.parametrize("path", ["find/?q=Rosa", "find/?q=0151", "repairs/", "repairs/?q=Rosa"])
def test_a_tech_is_not_told_how_to_reach_a_customer(api, path):
    shop = everything()

    answer = api(shop.people["tech"]).get(f"/api/v1/{path}")

    assert answer.status_code == 200
    for private in ("0151 0000 123", "01510000123", "r@mail.example", str(shop.repair.customer_id)):
        assert private not in answer.content.decode()
