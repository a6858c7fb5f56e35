"""The published JSON Schemas, as files in `docs/schemas/` and at `/api/v1/schemas/<name>/`."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from itertools import islice
from typing import Any

from django.conf import settings
from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError, best_match
from jsonschema.validators import extend

from shop.jobs.format.schema_words import in_words

MOST_FAULTS = 200
NAMES = ("job-template-1", "pack-1")


@cache
def published_schema(name: str) -> dict[str, Any]:
    """One schema by its name. Raises KeyError for a name that is not published."""
    if name not in NAMES:
        raise KeyError(name)
    file = settings.ROOT / "docs" / "schemas" / f"{name}.json"
    schema: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    return schema


def _pattern(_validator: Any, pattern: str, text: Any, _schema: Any) -> Iterator[ValidationError]:
    """As JSON Schema reads it: `$` is the end, and not also before a last line break."""
    whole = re.sub(r"\$$", r"\\Z", pattern)
    if isinstance(text, str) and not re.search(whole, text):
        yield ValidationError(f"{text!r} does not match {pattern!r}")


_Validator = extend(Draft202012Validator, {"pattern": _pattern})


@cache
def _validator(name: str) -> Any:
    return _Validator(published_schema(name))


def faults(name: str, content: Any) -> list[tuple[tuple[str | int, ...], str]]:
    """Where content departs from a published schema: (path, reason), in the order of the text.

    At most MOST_FAULTS: nobody reads more, and each takes its time.
    """
    found = islice(_validator(name).iter_errors(content), MOST_FAULTS)
    errors = sorted(found, key=lambda e: [str(p) for p in e.path])
    return [_plain(error) for error in errors]


def _plain(error: ValidationError) -> tuple[tuple[str | int, ...], str]:
    """The deepest reason: "does not fit any of the given schemas" helps nobody."""
    deepest = best_match([error]) or error
    return tuple(deepest.absolute_path), in_words(deepest)
