"""Templates that a template works as procedures: which, and with which revision."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from shop.jobs.format.problems import Path


def procedures_in(body: Any) -> Iterator[tuple[Path, dict[str, Any]]]:
    """(path, procedure) of every step that works another template. Faulty bodies are stood."""
    steps = body.get("steps") if isinstance(body, dict) else None
    for index, step in enumerate(steps if isinstance(steps, list) else []):
        named = step.get("procedure") if isinstance(step, dict) else None
        if isinstance(named, dict) and isinstance(named.get("template"), str):
            yield ("steps", index, "procedure"), named


def with_procedures(
    body: dict[str, Any], change: Callable[[dict[str, Any]], dict[str, Any]]
) -> dict[str, Any]:
    """A copy of the body with each procedure changed."""
    changed = {path[1]: change(named) for path, named in procedures_in(body)}
    if not changed:
        return body
    steps = [
        {**step, "procedure": changed[index]} if index in changed else step
        for index, step in enumerate(body["steps"])
    ]
    return {**body, "steps": steps}


def pinned(body: dict[str, Any], newest: dict[str, int]) -> dict[str, Any]:
    """The body with the newest revision of each procedure that names none."""

    def pin(named: dict[str, Any]) -> dict[str, Any]:
        number = newest.get(named["template"])
        return named if "revision" in named or number is None else {**named, "revision": number}

    return with_procedures(body, pin)


def unpinned(body: dict[str, Any]) -> dict[str, Any]:
    """The body as it goes into a file: in another shop the revisions have other numbers."""
    return with_procedures(
        body, lambda named: {key: value for key, value in named.items() if key != "revision"}
    )
