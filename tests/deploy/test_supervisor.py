"""Children are started again when they die, and none is left when the supervisor ends."""

import os
import signal
import subprocess
import sys

import pytest

from deploy.launch import supervisor as module
from deploy.launch.places import ROOT
from deploy.launch.supervisor import Child, Supervisor, rotate, wait_before_restart
from tests.deploy.processes import is_running, until

SLEEPER = [sys.executable, "-c", "import time; time.sleep(60)"]


def test_waits_grow_but_not_beyond_half_a_minute():
    assert [wait_before_restart(failures) for failures in (1, 2, 3, 6, 50)] == [1, 2, 4, 30, 30]


def test_a_child_killed_is_started_again_and_all_end_with_the_supervisor(tmp_path, capsys):
    child = Child("sleeper", SLEEPER, tmp_path / "logs" / "sleeper.log")
    shop = Supervisor([child], cwd=tmp_path, env=os.environ)
    seen = []

    def look():
        if child.process and child.process.pid not in seen:
            seen.append(child.process.pid)
            os.kill(child.process.pid, signal.SIGKILL) if len(seen) == 1 else shop.stopping.set()

    shop.run(look)

    assert len(seen) == 2
    assert not any(is_running(pid) for pid in seen)
    assert "sleeper ended (exit code -9); starting it again" in capsys.readouterr().out


def test_what_a_dead_leader_left_behind_ends_before_its_successor_starts(tmp_path):
    note = tmp_path / "grandchild"
    leader = (
        "import subprocess, sys, pathlib;"
        "p = subprocess.Popen([sys.executable, '-c', 'import time; time.sleep(60)']);"
        f"pathlib.Path({str(note)!r}).write_text(str(p.pid))"
    )
    child = Child("leader", [sys.executable, "-c", leader], tmp_path / "leader.log")
    shop = Supervisor([child], cwd=tmp_path, env=os.environ)

    shop.run(lambda: shop.stopping.set() if child.failures else None)

    until(lambda: not is_running(int(note.read_text())))


def test_a_child_that_ignores_the_request_is_killed_in_time(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "STOP_SECONDS", 0.5)
    ready = tmp_path / "ready"
    deaf = (
        "import signal, time, pathlib; signal.signal(signal.SIGTERM, signal.SIG_IGN);"
        f"pathlib.Path({str(ready)!r}).touch(); time.sleep(60)"
    )
    child = Child("deaf", [sys.executable, "-c", deaf], tmp_path / "deaf.log")
    shop = Supervisor([child], cwd=tmp_path, env=os.environ)

    shop.run(lambda: shop.stopping.set() if ready.exists() else None)

    assert child.process.returncode == -signal.SIGKILL


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGTERM])
def test_children_end_with_their_supervisor_however_it_ends(tmp_path, number):
    note = tmp_path / "pid"
    program = (
        "import os, sys, pathlib\n"
        "from deploy.launch.supervisor import Child, Supervisor\n"
        f"child = Child('sleeper', {SLEEPER!r}, pathlib.Path({str(tmp_path / 'log')!r}))\n"
        f"shop = Supervisor([child], cwd=pathlib.Path({str(tmp_path)!r}), env=os.environ)\n"
        "shop.listen_for_signals()\n"
        f"note = pathlib.Path({str(note)!r})\n"
        "shop.run(lambda: child.process and note.write_text(str(child.process.pid)))\n"
    )
    running = subprocess.Popen([sys.executable, "-c", program], cwd=ROOT)
    until(lambda: note.exists() and note.read_text())
    pid = int(note.read_text())
    assert is_running(pid)

    running.send_signal(number)
    running.wait(10)

    until(lambda: not is_running(pid))


def test_a_log_that_grew_too_large_is_put_aside_once(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "LOG_LIMIT_BYTES", 3)
    log = tmp_path / "web.log"
    log.write_text("many words")

    rotate(log)
    rotate(log)

    assert (tmp_path / "web.log.1").read_text() == "many words"
    assert not log.exists()
