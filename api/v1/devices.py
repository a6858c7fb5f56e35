"""Phones and PCs on which somebody signed in. The manager withdraws a lost one."""

from __future__ import annotations

from typing import Any

from django.db.models import Prefetch, QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework import mixins, serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.viewsets import GenericViewSet

from api.permissions import IsManager, person_of
from shop.core.models import Device, Pin
from shop.core.services import revoke_device


class PinOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    person_name = serializers.CharField(source="person.__str__")
    set_at = serializers.DateTimeField()


class DeviceOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField()
    person_name = serializers.CharField(source="person.__str__")
    enrolled_at = serializers.DateTimeField()
    last_seen_at = serializers.DateTimeField()
    revoked_at = serializers.DateTimeField(allow_null=True)
    pins = PinOut(many=True)


PINS = Prefetch("pins", Pin.objects.select_related("person").order_by("person__name", "id"))


@extend_schema(tags=["devices"])
class DeviceViewSet(mixins.ListModelMixin, GenericViewSet[Device]):
    permission_classes = [IsManager]
    serializer_class = DeviceOut
    lookup_value_converter = "uuid"
    queryset = Device.objects.select_related("person").prefetch_related(PINS)

    def get_queryset(self) -> QuerySet[Device]:
        return super().get_queryset()

    @extend_schema(request=None, responses=DeviceOut)
    @action(detail=True, methods=["post"])
    def revoke(self, request: Request, pk: Any = None) -> Response:
        """Withdraw a phone: it is refused at its next request, whoever uses it."""
        revoke_device(device=self.get_object(), by=person_of(request))
        return Response(DeviceOut(self.get_object()).data)
