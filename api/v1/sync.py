"""Where phones bring what was recorded, and learn what others recorded."""

from __future__ import annotations

import re
from typing import Any
from uuid import UUID

import msgspec
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.parsing import PatientJson
from api.permissions import IsStaff, person_of
from api.v1.entry_shapes import SyncIn, SyncOut
from shop.core.errors import BadField, ShopError
from shop.jobs.errors import FormatNotKnown
from shop.jobs.selectors import entries_newer_than, entry_row, stages_of
from shop.jobs.services import apply_operations

UUID_TEXT = re.compile("[0-9a-fA-F]{8}(-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}")
MOST_BYTES = 1_000_000
MOST_KNOWN = 500
MOST_NEWER = 2000


class TooMuch(ShopError):
    status = 413
    code = "too_much"
    title = _("At most one megabyte at once.")


class SyncView(APIView):
    permission_classes = [IsStaff]
    parser_classes = [PatientJson]

    @extend_schema(request=SyncIn, responses=SyncOut)
    def post(self, request: Request) -> Response:
        if int(request.META.get("CONTENT_LENGTH") or 0) > MOST_BYTES:
            raise TooMuch()
        sent = request.data if isinstance(request.data, dict) else {}
        if sent.get("format") != 1:
            raise FormatNotKnown()
        operations = sent.get("operations")
        if not isinstance(operations, list):
            raise BadField("operations", _("A list is needed."), "not_a_list")
        known = _known(sent.get("known") or {})
        results = apply_operations(
            person=person_of(request), device_id=_device(sent), operations=operations
        )
        return Response(_answer(results, known, _touched(operations)))


def _device(sent: dict[str, Any]) -> UUID | None:
    if sent.get("device_id") is None:
        return None
    return _uuid("device_id", sent["device_id"])


def _known(sent: Any) -> dict[UUID, int]:
    """The last `seq` of each record the phone holds. Raises BadField."""
    if not isinstance(sent, dict) or len(sent) > MOST_KNOWN:
        raise BadField("known", _("At most 500 records."), "too_many")
    for record, seq in sent.items():
        if isinstance(seq, bool) or not isinstance(seq, int) or not 0 <= seq < 2**31:
            raise BadField(f"known.{record}", _("A whole number is needed."), "not_whole")
    return {_uuid("known", record): seq for record, seq in sent.items()}


def _uuid(field: str, text: Any) -> UUID:
    try:
        return UUID(str(text))
    except ValueError as error:
        raise BadField(field, _("This is no id."), "invalid") from error


def _touched(operations: list[Any]) -> set[UUID]:
    """Records that the batch wrote to, as far as it can be read."""
    bodies = [one.get("body") for one in operations if isinstance(one, dict)]
    names = {str(body.get("record")) for body in bodies if isinstance(body, dict)}
    return {UUID(name) for name in names if UUID_TEXT.fullmatch(name)}


def _answer(results: list[Any], known: dict[UUID, int], touched: set[UUID]) -> dict[str, Any]:
    newer: dict[str, list[dict[str, Any]]] = {}
    for entry in entries_newer_than(known)[:MOST_NEWER] if known else []:
        newer.setdefault(str(entry.record), []).append(entry_row(entry))
    return {
        "results": msgspec.to_builtins(results),
        "newer": newer,
        "worksheets": stages_of(touched | known.keys()),
        "server_time": timezone.now(),
    }
