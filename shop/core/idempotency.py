"""The same id again with the same content is the first result; with other content a Conflict."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Any, TypeVar

import rfc8785
from django.db import models

from shop.core.errors import Conflict

Row = TypeVar("Row", bound=models.Model)


def require_same(row: Row, **wanted: object) -> Row:
    """Return `row` if it holds what was sent now, else raise Conflict."""
    for field, value in wanted.items():
        if getattr(row, field) != value:
            raise Conflict(id=str(row.pk), field=field)
    return row


def content_hash(content: Mapping[str, Any]) -> str:
    """SHA-256 (hex) over the RFC 8785 form of JSON-like content."""
    return hashlib.sha256(rfc8785.dumps(dict(content))).hexdigest()
