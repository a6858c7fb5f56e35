"""Single values change only from a known state: `ETag` out, `If-Match` in."""

from __future__ import annotations

from rest_framework.request import Request
from rest_framework.response import Response

from shop.core.errors import IfMatchMissing, Stale


def with_etag(answer: Response, version: int) -> Response:
    answer["ETag"] = f'"{version}"'
    return answer


def version_wanted(request: Request) -> int:
    """The version in If-Match. Raises IfMatchMissing, or Stale for what is no version."""
    sent = request.headers.get("If-Match", "").strip()
    if not sent:
        raise IfMatchMissing()
    try:
        return int(sent.strip('"'))
    except ValueError as error:
        raise Stale() from error
