"""The shop's own data, made ready: tables, static files, and the demo at the first start."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from deploy.backup import BROUGHT_BACK
from deploy.launch import stamps
from deploy.launch.commands import run_quietly
from deploy.launch.places import BUILT_APP, ROOT, VENV, VENV_PYTHON
from deploy.launch.problems import CannotStart

KIND, LOGINS = "kind-of-shop", "demo-logins"
MADE = VENV / "made"  # what the environment was made from
NOTHING: frozenset[str] = frozenset()


def decide_kind(data_dir: Path, *, demo_wanted: bool) -> str:
    """`demo` or `own`, decided once and kept: no demo is ever loaded into real books.

    Raises CannotStart if a shop without the demo is wanted where the demo lies.
    """
    kept = data_dir / KIND
    if not kept.exists():
        kept.write_text("demo\n" if demo_wanted else "own\n")
    kind = kept.read_text().strip()
    if kind == "demo" and not demo_wanted:
        raise CannotStart(f"{data_dir} holds the demo shop; for one without it choose an empty "
                          "folder with --data.")  # fmt: skip
    return kind


def make_ready(data_dir: Path, env: Mapping[str, str], *, is_demo: bool) -> None:
    """Migrate, collect static files and load the demo once. Raises CannotStart if one fails."""
    _make_queue_folders(data_dir)
    _shop("bringing the tables up to date", ["migrate", "--no-input", "--verbosity=0"], env)
    check_records(data_dir, env)
    _collect_static(data_dir, env)
    if is_demo and not (data_dir / LOGINS).exists():
        printed = _shop("loading the demo shop", ["load_demo"], env)
        _keep_private(data_dir / LOGINS, "".join(f"{line}\n" for line in login_lines(printed)))
    _take_in_templates(env)


def _take_in_templates(env: Mapping[str, str]) -> None:
    """Job templates that come along are published, or offered where the shop wrote its own.

    One that does not fit the shop's own is said at every start; the shop works on.
    """
    try:
        _shop("taking in the job templates that come along", ["import_template"], env)
    except CannotStart as why:
        print(f"  {why}\n  The shop starts all the same.")


def check_records(data_dir: Path, env: Mapping[str, str]) -> None:
    """After a backup was brought back: is every record as it was written?

    One that is not is said at every start until somebody has seen to it; the shop works on.
    """
    mark = data_dir / BROUGHT_BACK
    if not mark.exists():
        return
    try:
        _shop("checking every record that was brought back", ["verify_chains"], env)
    except CannotStart:
        print("  Not every record is as it was written, see above and `Bring back` in "
              "docs/runbook.md. The shop starts all the same.")  # fmt: skip
        return
    mark.unlink()


def _collect_static(data_dir: Path, env: Mapping[str, str]) -> None:
    """Compressing takes seconds, so it is left out while nothing that goes in has changed."""
    stamp, digest = data_dir / "static" / ".made-from", _static_sources()
    if stamps.is_current(stamp, digest):
        return
    _shop("collecting static files", ["collectstatic", "--no-input", "--verbosity=0"], env)
    stamps.write(stamp, digest)


def _static_sources() -> str:
    """The packages, the built app and our own static folders."""
    made = [MADE.read_text() if MADE.exists() else "", stamps.digest_of_tree(BUILT_APP, NOTHING)]
    own = sorted(folder for part in ("shop", "api") for folder in (ROOT / part).rglob("static"))
    return stamps.digest_of_texts(
        [*made, *(stamps.digest_of_tree(folder, NOTHING) for folder in own)]
    )


def _make_queue_folders(data_dir: Path) -> None:
    """The broker in a folder does not make its own. Private: who may write there may queue work."""
    for name in ("messages", "control"):
        (data_dir / "queue" / name).mkdir(mode=0o700, parents=True, exist_ok=True)


def login_lines(printed: str) -> list[str]:
    """`<user> <password> <role>` from each line `login: ...` that load_demo prints."""
    return [
        line.removeprefix("login:").strip()
        for line in printed.splitlines()
        if line.startswith("login:")
    ]


def demo_logins(data_dir: Path) -> list[str]:
    return (data_dir / LOGINS).read_text().splitlines() if (data_dir / LOGINS).exists() else []


def _shop(doing: str, words: list[str], env: Mapping[str, str]) -> str:
    return run_quietly(doing, [VENV_PYTHON, "-m", "shop", *words], cwd=ROOT, env=env)


def _keep_private(path: Path, content: str) -> None:
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "w") as file:
        file.write(content)
