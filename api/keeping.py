"""What a browser may keep of our answers: nothing, unless the answer itself says so."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse


class KeepNothing:
    """Customers' names and numbers do not stay in the cache of a shop's phone or tablet."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        answer = self.get_response(request)
        if request.path.startswith("/api/"):
            answer.headers.setdefault("Cache-Control", "no-store")
        return answer
