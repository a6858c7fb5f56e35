"""A real web server on a database that others write too, killed and started again."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from contextlib import closing, suppress
from http.client import HTTPConnection, HTTPException
from pathlib import Path

from deploy.proving.servers import free_port
from tests.services import ROOT, tree_of, wait_until


class Web:
    """Granian with one worker and two threads, as the start command runs it, on one port."""

    def __init__(self, environment: dict[str, str], folder: Path) -> None:
        self.environment, self.folder, self.port = environment, folder, free_port()
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        words = ["--interface", "wsgi", "--port", str(self.port), "--workers", "1"]
        words += ["--blocking-threads", "2", "--no-ws", "--log-level", "warning"]
        with (self.folder / "web.log").open("ab") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "granian", *words, "shop.wsgi:application"],
                cwd=ROOT, env=self.environment, stdout=log, stderr=log, start_new_session=True,
            )  # fmt: skip
        wait_until(self.answers, seconds=60)

    def answers(self) -> bool:
        with closing(HTTPConnection("127.0.0.1", self.port, timeout=5)) as line:
            try:
                line.request("GET", "/healthz", headers={"Host": "localhost"})
                return line.getresponse().status == 200
            except (OSError, HTTPException):
                return False

    def kill(self) -> None:
        """End the whole tree at once, as a power cut would. Only what was started here."""
        if self.process is None:
            return
        for pid in tree_of(self.process.pid):
            with suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        self.process.wait(30)
        self.process = None

    def log(self) -> str:
        file = self.folder / "web.log"
        return file.read_text() if file.exists() else ""
