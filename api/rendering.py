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
        return b"" if data is None else orjson.dumps(data, default=str, option=orjson.OPT_UTC_Z)


class JsonOnly(BaseContentNegotiation):
    """One representation. What a client says it accepts does not matter."""

    def select_parser(self, request: Any, parsers: Any) -> Any:
        chosen = [p for p in parsers if p.media_type in (request.content_type or "").lower()]
        return chosen[0] if chosen else (parsers[0] if not request.content_type else None)

    def select_renderer(self, request: Any, renderers: Any, format_suffix: Any = None) -> Any:
        return renderers[0], renderers[0].media_type
