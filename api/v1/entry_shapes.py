"""The shapes of entries, of what a phone sends and of what it gets back."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.v1.repair_shapes import WorksheetRowOut
from shop.jobs.models import Entry, Worksheet


class EntryOut(serializers.Serializer[Any]):
    """The shape of `entry_row`."""

    id = serializers.UUIDField()
    record = serializers.UUIDField()
    repair = serializers.UUIDField()
    worksheet = serializers.UUIDField(allow_null=True)
    step = serializers.CharField(allow_null=True)
    kind = serializers.ChoiceField(choices=Entry.Kind.choices)
    value = serializers.DictField()
    replaces = serializers.UUIDField(allow_null=True)
    reason = serializers.CharField(allow_blank=True)
    made_by = serializers.UUIDField()
    made_by_name = serializers.CharField()
    device_id = serializers.UUIDField(allow_null=True)
    made_at = serializers.DateTimeField()
    received_at = serializers.DateTimeField()
    seq = serializers.IntegerField()
    verdict = serializers.CharField(allow_null=True)
    hash = serializers.CharField()


class WorksheetOut(WorksheetRowOut):
    stop_reason = serializers.CharField(allow_blank=True)
    entries = EntryOut(many=True)


class LogOut(serializers.Serializer[Any]):
    last_seq = serializers.IntegerField()
    entries = EntryOut(many=True)


class OperationIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    kind = serializers.CharField()
    version = serializers.IntegerField()
    body = serializers.DictField()


class SyncIn(serializers.Serializer[Any]):
    """For the schema; operations are read one by one, so that one bad one spoils no other."""

    format = serializers.IntegerField()
    device_id = serializers.UUIDField(required=False, allow_null=True)
    known = serializers.DictField(child=serializers.IntegerField(min_value=0), required=False)
    operations = OperationIn(many=True)


class ResultOut(serializers.Serializer[Any]):
    id = serializers.CharField()
    outcome = serializers.ChoiceField(choices=["applied", "repeated", "refused"])
    seq = serializers.IntegerField(required=False)
    code = serializers.CharField(required=False)
    detail = serializers.CharField(required=False)


class WorksheetStateOut(serializers.Serializer[Any]):
    stage = serializers.ChoiceField(choices=Worksheet.Stage.choices)
    last_seq = serializers.IntegerField()


class SyncOut(serializers.Serializer[Any]):
    results = ResultOut(many=True)
    newer = serializers.DictField(child=EntryOut(many=True))
    worksheets = serializers.DictField(child=WorksheetStateOut())
    server_time = serializers.DateTimeField()
