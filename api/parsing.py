"""JSON in: only what can be kept as text and said again. What cannot is refused as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from typing import IO, Any

import orjson
from django.utils.translation import gettext as _
from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser

NUL = b"\\u0000"


class TextJson(JSONParser):
    """Refuses half a surrogate pair, endless nesting, infinite numbers and NUL characters.

    Databases differ in these: SQLite keeps a NUL, PostgreSQL fails at it (PostgreSQL 15 manual,
    8.14 "JSON Types": \\u0000 is disallowed in jsonb).
    """

    def parse(
        self,
        stream: IO[Any],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        raw: bytes = stream.read()
        try:
            content = orjson.loads(raw)
        except orjson.JSONDecodeError as error:
            raise ParseError(_("This is no JSON: %s") % error) from error
        if NUL in raw and holds_nul(content):
            raise ParseError(_("A text holds a NUL character."))
        return content


class PatientJson(JSONParser):
    """For batches, where one odd operation must not spoil the others: each is looked at later."""

    def parse(
        self,
        stream: IO[Any],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        try:
            return super().parse(stream, media_type, parser_context)
        except RecursionError as error:
            raise ParseError(_("This is nested too deeply.")) from error


def holds_nul(content: Any) -> bool:
    """Whether a text or a name anywhere in JSON-like content has a NUL character."""
    if isinstance(content, str):
        return "\0" in content
    if isinstance(content, dict):
        return any(map(holds_nul, content)) or any(map(holds_nul, content.values()))
    return isinstance(content, list) and any(map(holds_nul, content))
