"""Signing in and out. Signing in enrols the phone."""

from __future__ import annotations

from typing import Any

from django.contrib.auth import logout
from django.utils.decorators import method_decorator
from django.utils.translation import gettext_lazy as _
from django.views.decorators.csrf import csrf_protect, ensure_csrf_cookie
from drf_spectacular.utils import extend_schema
from iso4217 import Currency
from rest_framework import serializers
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.devices import begin_session, device_of_cookie, device_of_session, keep_key
from api.permissions import IsStaff, person_of
from api.proving import person_with
from shop.core.errors import ShopError
from shop.core.models import Device, Person, Role
from shop.core.pins import note_password
from shop.core.selectors import public_url, the_shop, why_no_public_url
from shop.core.services import enrol_device


class WrongLogin(ShopError):
    status = 401
    code = "wrong_login"
    title = _("Name or password is wrong.")


class DeviceIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField(max_length=80)


class SignInIn(serializers.Serializer[Any]):
    username = serializers.CharField(max_length=150)
    password = serializers.CharField(max_length=256, trim_whitespace=False)
    device = DeviceIn()


class ShopOut(serializers.Serializer[Any]):
    name = serializers.CharField()
    currency = serializers.CharField()
    minor_digits = serializers.IntegerField()
    country = serializers.CharField()
    bench_volt = serializers.IntegerField()
    bench_hz = serializers.IntegerField()
    safety_scheme = serializers.CharField()
    diagnosis_fee_minor = serializers.IntegerField()
    public_url = serializers.CharField(allow_null=True)
    public_url_note = serializers.CharField(allow_null=True)
    time_zone = serializers.CharField()


class DeviceNameOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField()


class MeOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    username = serializers.CharField()
    name = serializers.CharField()
    role = serializers.ChoiceField(choices=Role.choices)
    language = serializers.CharField()
    device = DeviceNameOut(allow_null=True)
    shop = ShopOut()


def me(person: Person, device: Device | None) -> dict[str, Any]:
    shop = the_shop()
    facts = {
        name: getattr(shop, name)
        for name in (
            "name",
            "currency",
            "country",
            "bench_volt",
            "bench_hz",
            "safety_scheme",
            "diagnosis_fee_minor",
            "time_zone",
        )
    }
    facts["minor_digits"] = Currency(shop.currency).exponent
    facts |= {"public_url": public_url(), "public_url_note": why_no_public_url()}
    return {
        "id": person.id,
        "username": person.username,
        "name": str(person),
        "role": person.role,
        "language": person.language,
        "shop": facts,
        "device": device and {"id": device.id, "name": device.name},
    }


class Csrf(APIView):
    """Sets the CSRF cookie: the app's shell comes from a cache and cannot."""

    permission_classes = [AllowAny]

    @extend_schema(responses={204: None})
    @method_decorator(ensure_csrf_cookie)
    def get(self, request: Request) -> Response:
        return Response(status=204)


class SessionView(APIView):
    def get_permissions(self) -> list[Any]:
        return [AllowAny()] if self.request.method == "POST" else [IsStaff()]

    @extend_schema(responses=MeOut)
    def get(self, request: Request) -> Response:
        return Response(MeOut(me(person_of(request), device_of_session(request))).data)

    @extend_schema(request=SignInIn, responses=MeOut)
    @method_decorator(csrf_protect)
    def post(self, request: Request) -> Response:
        sent = SignInIn(data=request.data)
        sent.is_valid(raise_exception=True)
        device = sent.validated_data["device"]
        device_of_cookie(request)  # a withdrawn phone stays out under whatever id
        person = person_with(
            request, sent.validated_data["username"], sent.validated_data["password"]
        )
        if person is None:
            raise WrongLogin()
        device = enrol_device(id=device["id"], name=device["name"], person=person)
        begin_session(request, person, device, by_pin=False)
        response = Response(MeOut(me(person, device)).data)
        keep_key(request, response, device)
        note_password(device=device, person=person)
        return response

    @extend_schema(request=None, responses={204: None})
    def delete(self, request: Request) -> Response:
        logout(request._request)
        return Response(status=204)
