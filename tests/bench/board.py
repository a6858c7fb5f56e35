"""`python -m tests.bench.board [REPAIRS ...]`: the manager's pages, in server time.

`GET board/`, `GET repairs/?open=1` and `GET find/?q=`, in the process and without a network, beside
a floor: the open repairs with their units by one raw query and orjson. Prints figures and asserts
nothing. Books as in `tests.bench.scan`.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROUNDS = 15
PAGES = ("board/", "repairs/?open=1", "repairs/", "find/?q=S000a1", "find/?q=Glimmer", "orders/")
OPEN = """
SELECT r.id, r.number, r.stage, r.stage_since, r.booked_in_at, r.due_on, u.make, u.model
FROM repairs_repair r JOIN units_unit u ON u.id = r.unit_id
WHERE r.stage NOT IN ('handed_back', 'disposed') ORDER BY r.stage_since"""


def main(sizes: list[int]) -> None:
    """Each size in a process of its own, since settings are read once."""
    for size in sizes:
        with tempfile.TemporaryDirectory(prefix="lampledger-bench-") as folder:
            books = f"sqlite:///{Path(folder) / 'books.sqlite3'}"
            environment = {
                "DATABASE_URL": books, **os.environ, "DATA_DIR": folder, "LOG_LEVEL": "CRITICAL",
                "DJANGO_SETTINGS_MODULE": "shop.settings", "PYTHONPATH": str(Path.cwd()),
            }  # fmt: skip
            for name in ("static", "queue/messages", "queue/control"):
                (Path(folder) / name).mkdir(parents=True)
            command = [sys.executable, "-m", "tests.bench.board", "--measure", str(size)]
            subprocess.run(command, env=environment, check=True)


def measure(size: int) -> None:
    import django

    django.setup()
    from django.core.management import call_command
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    from tests.bench.growth import grow
    from tests.bench.scan import signed_in

    call_command("migrate", verbosity=0)
    begun = time.perf_counter()
    grow(size)
    print(f"{size} repairs, made in {time.perf_counter() - begun:.0f} s ({connection.vendor})")
    client = signed_in("boss")
    floor = median_ms(by_hand)
    for page in PAGES:
        took = median_ms(lambda page=page: require_ok(client.get(f"/api/v1/{page}")))
        with CaptureQueriesContext(connection) as caught:
            client.get(f"/api/v1/{page}")
        ratio = f"  {took / floor:5.1f} x floor ({floor:.1f} ms)" if page == "board/" else ""
        print(f"  {page:18} {took:7.1f} ms {len(caught):3} queries{ratio}", flush=True)


def by_hand() -> None:
    import orjson
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute(OPEN)
        orjson.dumps(cursor.fetchall(), default=str)


def require_ok(answer) -> None:  # type: ignore[no-untyped-def]  # test code, shown to nobody
    if answer.status_code != 200:
        raise SystemExit(answer.content[:300])


def median_ms(work: Callable[[], None]) -> float:
    work()
    took = []
    for _round in range(ROUNDS):
        before = time.perf_counter()
        work()
        took.append(time.perf_counter() - before)
    return statistics.median(took) * 1000


if __name__ == "__main__":
    if sys.argv[1:2] == ["--measure"]:
        measure(int(sys.argv[2]))
    else:
        main([int(word) for word in sys.argv[1:]] or [1000])
