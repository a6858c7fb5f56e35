"""`python -m tests.bench.scan [REPAIRS ...]`: from a tag's code to the pack on the wire.

`GET codes/{code}/`, then `GET worksheets/{id}/pack/`, over HTTP, by the shop and by a hand-written
floor (raw SQL and orjson) that gives the same answers, in turns. Prints figures and asserts
nothing. Books: a SQLite file in a folder that is gone afterwards, or the empty database named by
DATABASE_URL (then for one number of repairs).
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from http.client import HTTPConnection
from pathlib import Path

ROUNDS = 300


def main(sizes: list[int]) -> None:
    """Each size in a process of its own, since settings are read once."""
    for size in sizes:
        with tempfile.TemporaryDirectory(prefix="lampledger-bench-") as folder:
            books = f"sqlite:///{Path(folder) / 'books.sqlite3'}"
            environment = {
                "DATABASE_URL": books, **os.environ, "DATA_DIR": folder, "LOG_LEVEL": "CRITICAL",
                "PYTHONPATH": str(Path.cwd()), "DJANGO_SETTINGS_MODULE": "shop.settings",
            }  # fmt: skip
            for name in ("static", "queue/messages", "queue/control"):
                (Path(folder) / name).mkdir(parents=True)
            command = [sys.executable, "-m", "tests.bench.scan", "--measure", str(size)]
            subprocess.run(command, env=environment, check=True)


def measure(size: int) -> None:
    import django

    django.setup()
    from django.core.management import call_command

    from tests.bench.growth import grow, tag_open_units

    call_command("migrate", verbosity=0)
    first = grow(size)
    tagged = tag_open_units(bytes(first.pack), first.pack_sha256)
    queries(tagged[0])
    on_the_wire(size, tagged)


def queries(tagged) -> None:  # type: ignore[no-untyped-def]  # test code, shown to nobody
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    client = signed_in("bench")
    counts = []
    for path in paths(tagged):
        client.get(path)
        with CaptureQueriesContext(connection) as caught:
            client.get(path)
        counts.append(len(caught))
    print(f"queries: {counts[0]} for the code, {counts[1]} for the pack")


def signed_in(username: str):  # type: ignore[no-untyped-def]  # as above
    from rest_framework.test import APIClient

    from shop.core.models import Person

    client = APIClient(HTTP_HOST="localhost")
    person = Person.objects.get(username=username)
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


def paths(tagged) -> tuple[str, str]:  # type: ignore[no-untyped-def]  # as above
    code, worksheet = tagged
    return f"/api/v1/codes/{code}/", f"/api/v1/worksheets/{worksheet}/pack/"


def on_the_wire(size: int, tagged) -> None:  # type: ignore[no-untyped-def]  # as above
    from tests.bench.sync import _served

    cookie = f"sessionid={signed_in('bench').cookies['sessionid'].value}"
    with _served("shop.wsgi:application") as a, _served("tests.bench.scan_floor:application") as b:
        ours, floor = Scanner(a, cookie), Scanner(b, cookie)
        for one in tagged[:10]:
            if ours.scan(one) != floor.scan(one):
                raise SystemExit("the floor answers something else")
        took = [
            (ours.seconds(one), floor.seconds(one))
            for one in (tagged[n % len(tagged)] for n in range(ROUNDS))
        ]
    for name, pick in (("median", statistics.median), ("quickest tenth", quickest_tenth)):
        shop_us, floor_us = (pick(side) * 1e6 for side in zip(*took, strict=True))
        print(f"{size} repairs, {name}: code and pack {shop_us:.0f} µs, floor {floor_us:.0f} µs, "
              f"ratio {shop_us / floor_us:.2f}", flush=True)  # fmt: skip


def quickest_tenth(seconds: Sequence[float]) -> float:
    """What it takes when nobody else wants the processor."""
    return statistics.quantiles(seconds, n=10)[0]


class Scanner:
    """One kept connection, as a phone has."""

    def __init__(self, port: int, cookie: str) -> None:
        self.connection = HTTPConnection("127.0.0.1", port)
        self.headers = {"Cookie": cookie, "Host": "localhost"}

    def scan(self, tagged) -> tuple[object, bytes]:  # type: ignore[no-untyped-def]  # as above
        first, second = (self._get(path) for path in paths(tagged))
        return json.loads(first), second

    def seconds(self, tagged) -> float:  # type: ignore[no-untyped-def]  # as above
        before = time.perf_counter()
        for path in paths(tagged):
            self._get(path)
        return time.perf_counter() - before

    def _get(self, path: str) -> bytes:
        self.connection.request("GET", path, headers=self.headers)
        answer = self.connection.getresponse()
        content = answer.read()
        if answer.status != 200:
            raise SystemExit(f"{path}: {answer.status} {content[:200]!r}")
        return content


if __name__ == "__main__":
    if sys.argv[1:2] == ["--measure"]:
        measure(int(sys.argv[2]))
    else:
        main([int(word) for word in sys.argv[1:]] or [1000])
