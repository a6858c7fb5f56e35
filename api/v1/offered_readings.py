"""What an instrument on a bench reads: from the PC beside it to the phone of who works there."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.devices import SESSION_KEY
from api.permissions import IsBench, person_of
from api.v1.meters import QUANTITIES
from shop.benches.models import Meter
from shop.benches.selectors import all_meters, benches, offer_card, offers_on
from shop.benches.services import offer_reading


class OfferIn(serializers.Serializer[Any]):
    """`taken_at` and `sent_at` by the PC's own clock: only the time between them counts."""

    id = serializers.UUIDField()
    meter = serializers.SlugRelatedField[Meter](slug_field="code", queryset=all_meters())
    quantity = serializers.ChoiceField(choices=QUANTITIES)
    said = serializers.CharField(max_length=40)
    taken_at = serializers.DateTimeField()
    sent_at = serializers.DateTimeField()


class OfferOut(serializers.Serializer[Any]):
    """The shape of `offer_card`."""

    id = serializers.UUIDField()
    meter = serializers.UUIDField()
    meter_name = serializers.CharField()
    quantity = serializers.ChoiceField(choices=QUANTITIES)
    typed = serializers.CharField()
    said = serializers.CharField()
    taken_at = serializers.DateTimeField()
    age_seconds = serializers.FloatField()


class SinceIn(serializers.Serializer[Any]):
    since = serializers.DateTimeField(required=False)


@extend_schema(tags=["benches"])
class OfferedReadings(APIView):
    permission_classes = [IsBench]

    @extend_schema(
        parameters=[OpenApiParameter("since", OpenApiTypes.DATETIME)],
        responses=OfferOut(many=True),
    )
    def get(self, request: Request, id: Any) -> Response:
        """The newest that each meter on this bench offers, if it is later than `since`."""
        asked = SinceIn(data=request.query_params)
        asked.is_valid(raise_exception=True)
        bench, now = get_object_or_404(benches(), id=id), timezone.now()
        newest = offers_on(bench, now, since=asked.validated_data.get("since"))
        return Response([offer_card(offer, now) for offer in newest])

    @extend_schema(request=OfferIn, responses={200: OfferOut, 201: OfferOut})
    def post(self, request: Request, id: Any) -> Response:
        """Offer a reading. It becomes an entry only when a tech takes it and saves it."""
        sent = OfferIn(data=request.data)
        sent.is_valid(raise_exception=True)
        told, now = sent.validated_data, timezone.now()
        age = told.pop("sent_at") - told.pop("taken_at")
        offer, created = offer_reading(
            bench=get_object_or_404(benches(), id=id), **told, age=age, by=person_of(request),
            device_id=request.session.get(SESSION_KEY), now=now,
        )  # fmt: skip
        return Response(OfferOut(offer_card(offer, now)).data, status=201 if created else 200)
