"""The shapes of a repair, as rows of lists and in full. The rows themselves come from selectors."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.v1.documents import DocumentOut
from api.v1.estimates import EstimateOut
from api.v1.units import UnitOut
from shop.jobs.models import Worksheet
from shop.repairs.models import Hands, Sounds, Stage, VisibleChanges

STAGES = Stage.choices


class UnitShortOut(serializers.Serializer[Any]):
    code = serializers.CharField()
    make = serializers.CharField()
    model = serializers.CharField()
    serial = serializers.CharField(allow_blank=True)


class PersonShortOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField()


class RepairRowOut(serializers.Serializer[Any]):
    """The shape of `repair_rows`."""

    id = serializers.UUIDField()
    number = serializers.CharField()
    stage = serializers.ChoiceField(choices=STAGES)
    stage_since = serializers.DateTimeField()
    stage_words = serializers.CharField()
    unit = UnitShortOut()
    customer_name = serializers.CharField(
        allow_blank=True, help_text="Empty for who may not see how to reach customers."
    )
    due_on = serializers.DateField(allow_null=True)
    assigned_to = PersonShortOut(allow_null=True)
    age_days = serializers.IntegerField()
    waiting_for = serializers.CharField(allow_null=True)


class SetForOut(serializers.Serializer[Any]):
    volt = serializers.IntegerField(allow_null=True)
    hz = serializers.IntegerField(allow_null=True)


class UseAtOut(serializers.Serializer[Any]):
    volt = serializers.IntegerField()
    hz = serializers.IntegerField()
    country = serializers.CharField()


class BenchSupplyOut(serializers.Serializer[Any]):
    volt = serializers.IntegerField()
    hz = serializers.IntegerField()


class AllowedOut(serializers.Serializer[Any]):
    diagnosis_fee_minor = serializers.IntegerField(min_value=0)
    spending_limit_minor = serializers.IntegerField(min_value=0)
    visible_changes = serializers.ChoiceField(choices=VisibleChanges.choices)
    sounds = serializers.ChoiceField(choices=Sounds.choices)


class ContactOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField()
    phone = serializers.CharField(allow_blank=True)
    email = serializers.CharField(allow_blank=True)


class EventOut(serializers.Serializer[Any]):
    """One change of stage or of hands. `from` is a word of Python's own, hence the detour."""

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        return {
            "id": serializers.UUIDField(),
            "from": serializers.CharField(allow_blank=True),
            "to": serializers.ChoiceField(choices=STAGES),
            "at": serializers.DateTimeField(),
            "by_name": serializers.CharField(allow_blank=True),
            "reason": serializers.CharField(allow_blank=True),
            "hands": serializers.ChoiceField(choices=Hands.choices, allow_null=True),
            "handed_to": serializers.UUIDField(allow_null=True),
            "handed_to_name": serializers.CharField(allow_blank=True),
        }


class AllowedStageOut(serializers.Serializer[Any]):
    to = serializers.ChoiceField(choices=STAGES)
    label = serializers.CharField()  # type: ignore[assignment]  # Field's own `label` is another
    requires = serializers.CharField(allow_null=True)
    needs_reason = serializers.BooleanField()


class WorksheetRowOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    repair = serializers.UUIDField()
    template = serializers.CharField()
    title = serializers.CharField()
    revision = serializers.IntegerField()
    newest_revision = serializers.IntegerField()
    stage = serializers.ChoiceField(choices=Worksheet.Stage.choices)
    opened_at = serializers.DateTimeField()
    opened_by_name = serializers.CharField()
    last_seq = serializers.IntegerField()
    pack_sha256 = serializers.CharField()


class RepairPhotoOut(serializers.Serializer[Any]):
    sha256 = serializers.CharField()
    caption = serializers.CharField(allow_blank=True)
    taken_at = serializers.DateTimeField()


class VisitOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    number = serializers.CharField()
    booked_in_at = serializers.DateTimeField()
    complaint = serializers.CharField()
    outcome = serializers.CharField(allow_blank=True)


class StatusLinkOut(serializers.Serializer[Any]):
    url = serializers.CharField(required=False)
    missing = serializers.CharField(required=False)


class RepairOut(RepairRowOut):
    """A repair in full. `customer` is null for who may not see how to reach customers."""

    version = serializers.IntegerField()
    booked_in_at = serializers.DateTimeField()
    booked_in_by = serializers.CharField()
    complaint = serializers.CharField()
    last_worked = serializers.CharField(allow_blank=True)
    last_supply = serializers.CharField(allow_blank=True)
    set_for = SetForOut(allow_null=True)
    use_at = UseAtOut()
    bench_supply = BenchSupplyOut()
    damage = serializers.CharField(allow_blank=True)
    allowed = AllowedOut()
    unit = UnitOut()  # type: ignore[assignment]  # in full, where the row has four fields of it
    customer = ContactOut(allow_null=True)
    events = EventOut(many=True)
    allowed_stages = AllowedStageOut(many=True)
    worksheets = WorksheetRowOut(many=True)
    documents = DocumentOut(many=True)
    photos = RepairPhotoOut(many=True)
    estimate = EstimateOut(allow_null=True)
    history = VisitOut(many=True)
    labour_minutes = serializers.IntegerField()
    elapsed_days = serializers.FloatField()
    working_days = serializers.FloatField()
    closed_up_at = serializers.DateTimeField(allow_null=True)
    status_link = StatusLinkOut(required=False, help_text="Only in the answer to booking in.")
