"""What is wrong in a template, where, and on which line of its file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import msgspec

Path = tuple[str | int, ...]


class Problem(msgspec.Struct, frozen=True):
    """One fault. `path` leads to it, `step` is the id around it, `line` is known for files only."""

    path: Path
    reason: str
    step: str | None = None
    line: int | None = None

    @property
    def field(self) -> str:
        """The path as people write it: `steps[3].band.low`."""
        return dotted(self.path)

    def __str__(self) -> str:
        where = f"line {self.line}: " if self.line else ""
        step = f"step {self.step}: " if self.step else ""
        return f"{where}{step}{self.field or 'template'}: {self.reason}"


class Findings:
    """Collects faults while the checks walk through a template."""

    def __init__(self, lines: Mapping[Path, int] | None = None) -> None:
        self._lines = lines or {}
        self.problems: list[Problem] = []

    def add(self, path: Path, reason: object, step: str | None = None) -> None:
        self.problems.append(Problem(tuple(path), str(reason), step, self._line(path)))

    def _line(self, path: Path) -> int | None:
        """The line of the node, or of the nearest one around it."""
        for length in range(len(path), -1, -1):
            if line := self._lines.get(path[:length]):
                return line
        return None


def dotted(path: Sequence[str | int]) -> str:
    text = ""
    for name in path:
        text += f"[{name}]" if isinstance(name, int) else f".{name}"
    return text.lstrip(".")


def step_at(body: Any, path: Path) -> str | None:
    """The id of the step that a path lies in."""
    node, found = body, None
    for name in path:
        try:
            node = node[name]
        except (KeyError, IndexError, TypeError):
            break
        if isinstance(node, dict) and path[0] == "steps" and isinstance(node.get("id"), str):
            found = node["id"]
    return found
