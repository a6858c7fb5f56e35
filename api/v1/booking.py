"""What the booking-in screen sends."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.v1.customers import CustomerDetailsIn
from api.v1.repair_shapes import AllowedOut
from shop.repairs.booking_facts import (
    MAX_MINOR,
    Allowed,
    BookIn,
    CustomerWanted,
    PhotoTaken,
    UnitWanted,
)

SHA256 = r"^[0-9a-f]{64}$"
MAX_VOLT, MAX_HZ = 1000, 400


class BookInCustomerIn(CustomerDetailsIn):
    """`id` of a customer of the book, or the details of a new one."""

    id = serializers.UUIDField(required=False)
    name = serializers.CharField(max_length=120, default="", allow_blank=True)


class BookInUnitIn(serializers.Serializer[Any]):
    """`id` of a unit of the book, or what is written on a new one."""

    id = serializers.UUIDField(required=False)
    model_sheet = serializers.UUIDField(allow_null=True, default=None)
    make = serializers.CharField(max_length=60, allow_blank=True, default="")
    model = serializers.CharField(max_length=60, allow_blank=True, default="")
    serial = serializers.CharField(max_length=60, allow_blank=True, default="")


class BookInPieceIn(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=80)


class BookInAllowedIn(AllowedOut):
    """Amounts in minor units of the shop's currency."""

    diagnosis_fee_minor = serializers.IntegerField(min_value=0, max_value=MAX_MINOR)
    spending_limit_minor = serializers.IntegerField(min_value=0, max_value=MAX_MINOR)


class SignatureIn(serializers.Serializer[Any]):
    svg = serializers.CharField(max_length=100_000)
    strokes = serializers.JSONField()
    name = serializers.CharField(max_length=120, allow_blank=True, default="")


class BookInPhotoIn(serializers.Serializer[Any]):
    sha256 = serializers.RegexField(SHA256)
    caption = serializers.CharField(max_length=200, allow_blank=True, default="")


class BookInIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    customer = BookInCustomerIn()
    unit = BookInUnitIn()
    complaint = serializers.CharField(max_length=4000)
    last_worked = serializers.CharField(max_length=120, allow_blank=True, default="")
    last_supply = serializers.CharField(max_length=120, allow_blank=True, default="")
    set_for_volt = serializers.IntegerField(
        min_value=1, max_value=MAX_VOLT, allow_null=True, default=None
    )
    set_for_hz = serializers.IntegerField(
        min_value=1, max_value=MAX_HZ, allow_null=True, default=None
    )
    use_at_country = serializers.RegexField(r"^[A-Z]{2}$")
    use_at_volt = serializers.IntegerField(min_value=1, max_value=MAX_VOLT)
    use_at_hz = serializers.IntegerField(min_value=1, max_value=MAX_HZ)
    use_at_confirmed = serializers.BooleanField(
        default=False, help_text="Meant all the same, though this country has no such supply."
    )
    damage = serializers.CharField(max_length=4000, allow_blank=True, default="")
    pieces = BookInPieceIn(many=True, default=list)
    allowed = BookInAllowedIn()
    signature = SignatureIn(allow_null=True, default=None)
    photos = BookInPhotoIn(many=True, default=list)
    due_on = serializers.DateField(allow_null=True, default=None)

    def facts(self) -> BookIn:
        """What was sent, in the words of the domain."""
        sent = dict(self.validated_data)
        return BookIn(
            customer=CustomerWanted(**sent.pop("customer")),
            unit=UnitWanted(**sent.pop("unit")),
            pieces=[piece["name"] for piece in sent.pop("pieces")],
            allowed=Allowed(**sent.pop("allowed")),
            photos=[PhotoTaken(**photo) for photo in sent.pop("photos")],
            signature=dict(sent.pop("signature") or {}) or None,
            **sent,
        )
