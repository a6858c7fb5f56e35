"""Pictures that a template shows, by the hash of their bytes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any


def pictures_in(node: Any) -> Iterator[str]:
    """The hash of every picture anywhere in a body, in order."""
    if isinstance(node, list):
        for inner in node:
            yield from pictures_in(inner)
    elif isinstance(node, dict):
        for name, inner in node.items():
            yield from _hashes(inner) if name == "pictures" else pictures_in(inner)


def _hashes(rows: Any) -> Iterator[str]:
    for row in rows if isinstance(rows, list) else []:
        if isinstance(row, dict) and isinstance(row.get("sha256"), str):
            yield row["sha256"]


def with_pictures(node: Any, rename: Callable[[str], str]) -> Any:
    """A copy of a body with each picture's hash renamed."""
    if isinstance(node, list):
        return [with_pictures(inner, rename) for inner in node]
    if not isinstance(node, dict):
        return node
    return {
        name: _renamed(inner, rename) if name == "pictures" else with_pictures(inner, rename)
        for name, inner in node.items()
    }


def _renamed(rows: Any, rename: Callable[[str], str]) -> Any:
    if not isinstance(rows, list):
        return rows
    return [
        {**row, "sha256": rename(row["sha256"])}
        if isinstance(row, dict) and isinstance(row.get("sha256"), str)
        else row
        for row in rows
    ]
