"""PINs: the quick way in on a phone that several people share."""

from __future__ import annotations

from typing import Any

from django.utils.decorators import method_decorator
from django.utils.translation import gettext_lazy as _
from django.views.decorators.csrf import csrf_protect
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.generics import get_object_or_404
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.devices import begin_session, device_of_cookie, device_of_session, keep_key
from api.permissions import IsManager, IsStaff, person_of
from api.proving import signer
from api.v1.session import MeOut, me
from shop.core.errors import ShopError
from shop.core.models import Device, Pin
from shop.core.pins import NoPinHere, drop_pin, people_with_pin, set_pin, unlock


class NotOnThisPhone(ShopError):
    code = "not_on_this_phone"
    title = _("This phone is not in the list of the shop. Sign out and in again.")


class PinIn(serializers.Serializer[Any]):
    pin = serializers.RegexField("^[0-9]{4,8}$")


class UnlockIn(PinIn):
    person = serializers.UUIDField()


class SetPinIn(PinIn):
    password = serializers.CharField(max_length=256, trim_whitespace=False)


class UnlockedOut(MeOut):
    # So that people notice when somebody else tried.
    wrong_tries = serializers.IntegerField()


class PersonHereOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField(source="__str__")


class PeopleHereOut(serializers.Serializer[Any]):
    people = PersonHereOut(many=True)


def signed_in_device(request: Request) -> Device:
    """Raises NotOnThisPhone for a session without one, as the admin makes."""
    device = device_of_session(request)
    if device is None:
        raise NotOnThisPhone()
    return device


class SessionPin(APIView):
    """The PINs of the phone that asks, told by its cookie: no address names a phone."""

    def get_permissions(self) -> list[Any]:
        return [AllowAny()] if self.request.method in {"GET", "POST"} else [IsStaff()]

    @extend_schema(responses=PeopleHereOut)
    def get(self, request: Request) -> Response:
        """Who can open this phone by PIN: nobody, for a browser that is none of the shop's."""
        device = device_of_cookie(request)
        people = people_with_pin(device) if device else []
        return Response(PeopleHereOut({"people": people}).data)

    @extend_schema(request=UnlockIn, responses=UnlockedOut)
    @method_decorator(csrf_protect)
    def post(self, request: Request) -> Response:
        """Come in by PIN. Signatures take the password all the same."""
        sent = UnlockIn(data=request.data)
        sent.is_valid(raise_exception=True)
        wanted, device = sent.validated_data, device_of_cookie(request)
        if device is None:
            raise NoPinHere()
        who = unlock(device=device, person_id=wanted["person"], pin=wanted["pin"])
        begin_session(request, who.person, device, by_pin=True)
        shown = me(who.person, device) | {"wrong_tries": who.wrong_tries}
        return Response(UnlockedOut(shown).data)

    @extend_schema(request=SetPinIn, responses={204: None})
    def put(self, request: Request) -> Response:
        """Set my PIN for this phone, with my password typed just now."""
        sent = SetPinIn(data=request.data)
        sent.is_valid(raise_exception=True)
        wanted, device = sent.validated_data, signed_in_device(request)
        person = signer(request, None, wanted["password"])
        response = Response(status=204)
        keep_key(request, response, device)
        set_pin(device=device, person=person, pin=wanted["pin"])
        return response

    @extend_schema(request=None, responses={204: None})
    def delete(self, request: Request) -> Response:
        """Drop my PIN of this phone."""
        for pin in Pin.objects.filter(device=device_of_session(request), person=person_of(request)):
            drop_pin(pin=pin)
        return Response(status=204)


class PinDetail(APIView):
    permission_classes = [IsManager]

    @extend_schema(request=None, responses={204: None})
    def delete(self, request: Request, id: Any) -> Response:
        """Withdraw somebody's PIN: on that phone it takes their password again."""
        drop_pin(pin=get_object_or_404(Pin, id=id))
        return Response(status=204)
