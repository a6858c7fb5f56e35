"""Who works here, for choosing a tech."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework import mixins, serializers
from rest_framework.viewsets import GenericViewSet

from api.permissions import IsStaff
from shop.core.models import Person, Role
from shop.core.selectors import active_people


class PersonOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField(source="__str__")
    role = serializers.ChoiceField(choices=Role.choices)


@extend_schema(tags=["people"])
class PeopleViewSet(mixins.ListModelMixin, GenericViewSet[Person]):
    """Everybody who works here now."""

    permission_classes = [IsStaff]
    serializer_class = PersonOut

    def get_queryset(self) -> QuerySet[Person]:
        return active_people()
