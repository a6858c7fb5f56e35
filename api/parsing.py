"""JSON in: only what can be kept as text and said again. What cannot is refused as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from typing import IO, Any

import orjson
from django.utils.translation import gettext as _
from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser

from shop.core.errors import BadField

NUL = b"\\u0000"


class TextJson(JSONParser):
    """Refuses half a surrogate pair, endless nesting and infinite numbers; names a NUL's field.

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
        if NUL in raw and (field := place_of_nul(content, "")) is not None:
            raise BadField(field or "input", _("A NUL character is no text."), "nul_character")
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


def place_of_nul(content: Any, path: str) -> str | None:
    """The path of the first text or name in JSON-like content that has a NUL character."""
    if isinstance(content, str):
        return path if "\0" in content else None
    if isinstance(content, dict):
        if any("\0" in name for name in content):
            return path
        inner = ((value, f"{path}.{name}".lstrip(".")) for name, value in content.items())
    elif isinstance(content, list):
        inner = ((value, f"{path}[{index}]") for index, value in enumerate(content))
    else:
        return None
    return next((found for one in inner if (found := place_of_nul(*one)) is not None), None)
