"""What a repair will cost, what the customer answered, what it did cost, what was paid."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.core.ids import new_id


class Estimate(models.Model):
    """What it will cost. A sent estimate is never changed; a new one takes its place.

    `lines`: [{"text", "quantity", "price_minor"}]; `total_minor` includes tax.
    """

    class State(models.TextChoices):
        DRAFT = "draft", _("draft")
        SENT = "sent", _("sent")
        AGREED = "agreed", _("agreed")
        DECLINED = "declined", _("declined")
        REPLACED = "replaced", _("replaced")

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    repair = models.ForeignKey("repairs.Repair", on_delete=models.PROTECT, related_name="estimates")
    lines = models.JSONField(default=list)
    note = models.TextField(blank=True)
    net_minor = models.PositiveIntegerField(default=0)
    tax_minor = models.PositiveIntegerField(default=0)
    total_minor = models.PositiveIntegerField(default=0)
    state = models.CharField(max_length=10, choices=State.choices, default=State.DRAFT)
    made_by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_how = models.CharField(max_length=40, blank=True)
    answer_words = models.CharField(max_length=300, blank=True)
    answer_taken_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["repair"],
                condition=Q(state__in=["draft", "sent"]),
                name="estimate_one_open_per_repair",
            )
        ]

    def __str__(self) -> str:
        return f"{self.total_minor} for {self.repair_id}"


class Invoice(models.Model):
    """Numbered without gaps; never changed or deleted, corrected by a new one."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    number = models.PositiveIntegerField(unique=True)
    repair = models.ForeignKey("repairs.Repair", on_delete=models.PROTECT, related_name="invoices")
    lines = models.JSONField(default=list)
    net_minor = models.IntegerField()
    tax_minor = models.IntegerField()
    total_minor = models.IntegerField()
    tax_percent = models.DecimalField(max_digits=5, decimal_places=2)
    currency = models.CharField(max_length=3)
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    replaces = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="replaced_by"
    )

    def __str__(self) -> str:
        return f"invoice {self.number}"


class Payment(models.Model):
    """Money taken for a repair, or waived. Added, never edited; a refund is negative."""

    class How(models.TextChoices):
        CASH = "cash", _("cash")
        CARD = "card", _("card")
        TRANSFER = "transfer", _("bank transfer")
        WAIVED = "waived", _("waived")

    id = models.UUIDField(primary_key=True, editable=False)  # made by the desk's screen
    repair = models.ForeignKey("repairs.Repair", on_delete=models.PROTECT, related_name="payments")
    amount_minor = models.IntegerField()
    how = models.CharField(max_length=20, choices=How.choices)
    reason = models.CharField(max_length=200, blank=True)
    taken_by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    taken_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(name="payment_is_not_zero", condition=~Q(amount_minor=0)),
            models.CheckConstraint(
                name="payment_waived_has_a_reason", condition=~Q(how="waived") | ~Q(reason="")
            ),
        ]

    def __str__(self) -> str:
        return str(self.amount_minor)
