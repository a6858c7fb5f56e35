"""`deploy/test.py`: prepare, run the stages, sum up."""

from __future__ import annotations

import argparse
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, ExitStack, contextmanager
from pathlib import Path

from deploy.launch import checks
from deploy.launch.built_app import ensure_app_built, ensure_node_packages
from deploy.launch.environment import ensure_environment
from deploy.launch.node import ensure_node
from deploy.launch.places import ROOT, SCRATCH, VENV_PYTHON
from deploy.launch.problems import CannotStart, tell
from deploy.launch.supervisor import end_group
from deploy.proving.results import Result, counts_of, judged, summary
from deploy.proving.servers import NoServer, private_postgresql, private_redis
from deploy.proving.stages import GROUPS, NAMES, Stage, Tools, all_stages

LOGS = SCRATCH / "test-logs"
STAGE_SECONDS = 1800
TAIL_LINES = 80
CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome")
ROOM = 2_500_000_000


def main(words: list[str]) -> int:
    asked = _parser().parse_args(words)
    if asked.list:
        print("\n".join([*NAMES, *(f"{name} = {', '.join(GROUPS[name])}" for name in GROUPS)]))
        return 0
    wanted = [name for word in asked.only or NAMES for name in GROUPS.get(word, (word,))]
    try:
        check_machine()
        ensure_environment(with_tests=True)
        with prepared(wanted) as tools:
            results = [
                judged(run(stage), skips_allowed=not asked.no_skips)
                for stage in all_stages(tools)
                if stage.name in wanted
            ]
    except CannotStart as problem:
        return tell(problem)
    except KeyboardInterrupt:
        return tell(CannotStart("stopped by hand."))
    print(summary(results))
    return 1 if any(result.outcome == "failed" for result in results) else 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python3 deploy/test.py", allow_abbrev=False)
    parser.add_argument("--no-skips", action="store_true", help="what is skipped has failed")
    parser.add_argument("--only", action="append", choices=(*NAMES, *GROUPS), metavar="STAGE")
    parser.add_argument("--list", action="store_true", help="name the stages and end")
    return parser


def check_machine() -> None:
    """Raises CannotStart with all that has to be mended first."""
    found = [
        checks.sqlite_new_enough(),
        checks.venv_can_be_made(),
        checks.libraries_present(),
        checks.folder_writable(ROOT),
        checks.room_on_disk(ROOT, ROOM),
    ]
    problems = [line for line in found if line]
    if problems:
        raise CannotStart(*problems)


@contextmanager
def prepared(wanted: Sequence[str]) -> Iterator[Tools]:
    """Node, servers and a browser for the stages that are wanted; servers end with the run."""
    node = ensure_node(VENV_PYTHON)
    # The tests of the scanner decode pictures with the app's own module.
    if any(name.startswith(("frontend", "browser", "pytest")) for name in wanted):
        ensure_node_packages(node)
    if "browser" in wanted:
        ensure_app_built(VENV_PYTHON)
    LOGS.mkdir(parents=True, exist_ok=True)
    missing: dict[str, str] = {}
    with ExitStack() as stack:
        on_servers = {"pytest-postgresql", "pytest-sqlite", "browser", "lighthouse"} & set(wanted)
        postgresql = redis = None
        if on_servers:
            postgresql = _server(stack, "postgresql", private_postgresql, missing)
            redis = _server(stack, "redis", private_redis, missing)
        chromium = next(filter(None, map(shutil.which, CHROMIUM_NAMES)), None)
        if chromium is None:
            missing["chromium"] = "no Chromium; run: apt-get install -y chromium"
        yield Tools(node, LOGS, postgresql, redis, chromium, missing)


def _server(
    stack: ExitStack,
    name: str,
    begin: Callable[[], AbstractContextManager[str]],
    missing: dict[str, str],
) -> str | None:
    try:
        return stack.enter_context(begin())
    except NoServer as reason:
        missing[name] = str(reason)
        return None


def run(stage: Stage) -> Result:
    """Run one stage into its own log; a failed one shows the end of it."""
    if stage.skip:
        print(f"{stage.name}: skipped: {stage.skip}", flush=True)
        return Result(stage.name, "skipped", note=stage.skip)
    print(f"{stage.name} ...", flush=True)
    if stage.report:
        stage.report.unlink(missing_ok=True)
    begun, log = time.monotonic(), LOGS / f"{stage.name}.log"
    with tempfile.TemporaryDirectory(prefix="lampledger-test-") as folder:
        code = _run_into(log, stage, _environment(stage, Path(folder)))
    result = _result(stage, code, time.monotonic() - begun, log)
    print(f"{stage.name}: {result.outcome} in {result.seconds:.1f} s  {result.note}", flush=True)
    return result


def _environment(stage: Stage, folder: Path) -> dict[str, str]:
    """Nothing of a shop that runs on this machine is seen or touched by a test."""
    inherited = {
        name: value
        for name, value in os.environ.items()
        if name not in {"DATABASE_URL", "REDIS_URL", "PUBLIC_URL", "SECURE", "EMAIL_URL"}
    }
    own = {
        "DATA_DIR": str(folder),
        "SECRET_KEY": "for-tests-only-" + "0" * 40,
        "TEST_SQLITE_FILE": str(folder / "test.sqlite3"),
        "HYPOTHESIS_PROFILE": os.environ.get("HYPOTHESIS_PROFILE", "ci"),
        "PYTHONPATH": str(ROOT),
    }
    return {**inherited, **own, **stage.env}


def _run_into(log: Path, stage: Stage, env: dict[str, str]) -> int:
    with log.open("wb") as out:
        process = subprocess.Popen(
            stage.command, cwd=stage.cwd, env=env, stdin=subprocess.DEVNULL, stdout=out,
            stderr=subprocess.STDOUT, start_new_session=True,
        )  # fmt: skip
        try:
            return process.wait(STAGE_SECONDS)
        except subprocess.TimeoutExpired:
            out.write(f"\nended: took longer than {STAGE_SECONDS} s\n".encode())
            return 124
        finally:
            _end_group(process)


def _end_group(process: subprocess.Popen[bytes]) -> None:
    """Whatever a stage left running goes with it."""
    end_group(process.pid, signal.SIGKILL)
    process.wait()


def _result(stage: Stage, code: int, seconds: float, log: Path) -> Result:
    counts = counts_of(stage.report) if stage.report and stage.report.exists() else None
    note = counts.words() if counts else ""
    if code == 0:
        return Result(stage.name, "passed", seconds, note, counts)
    lines = log.read_text(errors="replace").splitlines()
    print("\n".join(f"    {line}" for line in lines[-TAIL_LINES:]), file=sys.stderr, flush=True)
    where = f"exit code {code}, see {log.relative_to(ROOT)}"
    return Result(stage.name, "failed", seconds, f"{note}; {where}" if note else where, counts)
