"""Keeps the shop's processes running and ends them together."""

from __future__ import annotations

import contextlib
import ctypes
import os
import signal
import subprocess
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

PR_SET_PDEATHSIG = 1  # linux/prctl.h
LONGEST_WAIT_SECONDS = 30.0
SETTLED_AFTER_SECONDS = 60.0
STOP_SECONDS = 8.0
LOG_LIMIT_BYTES = 10_000_000
_libc = ctypes.CDLL(None)


def wait_before_restart(failures: int) -> float:
    """Seconds to wait before the next try: 1, 2, 4 ... up to half a minute."""
    return min(2.0 ** max(failures - 1, 0), LONGEST_WAIT_SECONDS)


@dataclass
class Child:
    """One process of the shop, with its own group and its own log."""

    name: str
    command: Sequence[str]
    log: Path
    process: subprocess.Popen[bytes] | None = None
    failures: int = 0
    started_at: float = 0.0
    restart_at: float = field(default=0.0)


class Supervisor:
    """Starts children, restarts the dead with growing waits, stops all on a signal."""

    def __init__(self, children: Sequence[Child], *, cwd: Path, env: Mapping[str, str]) -> None:
        self.children = children
        self._cwd, self._env = cwd, dict(env)
        self.stopping = threading.Event()

    def listen_for_signals(self) -> None:
        for number in (signal.SIGTERM, signal.SIGINT, signal.SIGHUP):
            signal.signal(number, lambda *_: self.stopping.set())

    def run(self, each_turn: Callable[[], None] = lambda: None) -> None:
        """Work until a signal comes, then end every child within seconds."""
        try:
            while not self.stopping.is_set():
                for child in self.children:
                    self._tend(child)
                each_turn()
                self.stopping.wait(0.2)
        finally:
            self._stop_all()

    def replace(self, child: Child, command: Sequence[str]) -> None:
        """Ask a child to end; its successor runs the new command."""
        child.command = command
        if child.process is not None:
            child.process.terminate()

    def _tend(self, child: Child) -> None:
        now = time.monotonic()
        if child.process is not None and child.process.poll() is not None:
            self._bury(child, now)
        if child.process is None and now >= child.restart_at:
            self._start(child, now)

    def _bury(self, child: Child, now: float) -> None:
        """What a dead leader left running would stand beside its successor, so it ends first."""
        assert child.process is not None  # noqa: S101 - for the type checker; _tend has looked
        end_group(child.process.pid, signal.SIGKILL)
        settled = now - child.started_at > SETTLED_AFTER_SECONDS
        child.failures = 1 if settled else child.failures + 1
        child.restart_at = now + wait_before_restart(child.failures)
        print(f"{child.name} ended (exit code {child.process.returncode}); "
              f"starting it again. Its log: {child.log}", flush=True)  # fmt: skip
        child.process = None

    def _start(self, child: Child, now: float) -> None:
        rotate(child.log)
        with child.log.open("ab") as log:
            child.process = subprocess.Popen(
                child.command,
                cwd=self._cwd,
                env=self._env,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=subprocess.STDOUT,
                start_new_session=True,
                preexec_fn=_end_with(os.getpid()),  # safe: this process has no threads
            )
        child.started_at = now

    def _stop_all(self) -> None:
        running = [child.process for child in self.children if child.process is not None]
        for process in running:
            if process.poll() is None:
                process.terminate()
        deadline = time.monotonic() + STOP_SECONDS
        for process in running:
            with contextlib.suppress(subprocess.TimeoutExpired):
                process.wait(max(0.0, deadline - time.monotonic()))
            end_group(process.pid, signal.SIGKILL)
            process.wait()


def end_group(leader: int, number: signal.Signals) -> None:
    """Signal a group that we started; one already gone is fine."""
    with contextlib.suppress(ProcessLookupError):
        os.killpg(leader, number)


def rotate(log: Path) -> None:
    """Keep one older log, so that a shop left alone for years does not fill its disk."""
    log.parent.mkdir(parents=True, exist_ok=True)
    if log.exists() and log.stat().st_size > LOG_LIMIT_BYTES:
        log.replace(log.with_suffix(".log.1"))


def _end_with(parent: int) -> Callable[[], None]:
    def ask_the_kernel() -> None:
        _libc.prctl(PR_SET_PDEATHSIG, signal.SIGTERM)
        if os.getppid() != parent:  # it died between fork and here
            os._exit(1)

    return ask_the_kernel
