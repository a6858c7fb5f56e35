"""Phones: each is known by a secret in its cookie, and a withdrawn one is signed out."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils.translation import gettext_lazy as _
from rest_framework.request import Request
from rest_framework.response import Response

from api.errors import PROBLEM, problem
from shop.core.models import Device, Person
from shop.core.pins import device_with_key, give_key
from shop.core.services import DeviceRevoked

SESSION_KEY = "device_id"
BY_PIN = "by_pin"
KEY_AGE_SECONDS = 400 * 24 * 3600  # the longest a browser keeps a cookie


def device_of_cookie(request: Request) -> Device | None:
    """The phone that asks, by its secret. Raises DeviceRevoked."""
    return device_with_key(request.COOKIES.get(settings.DEVICE_COOKIE_NAME, ""))


def device_of_session(request: Request) -> Device | None:
    """The phone on which whoever asks signed in."""
    id = request.session.get(SESSION_KEY)
    return Device.objects.filter(id=id).first() if id else None


def begin_session(request: Request, person: Person, device: Device, *, by_pin: bool) -> None:
    login(request._request, person, backend="django.contrib.auth.backends.ModelBackend")
    request.session[SESSION_KEY] = str(device.id)
    request.session[BY_PIN] = by_pin


def keep_key(request: Request, response: Response, device: Device) -> None:
    """Make sure that the phone has its secret; one that cannot show it gets a new one."""
    is_known = device_of_cookie(request) == device
    key = request.COOKIES[settings.DEVICE_COOKIE_NAME] if is_known else give_key(device=device)
    response.set_cookie(
        settings.DEVICE_COOKIE_NAME, key, max_age=KEY_AGE_SECONDS, httponly=True,
        secure=settings.SECURE, samesite="Strict",
    )  # fmt: skip


class DeviceMiddleware:
    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if is_withdrawn(request):
            logout(request)
            return refused(DeviceRevoked.code, DeviceRevoked.title, status=401)
        if request.path.startswith("/admin/") and request.session.get(BY_PIN):
            # Four digits are for the bench, not for everything the shop has.
            return refused("password_needed", _("Sign in with your password first."), status=403)
        return self.get_response(request)


def is_withdrawn(request: HttpRequest) -> bool:
    """Whether this phone was withdrawn: by its session, and once that is gone by its secret.

    A phone asks several things at once, and each answer must say why.
    """
    if device_id := request.session.get(SESSION_KEY):
        return Device.objects.filter(id=device_id, revoked_at__isnull=False).exists()
    if not request.path.startswith("/api/"):
        return False
    try:
        device_with_key(request.COOKIES.get(settings.DEVICE_COOKIE_NAME, ""))
    except DeviceRevoked:
        return True
    return False


def refused(code: str, title: object, *, status: int) -> JsonResponse:
    return JsonResponse(problem(status, code, title), status=status, content_type=PROBLEM)
