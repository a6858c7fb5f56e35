"""JSON out, and nothing else."""

from __future__ import annotations

from typing import Any

import orjson
from rest_framework.negotiation import BaseContentNegotiation
from rest_framework.renderers import BaseRenderer


class OrjsonRenderer(BaseRenderer):
    media_type = "application/json"
    format = "json"
    charset = None

    def render(
        self, data: Any, accepted_media_type: str | None = None, renderer_context: Any = None
    ) -> bytes:
        if data is None:
            return b""
        try:
            return orjson.dumps(data, default=str, option=orjson.OPT_UTC_Z)
        except TypeError:  # somebody sent it and hears it again, but JSON has no word for it
            return orjson.dumps(sayable(data), default=str, option=orjson.OPT_UTC_Z)


def sayable(data: Any) -> Any:
    """
    The same, with a question mark in place of each character that UTF-8 does not have (half a
    surrogate pair), and with whole numbers of more than 64 bits as floats: PostgreSQL's jsonb
    gives a kept 1e300 back as an integer.
    """
    if isinstance(data, str):
        return data.encode("utf-8", "replace").decode()
    if isinstance(data, int) and not -(2**63) <= data < 2**64:
        return as_float(data)
    if isinstance(data, dict):
        return {sayable(name): sayable(value) for name, value in data.items()}
    return [sayable(value) for value in data] if isinstance(data, list | tuple) else data


def as_float(whole: int) -> float | str:
    """The float next to a whole number; its digits where none is that large."""
    try:
        return float(whole)
    except OverflowError:
        return str(whole)


class JsonOnly(BaseContentNegotiation):
    """One representation. What a client says it accepts does not matter."""

    def select_parser(self, request: Any, parsers: Any) -> Any:
        chosen = [p for p in parsers if p.media_type in (request.content_type or "").lower()]
        return chosen[0] if chosen else (parsers[0] if not request.content_type else None)

    def select_renderer(self, request: Any, renderers: Any, format_suffix: Any = None) -> Any:
        return renderers[0], renderers[0].media_type
