"""Messages to customers and suppliers, and what became of them."""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy as _

from shop.core.ids import new_id


class Notice(models.Model):
    """One message. Its Message-ID is fixed, so that a repeat is seen as the same mail."""

    class Kind(models.TextChoices):
        BOOKED_IN = "booked_in", _("booked in")
        ESTIMATE = "estimate", _("estimate")
        READY = "ready", _("ready to fetch")
        LEAVES_UNREPAIRED = "leaves_unrepaired", _("leaves unrepaired")
        ORDER = "order", _("purchase order")

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    kind = models.CharField(max_length=20, choices=Kind.choices)
    key = models.CharField(max_length=120, unique=True)  # the same cause makes one notice
    repair = models.ForeignKey(
        "repairs.Repair", null=True, blank=True, on_delete=models.PROTECT, related_name="notices"
    )
    order = models.ForeignKey(
        "stock.PurchaseOrder",
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="notices",
    )
    document = models.ForeignKey(
        "documents.Document", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    to = models.EmailField(blank=True)  # blank: nobody to write to, shown to the desk
    language = models.CharField(max_length=8, default="en")
    subject = models.CharField(max_length=200, blank=True)
    body = models.TextField(blank=True)
    message_id = models.CharField(max_length=200, unique=True)
    created_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    not_sent_why = models.CharField(max_length=200, blank=True)

    class Meta:
        indexes = [models.Index(fields=["repair", "created_at"], name="notice_by_repair")]

    def __str__(self) -> str:
        return f"{self.kind} to {self.to}"
