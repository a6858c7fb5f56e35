"""The account of a repair: what it costs, what was paid, its invoice."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsDesk, person_of
from api.v1.documents import repair_or_404
from api.v1.estimates import MOST_MINOR, LineOut
from shop.billing.models import Payment
from shop.billing.selectors import account
from shop.billing.services import issue_invoice, take_payment


class PaymentIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    amount_minor = serializers.IntegerField(min_value=-MOST_MINOR, max_value=MOST_MINOR)
    how = serializers.ChoiceField(choices=Payment.How.choices)
    reason = serializers.CharField(max_length=200, allow_blank=True, default="")


class AccountOut(serializers.Serializer[Any]):
    lines = LineOut(many=True)
    net_minor = serializers.IntegerField()
    tax_minor = serializers.IntegerField()
    total_minor = serializers.IntegerField()
    paid_minor = serializers.IntegerField()
    due_minor = serializers.IntegerField()


class InvoiceOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    number = serializers.IntegerField()
    net_minor = serializers.IntegerField()
    tax_minor = serializers.IntegerField()
    total_minor = serializers.IntegerField()
    currency = serializers.CharField()
    issued_at = serializers.DateTimeField()
    replaces = serializers.UUIDField(source="replaces_id", allow_null=True)


class RepairAccount(APIView):
    permission_classes = [IsDesk]

    @extend_schema(responses=AccountOut)
    def get(self, request: Request, id: UUID) -> Response:
        return Response(AccountOut(account(repair_or_404(request, id))).data)


class RepairPayments(APIView):
    permission_classes = [IsDesk]

    @extend_schema(request=PaymentIn, responses={201: AccountOut})
    def post(self, request: Request, id: UUID) -> Response:
        sent = PaymentIn(data=request.data)
        sent.is_valid(raise_exception=True)
        repair = repair_or_404(request, id)
        take_payment(repair=repair, by=person_of(request), **sent.validated_data)
        return Response(AccountOut(account(repair)).data, status=201)


class RepairInvoices(APIView):
    permission_classes = [IsDesk]

    @extend_schema(request=None, responses={201: InvoiceOut})
    def post(self, request: Request, id: UUID) -> Response:
        invoice = issue_invoice(repair=repair_or_404(request, id), by=person_of(request))
        return Response(InvoiceOut(invoice).data, status=201)
