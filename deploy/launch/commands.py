"""Running another program quietly: its output is shown only when it fails."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

from deploy.launch.problems import CannotStart

TAIL_LINES = 25


def run_quietly(
    doing: str, command: Sequence[str | Path], *, cwd: Path, env: Mapping[str, str] | None = None
) -> str:
    """Say what is being done, do it, say how long it took; answers with what was printed.

    Raises CannotStart with the name of what failed; the end of its output goes to the error output.
    """
    print(f"  {doing} ...", end="", flush=True)
    begun = time.monotonic()
    done = subprocess.run(
        [str(word) for word in command],
        cwd=cwd,
        env=None if env is None else dict(env),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        stdin=subprocess.DEVNULL,
        text=True,
        errors="replace",
        check=False,
    )
    print(f" {time.monotonic() - begun:.1f} s" if done.returncode == 0 else " failed", flush=True)
    if done.returncode != 0:
        print("\n".join(done.stdout.splitlines()[-TAIL_LINES:]), file=sys.stderr)
        raise CannotStart(f"{doing} failed (exit code {done.returncode}); its output is above.")
    return done.stdout
