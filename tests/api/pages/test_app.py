"""The app's shell is found at every address of it, and cached by nobody but its own worker."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from django.test import Client

FILES = {"index.html": "<title>app</title>", "sw.js": "// worker", "manifest.webmanifest": "{}"}


@pytest.fixture(autouse=True)
def built(tmp_path: Path, settings: Any) -> None:
    for name, text in FILES.items():
        (tmp_path / name).write_text(text)
    settings.APP_DIST = tmp_path


@pytest.mark.parametrize(
    ("asked", "led_to"),
    [
        ("/", "/app/"),
        ("/app", "/app/"),
        ("/?from=tag", "/app/?from=tag"),
        ("/app?from=tag", "/app/?from=tag"),
    ],
)
def test_a_short_address_leads_into_the_app_with_its_query(asked: str, led_to: str) -> None:
    answer = Client().get(asked)

    assert (answer.status_code, answer["Location"]) == (302, led_to)


@pytest.mark.parametrize(
    "address",
    ["/app/", "/app/bench", "/app/bench/", "/app/t/U1234567?from=tag", "/app/no/such/page"],
)
def test_any_address_below_is_the_same_shell(address: str) -> None:
    answer = Client().get(address)

    assert answer.status_code == 200
    assert answer.content.decode() == FILES["index.html"]


@pytest.mark.parametrize(
    ("address", "kind"),
    [
        ("/app/", "text/html; charset=utf-8"),
        ("/app/sw.js", "text/javascript; charset=utf-8"),
        ("/app/manifest.webmanifest", "application/manifest+json"),
    ],
)
def test_shell_worker_and_manifest_are_asked_for_anew(address: str, kind: str) -> None:
    answer = Client().get(address)

    assert (answer["Content-Type"], answer["Cache-Control"]) == (kind, "no-cache")
    assert not answer.cookies


def test_an_app_that_is_not_built_says_how_to_build_it(settings: Any) -> None:
    (settings.APP_DIST / "index.html").unlink()

    answer = Client().get("/app/")

    assert answer.status_code == 503
    assert b"deploy/run.py" in answer.content
