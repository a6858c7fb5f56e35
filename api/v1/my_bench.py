"""My bench: what is in hand, what waits for me, what can be taken; notes that name me."""

from __future__ import annotations

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff, person_of
from api.v1.people import PersonOut
from api.v1.repair_shapes import STAGES, PersonShortOut, UnitShortOut
from shop.insight.selectors import my_bench
from shop.jobs.services import see_mentions


class SheetProgressOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    repair = serializers.UUIDField()
    title = serializers.CharField()
    done = serializers.IntegerField()
    of = serializers.IntegerField()
    failed = serializers.IntegerField()
    next = serializers.CharField(allow_null=True, help_text="The first open step.")


class BenchRowOut(serializers.Serializer[Any]):
    """A repair as my bench shows it: no customer."""

    id = serializers.UUIDField()
    number = serializers.CharField()
    stage = serializers.ChoiceField(choices=STAGES)
    stage_since = serializers.DateTimeField()
    stage_words = serializers.CharField()
    unit = UnitShortOut()
    due_on = serializers.DateField(allow_null=True)
    is_late = serializers.BooleanField()
    is_due_today = serializers.BooleanField()
    assigned_to = PersonShortOut(allow_null=True)
    age_days = serializers.IntegerField()
    waiting_for = serializers.CharField(allow_null=True)
    why = serializers.CharField(allow_null=True)
    worksheets = SheetProgressOut(many=True)


class WaitingRepairOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    number = serializers.CharField()
    unit = serializers.CharField()
    code = serializers.CharField()


class WaitingOut(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(
        choices=[
            "handed", "note", "sign_off", "test_failed", "go_ahead", "parts", "answer",
            "parts_here", "close_up",
        ]
    )  # fmt: skip
    repair = WaitingRepairOut()
    at = serializers.DateTimeField(allow_null=True)
    by_name = serializers.CharField(allow_blank=True)
    text = serializers.CharField(allow_blank=True)
    mention = serializers.UUIDField(required=False)
    worksheet = serializers.UUIDField(required=False)
    step = serializers.CharField(required=False)


class MyBenchOut(serializers.Serializer[Any]):
    read_at = serializers.DateTimeField()
    in_hand = BenchRowOut(many=True)
    waiting = WaitingOut(many=True)
    off_bench = BenchRowOut(many=True)
    free = BenchRowOut(many=True)
    people = PersonOut(many=True)


class SeenIn(serializers.Serializer[Any]):
    ids = serializers.ListField(child=serializers.UUIDField(), max_length=500)


class SeenOut(serializers.Serializer[Any]):
    seen = serializers.IntegerField(help_text="How many had waited.")


class MyBenchView(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=MyBenchOut)
    def get(self, request: Request) -> Response:
        return Response(my_bench(person_of(request), now=timezone.now()))


class MentionsSeen(APIView):
    permission_classes = [IsStaff]

    @extend_schema(request=SeenIn, responses=SeenOut)
    def post(self, request: Request) -> Response:
        """Notes that name me and that I have read. A repeat changes nothing."""
        sent = SeenIn(data=request.data)
        sent.is_valid(raise_exception=True)
        return Response({"seen": see_mentions(by=person_of(request), **sent.validated_data)})
