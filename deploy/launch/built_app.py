"""The PWA, built when its sources changed."""

from __future__ import annotations

from pathlib import Path

from deploy.launch import stamps
from deploy.launch.commands import run_quietly
from deploy.launch.node import Node, ensure_node
from deploy.launch.places import BUILT_APP, FRONTEND, SCRATCH

NOT_SOURCES = frozenset({"node_modules", "dist", "coverage", "tests", ".svelte-check"})
STAMP = SCRATCH / "stamps" / "built-app"
PACKAGES_STAMP = FRONTEND / "node_modules" / ".made-from"


def app_current() -> bool:
    return (BUILT_APP / "index.html").is_file() and stamps.is_current(STAMP, _sources())


def ensure_app_built(venv_python: Path) -> None:
    """Build `frontend/dist`. One already built from the same sources is left alone.

    Raises CannotStart if Node cannot be had, or the packages or the build fail.
    """
    if app_current():
        return
    node = ensure_node(venv_python)
    ensure_node_packages(node)
    run_quietly(
        f"building the app with Node {node.version}",
        [node.npm, "run", "build"],
        cwd=FRONTEND,
        env=node.environment(),
    )
    stamps.write(STAMP, _sources())


def ensure_node_packages(node: Node) -> None:
    """`npm ci`, unless what it would install is there already."""
    digest = stamps.digest_of_texts([(FRONTEND / "package-lock.json").read_text(), node.version])
    if stamps.is_current(PACKAGES_STAMP, digest):
        return
    run_quietly(
        "installing the app's packages",
        [node.npm, "ci", "--no-audit", "--no-fund"],
        cwd=FRONTEND,
        env=node.environment(),
    )
    stamps.write(PACKAGES_STAMP, digest)


def _sources() -> str:
    return stamps.digest_of_tree(FRONTEND, NOT_SOURCES)
