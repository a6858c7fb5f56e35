"""The shop under test as it really runs: database, broker, web server, worker, beat, mail server.

Everything is private, on loopback and gone afterwards; only what was started here is ended.
"""

from __future__ import annotations

import http.client
import os
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, closing, contextmanager, suppress
from dataclasses import dataclass, field
from email import message_from_bytes, policy
from email.message import EmailMessage
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit, urlunsplit
from uuid import uuid4

import psycopg
from aiosmtpd.controller import Controller

from deploy.launch.children import web_command
from deploy.launch.options import Options
from deploy.proving.servers import free_port, private_postgresql, private_redis
from tests.services import Crew, tree_of, wait_until

ROOT = Path(__file__).resolve().parents[2]
REDIS_DATABASE = 7  # not the one that other tests of the same run use


@dataclass
class Mailbox:
    """Takes the shop's mail by SMTP and keeps it."""

    messages: list[EmailMessage] = field(default_factory=list)

    async def handle_DATA(self, server: Any, session: Any, envelope: Any) -> str:  # noqa: N802
        message = message_from_bytes(envelope.content, policy=policy.default)
        self.messages.append(message)
        return "250 OK"

    def to(self, address: str, *words: str) -> list[EmailMessage]:
        """Messages to an address whose subject or text holds all the words."""
        sent = [message for message in self.messages if address in str(message["To"])]
        return [message for message in sent if all(word in text_of(message) for word in words)]


def text_of(message: EmailMessage) -> str:
    body = message.get_body(("plain",))
    return f"{message['Subject']}\n{body.get_content() if body else ''}"


@dataclass
class House:
    """One shop with its processes. The web server can be stopped and started in between."""

    folder: Path
    database: str
    redis: str
    port: int
    mailbox: Mailbox
    mail_port: int
    web: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        return f"http://localhost:{self.port}"

    @property
    def environment(self) -> dict[str, str]:
        inherited = {
            name: value for name, value in os.environ.items() if name != "DJANGO_ALLOW_ASYNC_UNSAFE"
        }
        return {
            **inherited,
            "DATABASE_URL": self.database,
            "REDIS_URL": self.redis,
            "DATA_DIR": str(self.folder),
            "PUBLIC_URL": self.url,
            "EMAIL_URL": f"smtp://127.0.0.1:{self.mail_port}",
            "SECURE": "false",
            "SECRET_KEY": "for-tests-only-" + "0" * 40,
            "ALLOWED_HOSTS": "localhost,127.0.0.1",
            "PYTHONWARNINGS": "ignore",
            "PYTHONPATH": str(ROOT),
        }

    def command(self, *words: str) -> subprocess.CompletedProcess[str]:
        """Run a command of the project on these books. When it fails, the test says its output."""
        done = subprocess.run(
            [sys.executable, "-m", *words], cwd=ROOT, env=self.environment, text=True,
            capture_output=True, check=False,
        )  # fmt: skip
        assert done.returncode == 0, f"{words}: {done.stdout}{done.stderr}"
        return done

    def start_web(self) -> None:
        """Start the web server and wait for it; one that runs is left alone."""
        if self.web is not None:
            return
        options = Options(self.port, self.folder, False, False, False, None)
        command = [sys.executable, *web_command(options, None)[1:]]
        with (self.folder / "web.log").open("ab") as log:
            self.web = subprocess.Popen(
                command, cwd=ROOT, env=self.environment, stdout=log, stderr=log,
                start_new_session=True,
            )  # fmt: skip
        wait_until(self.answers, seconds=60)

    def stop_web(self) -> None:
        """The server is gone at once, as after a power cut."""
        if self.web is None:
            return
        for pid in tree_of(self.web.pid):
            with suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        self.web.wait(10)
        self.web = None

    def answers(self) -> bool:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=5)
        with closing(connection), suppress(OSError, http.client.HTTPException):
            connection.request("GET", "/healthz", headers={"Host": "localhost"})
            return connection.getresponse().status == 200
        return False


@contextmanager
def open_house(folder: Path) -> Iterator[House]:
    """A seeded shop with all its processes running. Raises NoServer."""
    with ExitStack() as stack:
        server = os.environ.get("TEST_DATABASE_URL") or stack.enter_context(private_postgresql())
        redis = os.environ.get("TEST_REDIS_URL") or stack.enter_context(private_redis())
        database = stack.enter_context(own_database(server))
        mailbox, mail_port = stack.enter_context(mail_server())
        house = House(folder, database, other_database(redis), free_port(), mailbox, mail_port)
        house.command("tests.e2e.seed")
        crew = Crew(house.environment, folder)
        stack.callback(crew.kill)
        stack.callback(house.stop_web)
        crew.start()
        house.start_web()
        yield house


@contextmanager
def own_database(server: str) -> Iterator[str]:
    """A database of its own on a PostgreSQL server."""
    name = f"e2e_{uuid4().hex[:12]}"
    _on(server, f"CREATE DATABASE {name}")
    try:
        yield urlunsplit(urlsplit(server)._replace(path=f"/{name}"))
    finally:
        _on(server, f"DROP DATABASE {name} WITH (FORCE)")


def _on(server: str, *statements: str) -> None:
    with psycopg.connect(server, autocommit=True) as connection:
        for statement in statements:
            connection.execute(statement)


def other_database(redis: str) -> str:
    return urlunsplit(urlsplit(redis)._replace(path=f"/{REDIS_DATABASE}"))


@contextmanager
def mail_server() -> Iterator[tuple[Mailbox, int]]:
    mailbox, port = Mailbox(), free_port()
    controller = Controller(mailbox, hostname="127.0.0.1", port=port)
    controller.start()
    try:
        yield mailbox, port
    finally:
        controller.stop()


def wait_for(what: Sequence[Any] | Any, *, seconds: float = 30.0) -> Any:
    """What a call answers once it is true; fails when that takes too long."""
    found: list[Any] = []

    def looked() -> bool:
        found[:] = [what()]
        return bool(found[0])

    wait_until(looked, seconds=seconds)
    return found[0]
