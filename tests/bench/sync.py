"""`python -m tests.bench.sync`: how long 500 waiting operations take, and a pack against its floor.

Prints figures and asserts nothing. Uses a database of its own: a SQLite file in a folder that is
gone afterwards, or the one named by DATABASE_URL (which must be empty).
"""

from __future__ import annotations

import os
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from http.client import HTTPConnection
from pathlib import Path


def main() -> None:
    with tempfile.TemporaryDirectory(prefix="lampledger-bench-") as folder:
        os.environ.setdefault("DATABASE_URL", f"sqlite:///{Path(folder) / 'books.sqlite3'}")
        os.environ |= {"DATA_DIR": folder, "LOG_LEVEL": "CRITICAL", "PYTHONPATH": str(Path.cwd())}
        for name in ("static", "queue/messages", "queue/control"):
            (Path(folder) / name).mkdir(parents=True)
        os.environ["DJANGO_SETTINGS_MODULE"] = "shop.settings"
        _measure()


def _measure() -> None:
    import django

    django.setup()
    from django.core.management import call_command
    from django.db import connection

    call_command("migrate", verbosity=0)
    person, client = _person()
    print(f"database: {connection.vendor}")
    worksheet = _sync(person, client)
    _pack(worksheet, client)


def _person():  # type: ignore[no-untyped-def]  # test code, shown to nobody
    from rest_framework.test import APIClient

    from tests.factories.core import PersonFactory

    person = PersonFactory(username="bench", role="tech")
    client = APIClient(HTTP_HOST="localhost")
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return person, client


def _sync(person, client):  # type: ignore[no-untyped-def]  # as above
    """500 operations on one worksheet in batches of 100, over the API."""
    from tests.factories.jobs import MeterFactory, Phone, caution, reading, started, template

    meter = MeterFactory()
    steps = [reading(f"r{n}", rule="guarded") for n in range(60)]
    worksheet = started(template(caution(), *steps), by=person)
    phone = Phone(person, worksheet)
    operations = [phone.acknowledge()]
    operations += [phone.read(f"r{n % 60}", "5.01", meter=str(meter.id)) for n in range(499)]
    took = []
    for start in range(0, 500, 100):
        sent = {
            "format": 1,
            "known": {str(worksheet.id): start},
            "operations": operations[start : start + 100],
        }
        before = time.perf_counter()
        answer = client.post("/api/v1/sync/", sent, format="json")
        took.append(time.perf_counter() - before)
        refused = [r for r in answer.json()["results"] if r["outcome"] != "applied"]
        if refused:
            raise SystemExit(f"refused: {refused[0]}")
    each = ", ".join(f"{seconds * 1000:.0f}" for seconds in took)
    print(f"500 operations in batches of 100: {sum(took):.2f} s in all ({each} ms)")
    return worksheet


def _pack(worksheet, client) -> None:  # type: ignore[no-untyped-def]  # as above
    """The pack over the wire, by the shop and by a hand-written answer, in turns."""
    session = client.cookies["sessionid"].value
    with _served("shop.wsgi:application") as shop, _served("tests.bench.floor:application") as raw:
        address = f"/api/v1/worksheets/{worksheet.id}/pack/"
        ours, floor = Line(shop, address, session), Line(raw, address, session)
        if ours.get() != floor.get():
            raise SystemExit("the floor answers something else")
        took = [(ours.seconds(), floor.seconds()) for _ in range(400)]
    ours_us, floor_us = (statistics.median(side) * 1e6 for side in zip(*took, strict=True))
    print(
        f"pack of {len(bytes(worksheet.pack))} bytes on the wire: {ours_us:.0f} µs, "
        f"floor {floor_us:.0f} µs, ratio {ours_us / floor_us:.2f}"
    )


@contextmanager
def _served(application: str) -> Iterator[int]:
    """A web server with one worker on a free port of loopback; ended by its id."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    command = [sys.executable, "-m", "granian", "--interface", "wsgi", "--port", str(port)]
    command += ["--workers", "1", "--blocking-threads", "1", "--log-level", "error", application]
    server = subprocess.Popen(command)
    try:
        _wait_for(port)
        yield port
    finally:
        server.terminate()
        server.wait(timeout=10)


def _wait_for(port: int) -> None:
    for _ in range(100):
        with suppress(OSError), socket.create_connection(("127.0.0.1", port), timeout=1):
            return
        time.sleep(0.1)
    raise SystemExit("the server did not start")


class Line:
    """One kept connection that asks for one address."""

    def __init__(self, port: int, address: str, session: str) -> None:
        self.connection = HTTPConnection("127.0.0.1", port)
        self.address = address
        self.headers = {"Cookie": f"sessionid={session}", "Host": "localhost"}

    def get(self) -> bytes:
        self.connection.request("GET", self.address, headers=self.headers)
        answer = self.connection.getresponse()
        content = answer.read()
        if answer.status != 200:
            raise SystemExit(f"{self.address}: {answer.status} {content[:200]!r}")
        return content

    def seconds(self) -> float:
        before = time.perf_counter()
        self.get()
        return time.perf_counter() - before


if __name__ == "__main__":
    main()
