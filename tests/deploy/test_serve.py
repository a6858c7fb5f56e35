"""The real thing on a free port: it opens, heals and ends, and leaves no process behind."""

import json
import os
import signal
import subprocess
import time
import urllib.request
from pathlib import Path

import pytest

from deploy.launch.places import ROOT, VENV_PYTHON
from deploy.proving.servers import free_port

OUTSIDE = {"DATABASE_URL", "REDIS_URL", "SECRET_KEY", "DATA_DIR", "PUBLIC_URL", "ALLOWED_HOSTS"}


class Shop:
    def __init__(self, data_dir):
        self.port, self.data_dir = free_port(), data_dir
        self.said = data_dir.parent / "said"
        env = {name: value for name, value in os.environ.items() if name not in OUTSIDE}
        words = ["--no-demo", "--port", str(self.port), "--data", str(data_dir)]
        with self.said.open("wb") as out:
            self.process = subprocess.Popen(
                [VENV_PYTHON, "-P", "-m", "deploy.launch.serve", *words],
                cwd=ROOT,
                env={**env, "PYTHONPATH": str(ROOT)},
                stdout=out,
                stderr=subprocess.STDOUT,
            )

    def until_said(self, words, seconds=60.0):
        deadline = time.monotonic() + seconds
        while words not in self.said.read_text():
            assert time.monotonic() < deadline, self.said.read_text()
            assert self.process.poll() is None, self.said.read_text()
            time.sleep(0.1)

    def children(self):
        """Process ids by the part of the shop they run."""
        path = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children")
        found = {}
        for pid in path.read_text().split():
            command = Path(f"/proc/{pid}/cmdline").read_text()
            for part in ("granian", "worker", "beat"):
                if part in command.split("\0"):
                    found[part] = int(pid)
        return found

    def health(self):
        url = f"http://127.0.0.1:{self.port}/healthz"
        with urllib.request.urlopen(url, timeout=5) as answer:
            return json.load(answer)


def left_running(data_dir):
    """Processes of this shop, by the folder in their environment."""
    ours = f"DATA_DIR={data_dir}".encode()
    found = []
    for environ in Path("/proc").glob("[0-9]*/environ"):
        try:
            if ours in environ.read_bytes().split(b"\0"):
                found.append(environ.parent.name)
        except OSError:  # ended meanwhile, or not ours to look at
            continue
    return found


@pytest.fixture
def shop(tmp_path):
    (tmp_path / "data").mkdir()
    running = Shop(tmp_path / "data")
    yield running
    running.process.terminate()
    running.process.wait(20)


def test_a_shop_opens_heals_a_killed_worker_and_ends_within_seconds(shop):
    shop.until_said(f"The shop is open:  http://localhost:{shop.port}/app/")
    assert shop.health()["ok"]
    assert set(shop.children()) == {"granian", "worker", "beat"}

    killed = shop.children()["worker"]
    os.kill(killed, signal.SIGKILL)
    shop.until_said("worker ended (exit code -9); starting it again", 10)
    deadline = time.monotonic() + 10
    while shop.children().get("worker", killed) == killed:
        assert time.monotonic() < deadline
        time.sleep(0.1)

    asked_at = time.monotonic()
    shop.process.send_signal(signal.SIGTERM)
    assert shop.process.wait(20) == 0
    assert time.monotonic() - asked_at < 12
    assert shop.said.read_text().endswith("Stopped.\n")
    assert left_running(shop.data_dir) == []


def test_a_shop_without_the_demo_never_gets_it_later(shop):
    shop.until_said("No demo here")

    assert (shop.data_dir / "kind-of-shop").read_text() == "own\n"
    assert not (shop.data_dir / "demo-logins").exists()
    assert (shop.data_dir / "secret-key").stat().st_mode & 0o777 == 0o600
