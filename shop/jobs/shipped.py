"""The job templates that come along, each after those that it works as procedures."""

from __future__ import annotations

from graphlib import TopologicalSorter
from pathlib import Path

import orjson

from shop.jobs.format.procedures import procedures_in

TEMPLATES = Path(__file__).resolve().parent / "templates"


def shipped_templates() -> list[Path]:
    """Their files in the order in which they can be published, else by name."""
    files = {file.stem: file for file in sorted(TEMPLATES.glob("*.json"))}
    order = TopologicalSorter({name: _used_by(file) for name, file in files.items()})
    return [files[name] for name in order.static_order() if name in files]


def _used_by(file: Path) -> list[str]:
    body = orjson.loads(file.read_bytes())
    return sorted(named["template"] for _path, named in procedures_in(body))
