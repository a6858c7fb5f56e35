"""Whatever fits or breaks the schema: an answer of the schema's shape, never a fault of ours.

In CI a few examples for each operation. The long form:
`FUZZ_EXAMPLES=300 python -m pytest tests/api/test_schema_fuzz.py`
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
import schemathesis
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.core.handlers.wsgi import WSGIHandler
from django.core.signals import request_finished, request_started
from django.db import close_old_connections, transaction
from django.test import override_settings
from hypothesis import HealthCheck, Phase, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from tests.api.fuzzing import lead_somewhere
from tests.factories.everything import Everything, everything

pytestmark = [
    pytest.mark.django_db,
    # The tool reads answers in the process and does not close the files behind them.
    pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning"),
]
EXAMPLES = int(os.environ.get("FUZZ_EXAMPLES", "3"))
SCHEMA = Path(__file__).parents[2] / "docs" / "openapi.json"  # CI shows that it is the code's own
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
CSRF = "a" * 32

# A part of a photo is bytes like any other.
schemathesis.serializer.alias("application/partial-upload", "application/octet-stream")
schema = schemathesis.openapi.from_dict(json.loads(SCHEMA.read_text()))


@pytest.fixture(scope="module")
def shop(django_db_setup, django_db_blocker, tmp_path_factory) -> Iterator[Everything]:
    """One of everything, for all tests of this module; each example is rolled back."""
    folder = tmp_path_factory.mktemp("fuzz")
    (folder / "static").mkdir()
    hasher = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    with django_db_blocker.unblock(), transaction.atomic():
        with override_settings(MEDIA_ROOT=folder / "media", PASSWORD_HASHERS=hasher):
            made = everything()
        made.media = folder / "media"
        yield made
        transaction.set_rollback(True)


@pytest.fixture(autouse=True)
def _one_connection(shop, settings) -> Iterator[None]:
    """A request closes what it takes for an old connection; here it is the test's own."""
    settings.MEDIA_ROOT = shop.media
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.fixture
def app(shop) -> WSGIHandler:
    return WSGIHandler()


def session_of(shop: Everything, role: str) -> str:
    person, session = shop.people[role], SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.create()
    return session.session_key


FEW = settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=EXAMPLES < 50,
    phases=[Phase.generate],
    suppress_health_check=list(HealthCheck),
)


@schema.parametrize()
@settings(FEW, phases=[Phase.explicit, Phase.generate])  # explicit: the bounds of each field
def test_no_request_brings_the_server_down(case, shop, app):
    request_and_check(case, "manager", shop, app)


@pytest.mark.parametrize("role", ["tech", "desk"])
@schema.parametrize()
@FEW
def test_no_request_of_another_role_does(case, role, shop, app):
    request_and_check(case, role, shop, app)


def request_and_check(case, role, shop, app):
    lead_somewhere(case, shop, role)

    with transaction.atomic():
        cookies = {"sessionid": session_of(shop, role), "csrftoken": CSRF}
        # The tool reads an answer in the process as it is and does not unpack it.
        headers = {"X-CSRFToken": CSRF, "Accept-Encoding": "identity"}
        answer = case.call("http://localhost/", app=app, cookies=cookies, headers=headers)
        transaction.set_rollback(True)

    case.validate_response(answer, checks=CHECKS)
