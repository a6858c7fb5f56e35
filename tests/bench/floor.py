"""The floor for a pack: the same bytes by hand, with who is asking looked up by raw SQL."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable
from typing import Any

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

import django

django.setup()

from django.db import connection  # noqa: E402 - the settings come first

ADDRESS = re.compile("/worksheets/([0-9a-f-]{36})/pack/")
SESSION = re.compile("sessionid=([a-z0-9]+)")


def application(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
    """Three queries: the session, the person, the pack. Nothing else is done."""
    session = SESSION.search(environ["HTTP_COOKIE"])
    wanted = ADDRESS.search(environ["PATH_INFO"])
    assert session
    assert wanted
    key = wanted[1] if connection.vendor == "postgresql" else wanted[1].replace("-", "")
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT session_data FROM django_session WHERE session_key = %s", [session[1]]
        )
        cursor.fetchone()
        cursor.execute("SELECT id, role, is_active FROM core_person WHERE username = %s", ["bench"])
        cursor.fetchone()
        cursor.execute("SELECT pack, pack_sha256 FROM jobs_worksheet WHERE id = %s", [key])
        content, sha256 = cursor.fetchone()
    headers = [("Content-Type", "application/json"), ("ETag", f'"{sha256}"')]
    start_response("200 OK", headers)
    return [bytes(content)]
