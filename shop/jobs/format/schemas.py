"""The published JSON Schemas, as files in `docs/schemas/` and at `/api/v1/schemas/<name>/`."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from django.conf import settings
from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError, best_match

from shop.jobs.format.schema_words import in_words

NAMES = ("job-template-1", "pack-1")


@cache
def published_schema(name: str) -> dict[str, Any]:
    """One schema by its name. Raises KeyError for a name that is not published."""
    if name not in NAMES:
        raise KeyError(name)
    file = settings.ROOT / "docs" / "schemas" / f"{name}.json"
    schema: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    return schema


@cache
def _validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(published_schema(name))


def faults(name: str, content: Any) -> list[tuple[tuple[str | int, ...], str]]:
    """Where content departs from a published schema: (path, reason), in the order of the text."""
    errors = sorted(_validator(name).iter_errors(content), key=lambda e: [str(p) for p in e.path])
    return [_plain(error) for error in errors]


def _plain(error: ValidationError) -> tuple[tuple[str | int, ...], str]:
    """The deepest reason: "does not fit any of the given schemas" helps nobody."""
    deepest = best_match([error]) or error
    return tuple(deepest.absolute_path), in_words(deepest)
