"""Pictures through the app's own scanner: the same module, options and decoder file, in Node."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from deploy.launch.node import ensure_node
from deploy.launch.places import FRONTEND, VENV_PYTHON


@dataclass(frozen=True)
class Decoded:
    texts: list[str]
    ms: float


def write_picture(folder: Path, name: str, picture: NDArray[np.uint8]) -> None:
    high, wide = picture.shape
    head = f"P5 {wide} {high} 255\n".encode()
    (folder / f"{name}.pgm").write_bytes(head + picture.tobytes())


def decode(folder: Path) -> dict[str, Decoded]:
    """What the scanner finds in each picture of a folder, by its name."""
    node = ensure_node(VENV_PYTHON)
    done = subprocess.run(
        [node.folder / "node", "build-tools/decode-pictures.mjs", str(folder)],
        cwd=FRONTEND, env=node.environment(), capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return dict(_rows(done.stdout.splitlines()))


def _rows(lines: Iterable[str]) -> Iterable[tuple[str, Decoded]]:
    for line in lines:
        row = json.loads(line)
        yield row["name"], Decoded(row["texts"], row["ms"])
