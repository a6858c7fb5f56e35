"""Papers. An issued PDF is kept and never drawn again; a change is a new one."""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy as _

from shop.core.ids import new_id


class Document(models.Model):
    """One paper. The row is made with the change it belongs to; the PDF follows by the outbox."""

    class Kind(models.TextChoices):
        RECEIPT = "receipt", _("receipt")
        TAG = "tag", _("tag")
        ESTIMATE = "estimate", _("estimate")
        TEST_REPORT = "test_report", _("test report")
        INVOICE = "invoice", _("invoice")
        ORDER = "order", _("purchase order")
        PLATE_STICKER = "plate_sticker", _("rating plate sticker")
        LABELS = "labels", _("labels")

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    kind = models.CharField(max_length=14, choices=Kind.choices)
    title = models.CharField(max_length=120)
    # The same cause makes one paper: "<kind>:<what caused it>".
    key = models.CharField(max_length=120, null=True, blank=True, unique=True)
    repair = models.ForeignKey(
        "repairs.Repair", null=True, blank=True, on_delete=models.PROTECT, related_name="documents"
    )
    order = models.ForeignKey(
        "stock.PurchaseOrder",
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="documents",
    )
    invoice = models.ForeignKey(
        "billing.Invoice", null=True, blank=True, on_delete=models.PROTECT, related_name="documents"
    )
    estimate = models.ForeignKey(
        "billing.Estimate",
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="documents",
    )
    # Of a sheet of labels, which belongs to none of those: {"codes": [...], "address": false}.
    holds = models.JSONField(default=dict, blank=True)
    language = models.CharField(max_length=8, default="en")
    requested_at = models.DateTimeField()
    requested_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    replaces = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="replaced_by"
    )
    file = models.FileField(upload_to="documents/", blank=True)
    sha256 = models.CharField(max_length=64, blank=True)
    issued_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [models.Index(fields=["repair", "requested_at"], name="document_by_repair")]

    def __str__(self) -> str:
        return self.title
