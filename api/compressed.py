"""JSON that is bytes already, smaller on the way for who can read that."""

from __future__ import annotations

import gzip

from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_vary_headers

# Below one packet of a network there is nothing to win.
WORTH_IT_BYTES = 1400


def json_answer(request: HttpRequest, plain: bytes, packed: bytes | None = None) -> HttpResponse:
    """The answer, compressed where the client takes gzip. `packed`: it was compressed before."""
    takes_gzip = "gzip" in request.META.get("HTTP_ACCEPT_ENCODING", "")
    if takes_gzip and len(plain) >= WORTH_IT_BYTES:
        answer = HttpResponse(packed or gzip.compress(plain, mtime=0), "application/json")
        answer["Content-Encoding"] = "gzip"
    else:
        answer = HttpResponse(plain, "application/json")
    patch_vary_headers(answer, ("Accept-Encoding",))
    return answer
