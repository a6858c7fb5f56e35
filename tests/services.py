"""Real processes beside the tests: a database that others can open, a broker, Celery.

Everything lives in the test's own folder and on loopback, and only what was started here is ended.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import quote

import pytest
from django.core.management import call_command
from django.db import connection, connections
from kombu import pools

from deploy.proving.servers import NoServer, private_redis
from shop.celery import app

ROOT = Path(__file__).resolve().parents[1]
START_SECONDS = 30.0


def wait_until(what: Callable[[], object], *, seconds: float = 60.0) -> None:
    """Look again and again until `what` is true; fail the test when it takes too long."""
    deadline = time.monotonic() + seconds
    while not what():
        assert time.monotonic() < deadline, f"not within {seconds} s"
        time.sleep(0.1)


@pytest.fixture(scope="session")
def empty_books(tmp_path_factory) -> Path:
    """A migrated SQLite file, made once and copied for each test."""
    file = tmp_path_factory.mktemp("books") / "empty.sqlite3"
    environment = {**os.environ, "DATABASE_URL": f"sqlite:///{file}", "REDIS_URL": ""}
    command = [sys.executable, "-m", "shop", "migrate", "--verbosity", "0"]
    subprocess.run(command, cwd=ROOT, env=environment, check=True)
    return file


@pytest.fixture
def shared_books(request, tmp_path) -> Iterator[str]:
    """The URL of an empty database that this test and other processes write at the same time."""
    blocker = request.getfixturevalue("django_db_blocker")
    if connection.vendor == "postgresql":
        request.getfixturevalue("django_db_setup")
        with blocker.unblock():
            yield _postgresql_url()
            call_command("flush", verbosity=0, interactive=False)
        return
    file = tmp_path / "books.sqlite3"
    shutil.copy(request.getfixturevalue("empty_books"), file)
    with blocker.unblock(), _connected_to(file):
        yield f"sqlite:///{file}"


def _postgresql_url() -> str:
    given = connection.settings_dict
    login = f"{quote(given['USER'])}:{quote(given['PASSWORD'] or '')}"
    return f"postgresql://{login}@{given['HOST']}:{given['PORT']}/{given['NAME']}"


@contextmanager
def _connected_to(file: Path) -> Iterator[None]:
    """The default connection leads to `file`; the test suite's own one comes back afterwards."""
    before = connections["default"]
    own = connections.create_connection("default")
    own.settings_dict = {**own.settings_dict, "NAME": str(file)}
    connections["default"] = own
    try:
        yield
    finally:
        own.close()
        connections["default"] = before


@pytest.fixture
def own_redis() -> Iterator[str]:
    """The URL of an empty Redis that is gone afterwards."""
    try:
        with private_redis() as url:
            yield url
    except NoServer as reason:
        pytest.skip(str(reason))


@contextmanager
def wakes(broker: str, transport_options: dict[str, object]) -> Iterator[None]:
    """Wake-ups of this process go to `broker`, as those of the shop's web server would."""
    before = (app.conf.broker_url, app.conf.broker_transport_options)
    _point_to(broker, transport_options)
    try:
        yield
    finally:
        _point_to(*before)


def _point_to(broker: str, transport_options: dict[str, object]) -> None:
    app.conf.broker_url, app.conf.broker_transport_options = broker, transport_options
    app._after_fork()  # forgets the connections it keeps
    pools.reset()


@dataclass
class Crew:
    """A Celery worker with two processes, and beat, on one database and one broker."""

    environment: dict[str, str]
    folder: Path
    include: str = ""
    running: list[subprocess.Popen[bytes]] = field(default_factory=list)

    def start(self, *, beat: bool = True) -> None:
        more = ["--include", self.include] if self.include else []
        quiet = ["--without-gossip", "--without-mingle", "--loglevel", "warning"]
        self._run("worker", "-P", "prefork", "-c", "2", *quiet, *more)
        if beat:
            self._run("beat", "--schedule", str(self.folder / "beat"), "--loglevel", "warning")

    def _run(self, *words: str) -> None:
        log = (self.folder / f"{words[0]}.log").open("ab")
        command = [sys.executable, "-m", "celery", "-A", "shop.celery", *words]
        # A session of its own, so that its whole tree can be ended and nothing else.
        self.running.append(
            subprocess.Popen(
                command,
                cwd=ROOT,
                env=self.environment,
                stdout=log,
                stderr=log,
                start_new_session=True,
            )
        )
        log.close()

    def kill(self) -> list[int]:
        """End every process of the crew at once, as a power cut would. Returns their ids."""
        ids = [pid for process in self.running for pid in tree_of(process.pid)]
        for pid in ids:
            os.kill(pid, signal.SIGKILL)
        for process in self.running:
            process.wait(START_SECONDS)
        self.running.clear()
        return ids

    def wait_until(self, what: Callable[[], object], *, seconds: float = 60.0) -> None:
        """Like `wait_until`, and says at once what a worker that ended had to say."""

        def looked() -> bool:
            ended = [process.args for process in self.running if process.poll() is not None]
            assert not ended, f"{ended} ended: {self.log()[-2000:]}"
            return bool(what())

        wait_until(looked, seconds=seconds)

    def log(self) -> str:
        return "\n".join(file.read_text() for file in sorted(self.folder.glob("*.log")))


def tree_of(pid: int) -> list[int]:
    """A process and all that came from it, itself first."""
    children = Path(f"/proc/{pid}/task/{pid}/children")
    try:
        below = [int(child) for child in children.read_text().split()]
    except FileNotFoundError:  # it has just ended
        return []
    return [pid, *(inner for child in below for inner in tree_of(child))]


@contextmanager
def crew_on(*, database: str, redis: str, folder: Path, include: str = "") -> Iterator[Crew]:
    """A crew that is ended with the test, and this process on the same broker.

    Leases are short, so that a kill is seen to soon.
    """
    messages, control = folder / "queue" / "messages", folder / "queue" / "control"
    for queue in (messages, control):
        queue.mkdir(parents=True, exist_ok=True)
    environment = {
        **os.environ,
        "DATABASE_URL": database,
        "REDIS_URL": redis,
        "DATA_DIR": str(folder),
        "OUTBOX_LEASE_SECONDS": "4",
        "VISIBILITY_TIMEOUT": "5",
        "PUBLIC_URL": "https://shop.example",
        "CREW_FOLDER": str(folder),
        "PYTHONWARNINGS": "ignore",
    }
    by_folder = {
        "data_folder_in": str(messages),
        "data_folder_out": str(messages),
        "control_folder": str(control),
    }
    crew = Crew(environment, folder, include)
    with wakes(redis or "shop-folder://", {"max_retries": 0} if redis else by_folder):
        try:
            yield crew
        finally:
            crew.kill()
