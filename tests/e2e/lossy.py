"""A bad link between a phone and the shop: a small proxy on loopback that drops requests.

It can also bring a later release of the app, as after an update of the shop's server.
A request is lost in one of three ways: before the shop hears of it, after the shop has answered
(only the answer is lost), or in the middle of its body. Nothing is repeated here.
"""

from __future__ import annotations

import http.client
import socket
import struct
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from itertools import cycle
from mimetypes import guess_type
from pathlib import Path
from threading import Lock, Thread
from typing import Any

PATIENCE_SECONDS = 30.0
MOST_BYTES = 20_000_000
# Each connection carries one request: the browser itself repeats what it lost on a used one.
OF_ONE_CONNECTION = frozenset({"connection", "keep-alive", "transfer-encoding", "content-length"})


@dataclass
class Link:
    """What is lost and what is not.

    `down`: nothing gets through. `every`: each so-manieth request is lost; 0 loses none. `lost`
    counts by way and kind.
    `shut`: kinds of requests that do not get through at all. `release`: a folder with the files of
    the app that are handed out from now on, and no others.
    """

    port: int
    shop_port: int
    down: bool = False
    every: int = 0
    shut: set[str] = field(default_factory=set)
    release: Path | None = None
    passed: Counter[str] = field(default_factory=Counter)
    lost: Counter[str] = field(default_factory=Counter)
    _asked: int = 0
    _lock: Lock = field(default_factory=Lock)
    _ways: dict[str, Iterator[str]] = field(
        default_factory=lambda: {
            "photo": cycle(("midway", "after", "before")),
            "other": cycle(("after", "before")),
        }
    )

    @property
    def url(self) -> str:
        return f"http://localhost:{self.port}"

    def way_of(self, kind: str) -> str | None:
        """How the request that just came is lost; None: it is not."""
        with self._lock:
            self._asked += 1
            if not self.every or self._asked % self.every:
                return None
            way = next(self._ways["photo" if kind == "photo" else "other"])
            self.lost[f"{kind} {way}"] += 1
            return way

    def note_passed(self, kind: str) -> None:
        with self._lock:
            self.passed[kind] += 1


SHELL = {"/app/sw.js": "sw.js", "/app/": "index.html"}


def file_of(release: Path, path: str) -> Path | None:
    """The file of a release under an address; None: the address is not the app's."""
    path = path.partition("?")[0]
    if path.startswith("/static/app/"):
        return release / path.removeprefix("/static/app/")
    name = next((SHELL[begin] for begin in SHELL if path.startswith(begin)), None)
    return release / name if name else None


def kind_of(method: str, path: str) -> str:
    if "/photos/" in path and method in ("PUT", "POST", "PATCH"):
        return "photo"
    return "sync" if "/sync/" in path else "other"


@contextmanager
def lossy_link(shop_port: int) -> Iterator[Link]:
    """A link that is whole until its `every` is set; its listener ends with the block."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), _Carrier)
    server.daemon_threads = True
    link = Link(server.server_address[1], shop_port)
    server.link = link  # type: ignore[attr-defined]  # what its carriers share
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield link
    finally:
        server.shutdown()
        server.server_close()


class _Carrier(BaseHTTPRequestHandler):
    """Carries one request to the shop and its answer back, or loses it."""

    timeout = PATIENCE_SECONDS
    server: Any

    def carry(self) -> None:
        link: Link = self.server.link
        kind = kind_of(self.command, self.path)
        if link.down or kind in link.shut:
            self.cut()
            return
        file = file_of(link.release, self.path) if link.release else None
        if file is not None:
            self.hand_out(file)
            return
        way = link.way_of(kind)
        if way == "before":
            self.cut()
            return
        length = min(int(self.headers.get("Content-Length") or 0), MOST_BYTES)
        body = self.rfile.read(length // 2 if way == "midway" else length)
        answer = self.ask_shop(link.shop_port, body, length)
        if answer is None or way is not None:
            self.cut()
            return
        link.note_passed(kind)
        self.hand_back(*answer)

    do_GET = do_HEAD = do_POST = do_PUT = do_PATCH = do_DELETE = carry  # noqa: N815  # the library's names

    def ask_shop(
        self, port: int, body: bytes, length: int
    ) -> tuple[http.client.HTTPResponse, bytes] | None:
        """None when the shop did not answer, or was not told everything."""
        shop = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE_SECONDS)
        try:
            shop.putrequest(self.command, self.path, skip_host=True, skip_accept_encoding=True)
            for name, value in self.headers.items():
                if name.lower() not in OF_ONE_CONNECTION:
                    shop.putheader(name, value)
            shop.putheader("Connection", "close")
            if length:
                shop.putheader("Content-Length", str(length))
            shop.endheaders(body)
            if len(body) < length:
                return None
            answer = shop.getresponse()
            return answer, answer.read()
        except (OSError, http.client.HTTPException):
            return None
        finally:
            shop.close()

    def hand_back(self, answer: http.client.HTTPResponse, body: bytes) -> None:
        self.send_response_only(answer.status, answer.reason)
        for name, value in answer.getheaders():
            if name.lower() not in OF_ONE_CONNECTION:
                self.send_header(name, value)
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Connection", "close")
        self.end_headers()
        if self.command != "HEAD":
            with suppress(OSError):  # the phone was killed meanwhile
                self.wfile.write(body)

    def hand_out(self, file: Path) -> None:
        """A file of the release; of an earlier one's there are none any more."""
        found = file.is_file()
        body = file.read_bytes() if found else b""
        self.send_response_only(200 if found else 404)
        self.send_header("Content-Type", guess_type(file.name)[0] or "application/octet-stream")
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", "no-cache")
        self.send_header("Connection", "close")
        self.end_headers()
        self.wfile.write(body)

    def cut(self) -> None:
        """The connection breaks at once, as when a phone leaves the Wi-Fi."""
        with suppress(OSError):
            linger = struct.pack("ii", 1, 0)
            self.connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, linger)
            self.connection.close()
        self.close_connection = True

    def log_message(self, *args: Any) -> None:
        """Nothing: a test looks at the counts."""
