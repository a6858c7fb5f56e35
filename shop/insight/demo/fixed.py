"""Codes, ids and days that are the same each time the demo is loaded on the same day."""

from __future__ import annotations

import hashlib
from datetime import datetime, timedelta
from uuid import UUID

from shop.calc.codes import ALPHABET, BODY_LENGTH, Kind, make_code


def _digest(name: str) -> bytes:
    return hashlib.sha256(f"demo shop: {name}".encode()).digest()


def pick(name: str, below: int) -> int:
    """A number from 0 to `below` - 1 that only the name decides."""
    return int.from_bytes(_digest(name)[:8], "big") % below


def code(kind: Kind, name: str) -> str:
    """A tag code with a fitting check character."""
    body = "".join(ALPHABET[byte % 32] for byte in _digest(name)[:BODY_LENGTH])
    return make_code(kind, body)


def id_at(at: datetime, name: str) -> UUID:
    """A UUIDv7 (RFC 9562) of that time, so that the demo sorts like real rows."""
    milliseconds = int(at.timestamp() * 1000)
    tail = int.from_bytes(_digest(name)[:10], "big")
    value = (milliseconds << 80) | (tail & ((1 << 80) - 1))
    value = (value & ~(0xF << 76)) | (7 << 76)
    return UUID(int=(value & ~(0x3 << 62)) | (0x2 << 62))


def ago(now: datetime, days: float, hour: int = 10) -> datetime:
    """A working hour so many days before now, never in the future."""
    minute = (int(days * 7) % 4) * 15
    then = (now - timedelta(days=days)).replace(hour=hour, minute=minute, second=0, microsecond=0)
    return min(then, now)
