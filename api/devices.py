"""A withdrawn phone is signed out at its next request."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib.auth import logout
from django.http import HttpRequest, HttpResponse, JsonResponse

from api.errors import PROBLEM, problem
from shop.core.models import Device
from shop.core.services import DeviceRevoked

SESSION_KEY = "device_id"


class DeviceMiddleware:
    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        device_id = request.session.get(SESSION_KEY)
        if device_id and Device.objects.filter(id=device_id, revoked_at__isnull=False).exists():
            logout(request)
            body = problem(401, DeviceRevoked.code, DeviceRevoked.title)
            return JsonResponse(body, status=401, content_type=PROBLEM)
        return self.get_response(request)
