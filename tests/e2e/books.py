"""The test process looks into the very database that the shop's processes write."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.db import connections
from django.db.utils import load_backend

from shop.environment import database_from_url


@contextmanager
def looking_into(url: str) -> Iterator[None]:
    """The default connection of this process leads to `url` for a while."""
    # Playwright runs a loop in this thread, which Django would otherwise refuse.
    before_allowed = os.environ.get("DJANGO_ALLOW_ASYNC_UNSAFE")
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    before = connections["default"]
    own = _connection(url)
    connections["default"] = own
    try:
        yield
    finally:
        own.close()
        connections["default"] = before
        _restore(before_allowed)


def _connection(url: str) -> Any:
    given = {**connections["default"].settings_dict, **database_from_url(url)}
    given["CONN_MAX_AGE"] = 0
    return load_backend(given["ENGINE"]).DatabaseWrapper(given, "default")


def _restore(value: str | None) -> None:
    if value is None:
        os.environ.pop("DJANGO_ALLOW_ASYNC_UNSAFE", None)
    else:
        os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = value
