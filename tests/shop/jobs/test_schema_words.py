"""Faults that the published schema finds, in words for who writes a template."""

from __future__ import annotations

from typing import Any

import pytest

from shop.jobs.format.schemas import faults

STEP = {"id": "a", "kind": "note", "title": "A"}
BODY: dict[str, Any] = {
    "schema_version": 1, "slug": "a", "title": "A", "summary": "A", "minutes": 5, "role": "tech",
    "steps": [STEP],
}  # fmt: skip


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"title": ""}, "This must not be empty."),
        ({"steps": []}, "Too few: at least 1."),
        ({"minutes": -1}, "Too small: at least "),
        ({"role": "desk"}, "This is none of the values that can stand here."),
        ({"slug": "A B"}, "This is not written as it must be."),
        ({"colour": "red"}, "This does not belong here."),
        ({"steps": [{"kind": "note", "title": "A"}]}, "Missing: id."),
        ({"facts": [{"key": "a", "title": "A"}]}, ""),
    ],
)
def test_a_fault_is_said_in_words_and_shows_no_code(changes: dict[str, Any], said: str) -> None:
    reasons = [reason for _path, reason in faults("job-template-1", {**BODY, **changes})]

    assert reasons
    assert any(reason.startswith(said) for reason in reasons), reasons
    assert not any("{" in reason or "'" in reason for reason in reasons), reasons
