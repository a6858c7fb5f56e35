"""Customers and how to reach them: for the desk and the manager only."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework import mixins, serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.viewsets import GenericViewSet

from api.permissions import IsDesk
from api.scraps import scrap_in
from shop.core.ids import new_id
from shop.customers.models import Customer
from shop.customers.selectors import contact_matches, customers_visible_to
from shop.customers.services import add_customer


class CustomerOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField()
    phone = serializers.CharField(allow_blank=True)
    email = serializers.CharField(allow_blank=True)
    language = serializers.CharField()


class CustomerDetailsIn(serializers.Serializer[Any]):
    """Details as typed. A language that the shop does not have is refused."""

    name = serializers.CharField(max_length=120)
    phone = serializers.CharField(max_length=40, allow_blank=True, default="")
    email = serializers.CharField(max_length=254, allow_blank=True, default="")
    language = serializers.CharField(max_length=8, default="en")


class CustomerIn(CustomerDetailsIn):
    id = serializers.UUIDField(default=new_id)


@extend_schema(tags=["customers"])
class CustomerViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, GenericViewSet[Customer]):
    permission_classes = [IsDesk]
    serializer_class = CustomerOut
    lookup_value_converter = "uuid"
    queryset = Customer.objects.none()

    def get_queryset(self) -> QuerySet[Customer]:
        customers = customers_visible_to(self.request.user)
        scrap = scrap_in(self.request)
        return customers.filter(contact_matches(scrap)) if scrap else customers

    @extend_schema(request=CustomerIn, responses={201: CustomerOut})
    def create(self, request: Request) -> Response:
        sent = CustomerIn(data=request.data)
        sent.is_valid(raise_exception=True)
        customer = add_customer(**sent.validated_data)
        return Response(CustomerOut(customer).data, status=201)
