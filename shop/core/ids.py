"""Public ids: UUIDv7, so that they sort by the time they were made. They are no secrets."""

from __future__ import annotations

from uuid import UUID

import uuid_utils


def new_id() -> UUID:
    """A new UUIDv7 (RFC 9562)."""
    return UUID(int=uuid_utils.uuid7().int)
