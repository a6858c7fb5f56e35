"""What every test may use: four people, a quick password hasher, the hypothesis profiles."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck
from hypothesis import settings as hypothesis_settings

from tests.services import empty_books, own_redis, shared_books, wakes  # noqa: F401  # fixtures

hypothesis_settings.register_profile("dev", max_examples=50, deadline=None)
hypothesis_settings.register_profile(
    "ci", max_examples=50, deadline=None, derandomize=True, print_blob=True
)
hypothesis_settings.register_profile(
    "long", max_examples=1000, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
hypothesis_settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "dev"))


def pytest_collection_modifyitems(items):
    """Row locks, races and a real broker are shown on their servers only; elsewhere we say so."""
    from django.conf import settings

    reasons = {}
    if not settings.DATABASES["default"]["ENGINE"].endswith("postgresql"):
        reasons["postgresql"] = "needs PostgreSQL: set DATABASE_URL, or run deploy/test.py"
    if not settings.REDIS_URL:
        reasons["real_redis"] = "needs Redis: set REDIS_URL, or run deploy/test.py"
    for item in items:
        for name, reason in reasons.items():
            if item.get_closest_marker(name):
                item.add_marker(pytest.mark.skip(reason=reason))


@pytest.fixture(autouse=True, scope="session")
def _wake_ups_stay_here():
    """No test wakes the workers of a shop that runs on this machine."""
    with wakes("memory://", {}):
        yield


@pytest.fixture(autouse=True)
def _own_folders(settings, tmp_path):
    """Files, mail and the queue of each test go into its own folder."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.MEDIA_ROOT = tmp_path / "media"
    settings.EMAIL_FILE_PATH = tmp_path / "mail"
    settings.STATIC_ROOT = tmp_path / "static"  # WhiteNoise warns of a folder that is not there
    settings.STATIC_ROOT.mkdir()
    settings.PUBLIC_URL = "https://shop.example"


@pytest.fixture
def anna(db):
    """A tech."""
    from tests.factories.core import PersonFactory

    return PersonFactory(username="anna", name="Anna", role="tech")


@pytest.fixture
def dora(db):
    """At the front desk."""
    from tests.factories.core import PersonFactory

    return PersonFactory(username="dora", name="Dora", role="desk")


@pytest.fixture
def max(db):
    """The manager."""
    from tests.factories.core import PersonFactory

    return PersonFactory(username="max", name="Max", role="manager")


@pytest.fixture
def stranger(db):
    """Signed in but no longer working here: may see nothing."""
    from tests.factories.core import PersonFactory

    return PersonFactory(username="stranger", name="Stranger", role="tech", is_active=False)


@pytest.fixture
def api(db):
    """An API client: `api(anna).get("/api/v1/...")`."""
    from rest_framework.test import APIClient

    def sign_in(person=None):
        client = APIClient()
        if person is not None:
            client.force_authenticate(person)
        return client

    return sign_in
