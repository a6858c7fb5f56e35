"""Work in the background that failed five times: shown to the manager, tried again on request."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsManager
from shop.core.outbox import try_again
from shop.insight.selectors import dead_work


class StuckWorkOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    kind = serializers.CharField()
    created_at = serializers.DateTimeField()
    dead_at = serializers.DateTimeField()
    tries = serializers.IntegerField()
    last_error = serializers.CharField()


class StuckWorkPage(serializers.Serializer[Any]):
    results = StuckWorkOut(many=True)


class StuckWork(APIView):
    permission_classes = [IsManager]

    @extend_schema(responses=StuckWorkPage)
    def get(self, request: Request) -> Response:
        return Response({"results": dead_work()})


class TryAgain(APIView):
    permission_classes = [IsManager]

    @extend_schema(request=None, responses={204: None})
    def post(self, request: Request, id: UUID) -> Response:
        try_again(id=id)
        return Response(status=204)
