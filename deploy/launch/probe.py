"""Does the shop answer yet?"""

from __future__ import annotations

import http.client
import socket
import ssl

from deploy.launch.options import Options
from deploy.launch.tls import Tls

PATH = "/healthz"


def answers(options: Options, tls: Tls | None) -> bool:
    """One try at its health page, over the same TLS that phones will use."""
    try:
        return _status(options, tls) == 200
    except (OSError, http.client.HTTPException):
        return False


def _status(options: Options, tls: Tls | None) -> int:
    if tls is None:
        plain = http.client.HTTPConnection("127.0.0.1", options.port, timeout=5)
        return _ask(plain, f"localhost:{options.port}")
    return _ask(_OwnAddress(tls, options.port), f"{tls.host}:{options.port}")


def _ask(connection: http.client.HTTPConnection, host: str) -> int:
    try:
        connection.request("GET", PATH, headers={"Host": host})
        return connection.getresponse().status
    finally:
        connection.close()


class _OwnAddress(http.client.HTTPConnection):
    """Goes to this machine whatever the name resolves to; the name is still what TLS checks."""

    def __init__(self, tls: Tls, port: int) -> None:
        super().__init__(tls.host, port, timeout=5)
        self._trust = ssl.create_default_context(cafile=str(tls.authority))

    def connect(self) -> None:
        plain = socket.create_connection(("127.0.0.1", self.port), self.timeout)
        self.sock = self._trust.wrap_socket(plain, server_hostname=self.host)
