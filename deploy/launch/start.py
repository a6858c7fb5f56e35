"""The first half of a start: what can be done before the project's environment exists."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from deploy.launch import checks
from deploy.launch.built_app import app_current, ensure_app_built
from deploy.launch.environment import ensure_environment, environment_current
from deploy.launch.options import Options, read_options
from deploy.launch.places import ROOT
from deploy.launch.problems import CannotStart, tell

# Measured: environment 0.4 GB, Node's wheel 0.2 GB, the app's packages 0.35 GB; room for photos.
ROOM_FIRST_START = 1_500_000_000
ROOM_LATER_START = 200_000_000


def main(words: list[str]) -> int:
    """Check, set up, then become the second half. Answers with an exit code if it could not."""
    options = read_options(words)
    try:
        check_machine(options)
        python = set_up()
    except CannotStart as problem:
        return tell(problem)
    except KeyboardInterrupt:
        return tell(CannotStart("stopped by hand."))
    become_second_half(python, words)
    return 1


def check_machine(options: Options) -> None:
    """All checks at once, so that one look shows all there is to mend. Raises CannotStart."""
    ready = environment_current(with_tests=False) and app_current()
    found = [
        checks.python_new_enough(sys.version_info[:2]),
        checks.sqlite_new_enough(),
        None if ready else checks.venv_can_be_made(),
        checks.libraries_present(),
        checks.port_free(options.listen_on, options.port),
        checks.folder_writable(options.data_dir) or checks.folder_private(options.data_dir),
        None if ready else checks.folder_writable(ROOT),
        checks.room_on_disk(ROOT, ROOM_LATER_START if ready else ROOM_FIRST_START),
    ]
    if options.lan:
        found.append(checks.port_free(options.listen_on, options.trust_port))
    problems = [line for line in found if line]
    if problems:
        raise CannotStart(*problems)


def set_up() -> Path:
    """The environment and the built app; says so only when there is something to do."""
    if not (environment_current(with_tests=False) and app_current()):
        print("Setting up (a few minutes the first time):", flush=True)
    python = ensure_environment()
    ensure_app_built(python)
    return python


def become_second_half(python: Path, words: list[str]) -> None:
    """From here on the project's own Python runs, with its packages."""
    sys.stdout.flush()
    os.environ["PYTHONPATH"] = str(ROOT)
    os.execv(python, [str(python), "-P", "-m", "deploy.launch.serve", *words])  # noqa: S606 - no shell
