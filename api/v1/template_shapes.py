"""The shapes of templates, their drafts and revisions."""

from __future__ import annotations

from typing import Any

import msgspec
from django.utils.translation import get_language
from rest_framework import serializers

from shop.jobs.format.difference import differences
from shop.jobs.models import Draft, Origin

Fields = dict[str, serializers.Field[Any, Any, Any, Any]]


class DraftShortOut(serializers.Serializer[Any]):
    """The shape of `draft_short`."""

    id = serializers.UUIDField()
    slug = serializers.CharField()
    title = serializers.CharField()
    stage = serializers.ChoiceField(choices=Draft.Stage.choices)
    origin = serializers.ChoiceField(choices=Origin.choices)
    updated_at = serializers.DateTimeField()
    updated_by_name = serializers.CharField(allow_null=True)
    faults = serializers.IntegerField()


class ShelfRowOut(serializers.Serializer[Any]):
    """The shape of `shelf_rows`. A template that was never published has drafts and no revision."""

    slug = serializers.CharField()
    title = serializers.CharField()
    summary = serializers.CharField(allow_blank=True)
    role = serializers.ChoiceField(choices=["tech", "manager"], allow_null=True)
    origin = serializers.ChoiceField(choices=Origin.choices)
    revision = serializers.IntegerField(allow_null=True)
    published_at = serializers.DateTimeField(allow_null=True)
    retired_at = serializers.DateTimeField(allow_null=True)
    retired_reason = serializers.CharField(allow_blank=True)
    open_worksheets = serializers.IntegerField()
    steps = serializers.IntegerField()
    drafts = DraftShortOut(many=True)


class RevisionOut(serializers.Serializer[Any]):
    """The shape of `revision_row`: who published and reviewed a revision, when and why."""

    number = serializers.IntegerField()
    origin = serializers.ChoiceField(choices=Origin.choices)
    change_note = serializers.CharField(allow_blank=True)
    published_at = serializers.DateTimeField()
    published_by_name = serializers.CharField(allow_null=True)
    reviewed_at = serializers.DateTimeField(allow_null=True)
    reviewed_by_name = serializers.CharField(allow_null=True)
    review_note = serializers.CharField(allow_blank=True)
    alone_reason = serializers.CharField(allow_blank=True)
    review_words = serializers.CharField()


class RevisionFullOut(RevisionOut):
    body = serializers.DictField()


class ChangeOut(serializers.Serializer[Any]):
    what = serializers.ChoiceField(choices=["added", "removed", "changed", "moved"])
    step = serializers.CharField(allow_null=True)
    field = serializers.CharField()
    before = serializers.CharField(allow_null=True)
    after = serializers.CharField(allow_null=True)
    text = serializers.CharField()


class DifferenceOut(serializers.Serializer[Any]):
    changes = ChangeOut(many=True)


def changes_between(before: dict[str, Any], after: dict[str, Any]) -> dict[str, Any]:
    """The shape of DifferenceOut, in the language of who asks."""
    found = differences(before, after, get_language() or "en")
    return {"changes": msgspec.to_builtins(found)}


class BetweenIn(serializers.Serializer[Any]):
    to = serializers.IntegerField(min_value=1, max_value=2**31 - 1)

    def get_fields(self) -> Fields:
        # `from` is a word of Python's own.
        number = serializers.IntegerField(min_value=1, max_value=2**31 - 1)
        return {"from": number} | super().get_fields()


class FormIn(serializers.Serializer[Any]):
    form = serializers.ChoiceField(choices=["yaml", "json"], default="yaml")


class ProblemOut(serializers.Serializer[Any]):
    """A fault in a draft. `path` leads to it through the body: names, and numbers of list rows."""

    path = serializers.ListField(child=serializers.JSONField())
    field = serializers.CharField(allow_blank=True)
    step = serializers.CharField(allow_null=True)
    reason = serializers.CharField()


class MayOut(serializers.Serializer[Any]):
    edit = serializers.BooleanField()
    submit = serializers.BooleanField()
    review = serializers.BooleanField()
    publish = serializers.BooleanField()


class DraftOut(DraftShortOut):
    """The shape of `draft_row`."""

    faults = None  # type: ignore[assignment]  # `problems` says them
    version = serializers.IntegerField()
    body = serializers.DictField()
    problems = ProblemOut(many=True)
    based_on = serializers.IntegerField(allow_null=True)
    newest = serializers.IntegerField(allow_null=True)
    published_as = serializers.IntegerField(allow_null=True)
    created_at = serializers.DateTimeField()
    created_by_name = serializers.CharField(allow_null=True)
    submitted_by_name = serializers.CharField(allow_null=True)
    submitted_at = serializers.DateTimeField(allow_null=True)
    submit_note = serializers.CharField(allow_blank=True)
    reviewed_by_name = serializers.CharField(allow_null=True)
    reviewed_at = serializers.DateTimeField(allow_null=True)
    review_note = serializers.CharField(allow_blank=True)
    may = MayOut()
    why_not_review = serializers.CharField(allow_null=True)
    why_not_publish = serializers.CharField(allow_null=True)


class SourceIn(serializers.Serializer[Any]):
    template = serializers.CharField(max_length=60)
    revision = serializers.IntegerField(min_value=1, max_value=2**31 - 1, required=False)


class BeginIn(serializers.Serializer[Any]):
    """A new draft, empty or from a revision. The phone may make the `id`, against repeats."""

    id = serializers.UUIDField(required=False)
    slug = serializers.CharField(max_length=60)
    title = serializers.CharField(max_length=120, required=False, allow_blank=True)

    def get_fields(self) -> Fields:
        # `from` is a word of Python's own.
        return super().get_fields() | {"from": SourceIn(required=False, allow_null=True)}


class BodyIn(serializers.Serializer[Any]):
    """`based_on` is sent by who has taken the changes of a newer revision in."""

    body = serializers.DictField()
    based_on = serializers.IntegerField(min_value=1, max_value=2**31 - 1, required=False)


class NoteIn(serializers.Serializer[Any]):
    note = serializers.CharField(max_length=2000, required=False, allow_blank=True)


class ReviewIn(serializers.Serializer[Any]):
    agree = serializers.BooleanField()
    note = serializers.CharField(max_length=2000, required=False, allow_blank=True)
    password = serializers.CharField(max_length=256, trim_whitespace=False)
    username = serializers.CharField(max_length=150, required=False, allow_blank=True)


class PublishIn(serializers.Serializer[Any]):
    """`reason` is asked where nobody else here could review the draft."""

    change_note = serializers.CharField(max_length=500, allow_blank=True)
    reason = serializers.CharField(max_length=300, required=False, allow_blank=True)


class TryIn(serializers.Serializer[Any]):
    """What to try a draft on: a repair, a unit, a model sheet, or nothing that is known."""

    repair = serializers.UUIDField(required=False, allow_null=True)
    unit = serializers.UUIDField(required=False, allow_null=True)
    sheet = serializers.UUIDField(required=False, allow_null=True)
    bench = serializers.UUIDField(required=False, allow_null=True)
    facts = serializers.DictField(required=False)


class PackOut(serializers.Serializer[Any]):
    pack = serializers.DictField()


class RetireIn(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=200)
