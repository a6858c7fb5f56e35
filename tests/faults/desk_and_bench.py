"""A person whose screen sends numbered operations again until each is acknowledged."""

from __future__ import annotations

import json
import os
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from typing import Any

from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore

from shop.core.ids import new_id
from shop.core.models import Person
from shop.jobs.models import Worksheet
from shop.repairs.models import Repair
from shop.stock.models import StockLevel
from tests.factories.booking import booking_json
from tests.factories.jobs import Phone

CSRF = "b" * 32
AGAIN_SECONDS = 0.05


@dataclass(frozen=True)
class Operation:
    """One request. `ids` are what must be found exactly once when it was acknowledged."""

    number: int
    kind: str  # sync, move, book_in
    path: str
    body: dict[str, Any]
    ids: tuple[str, ...]


@dataclass
class Shop:
    """What the operations are about."""

    person: Person
    worksheets: list[Worksheet]
    level: StockLevel  # plenty of it
    scarce: StockLevel  # the first piece taken brings it to its reorder level

    @property
    def repair(self) -> Repair:
        return self.worksheets[0].repair


def operations(shop: Shop) -> Iterator[Operation]:
    """Without end: mostly batches of entries and moves, now and then a new repair."""
    phones = [Phone(shop.person, worksheet) for worksheet in shop.worksheets]
    log = Phone(shop.person, repair=shop.repair)
    number = 0
    while True:
        number += 1
        if number % 12 == 1:
            yield _book_in(number)
        elif number % 3 == 0:
            yield _move(number, shop)
        else:
            yield _sync(number, phones[number % len(phones)], log, shop)


def _book_in(number: int) -> Operation:
    unit = {"make": "Testmake", "model": "Glimmer", "serial": f"K-{number}"}
    body = booking_json(unit=unit, customer={"name": f"Kunde {number}", "phone": "", "email":
                                             f"k{number}@mail.example"})  # fmt: skip
    return Operation(number, "book_in", "/api/v1/repairs/", body, (body["id"],))


def _move(number: int, shop: Shop) -> Operation:
    level = shop.scarce if number == 3 else shop.level
    body = {
        "id": str(new_id()), "part": level.part.code, "from": level.bin_id,
        "to": str(shop.repair.id), "quantity": 1, "reason": "",
    }  # fmt: skip
    return Operation(number, "move", "/api/v1/moves/", body, (body["id"],))


def _sync(number: int, phone: Phone, log: Phone, shop: Shop) -> Operation:
    sent = [phone.read(f"r{n}", f"5.0{1 + number % 9}") for n in range(4)]
    part = {"part": shop.level.part.code, "quantity": 1, "bin": shop.level.bin_id}
    sent += [log.entry("note", text=f"operation {number}"), log.entry("part", **part)]
    body = {"format": 1, "device_id": None, "known": {}, "operations": sent}
    return Operation(number, "sync", "/api/v1/sync/", body, tuple(one["id"] for one in sent))


class Refused(AssertionError):
    """The server said no, or failed: neither may happen to these operations."""


@dataclass
class Sender(threading.Thread):
    """Sends one operation after the other; each until it is acknowledged, then writes it down."""

    shop: Shop
    port: int
    log: Path
    enough: threading.Event = field(default_factory=threading.Event)
    acknowledged: list[Operation] = field(default_factory=list)
    resent: int = 0
    busy: int = 0
    failure: BaseException | None = None

    def __post_init__(self) -> None:
        super().__init__(daemon=True)
        self.cookie = f"sessionid={session_of(self.shop.person)}; csrftoken={CSRF}"

    __hash__ = threading.Thread.__hash__

    def run(self) -> None:
        try:
            with self.log.open("a") as log:
                for operation in operations(self.shop):
                    self._until_acknowledged(operation)
                    log.write(json.dumps([operation.number, operation.ids]) + "\n")
                    log.flush()
                    os.fsync(log.fileno())
                    self.acknowledged.append(operation)
                    if self.enough.is_set():
                        return
        except BaseException as error:  # told by the test, which is another thread
            self.failure = error

    def _until_acknowledged(self, operation: Operation) -> None:
        while not self._sent(operation):
            self.resent += 1
            time.sleep(AGAIN_SECONDS)

    def _sent(self, operation: Operation) -> bool:
        """Whether it was acknowledged. No answer and "busy" mean: again."""
        line = HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            line.request("POST", operation.path, json.dumps(operation.body), self._headers())
            answer = line.getresponse()
            content = answer.read()
        except (OSError, HTTPException):
            return False
        finally:
            line.close()
        if answer.status == 503:
            self.busy += 1
            return False
        require_taken(operation, answer.status, content)
        return True

    def _headers(self) -> dict[str, str]:
        return {
            "Content-Type": "application/json", "Host": "localhost", "Cookie": self.cookie,
            "X-CSRFToken": CSRF,
        }  # fmt: skip


def require_taken(operation: Operation, status: int, content: bytes) -> None:
    if status not in {200, 201}:
        raise Refused(operation, status, content[:500])
    if operation.kind == "sync":
        results = json.loads(content)["results"]
        strange = [r for r in results if r["outcome"] not in {"applied", "repeated"}]
        if strange or [r["id"] for r in results] != list(operation.ids):
            raise Refused(operation, results)


def session_of(person: Person) -> str:
    session = SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.create()
    key = session.session_key
    assert key
    return key
