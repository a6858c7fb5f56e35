"""Parts, where they lie, and every change of stock as a move between two places."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from shop.core.ids import new_id


class Supplier(models.Model):
    name = models.CharField(max_length=80, unique=True)
    email = models.EmailField()
    customer_number = models.CharField(max_length=40, blank=True)
    lead_days = models.PositiveSmallIntegerField(default=5)
    language = models.CharField(max_length=8, default="en")

    def __str__(self) -> str:
        return self.name


class Part(models.Model):
    """A stock item. A reorder looks at on hand + on order - reserved."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    code = models.CharField(max_length=8, unique=True)
    name = models.CharField(max_length=120)
    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="parts")
    order_code = models.CharField(max_length=40, blank=True)
    cost_minor = models.PositiveIntegerField(default=0)
    price_minor = models.PositiveIntegerField(default=0)
    reorder_level = models.PositiveIntegerField(default=0)
    order_up_to = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="part_order_up_to_not_below_level",
                condition=Q(order_up_to__gte=F("reorder_level")),
            )
        ]

    def __str__(self) -> str:
        return self.name


class Bin(models.Model):
    """A place on the parts wall."""

    code = models.CharField(max_length=8, primary_key=True)
    name = models.CharField(max_length=40, unique=True)

    def __str__(self) -> str:
        return self.name


class StockLevel(models.Model):
    """How many pieces of one part lie in one bin: a checked total of moves.

    Only `shop.stock.services` changes it.
    """

    part = models.ForeignKey(Part, on_delete=models.PROTECT, related_name="levels")
    bin = models.ForeignKey(Bin, on_delete=models.PROTECT, related_name="levels")
    on_hand = models.PositiveIntegerField(default=0)
    reserved = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["part", "bin"], name="stocklevel_one_per_part_and_bin"),
            models.CheckConstraint(
                name="stocklevel_reserved_within_on_hand", condition=Q(reserved__lte=F("on_hand"))
            ),
        ]

    def __str__(self) -> str:
        return f"{self.part_id} in {self.bin_id}: {self.on_hand}"

    @property
    def free(self) -> int:
        return self.on_hand - self.reserved


class Place(models.TextChoices):
    SUPPLIER = "supplier", _("supplier")
    BIN = "bin", _("bin")
    REPAIR = "repair", _("repair")
    SCRAP = "scrap", _("scrap")
    COUNT = "count", _("stock count")


class Move(models.Model):
    """One change of stock between two places. Added, never edited.

    `short` counts pieces that were taken though the books knew of none: they are recorded all the
    same, and a person has to count the bin.
    """

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    part = models.ForeignKey(Part, on_delete=models.PROTECT, related_name="moves")
    quantity = models.PositiveIntegerField()
    short = models.PositiveIntegerField(default=0)
    from_place = models.CharField(max_length=10, choices=Place.choices)
    to_place = models.CharField(max_length=10, choices=Place.choices)
    bin = models.ForeignKey(
        Bin, null=True, blank=True, on_delete=models.PROTECT, related_name="moves"
    )
    repair = models.ForeignKey(
        "repairs.Repair", null=True, blank=True, on_delete=models.PROTECT, related_name="moves"
    )
    order = models.ForeignKey(
        "stock.PurchaseOrder", null=True, blank=True, on_delete=models.PROTECT, related_name="moves"
    )
    template = models.CharField(max_length=60, blank=True)  # job template it was taken for
    cost_minor = models.PositiveIntegerField(default=0)
    price_minor = models.PositiveIntegerField(default=0)
    by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    reason = models.CharField(max_length=200, blank=True)

    class Meta:
        indexes = [
            models.Index(fields=["part", "at"], name="move_by_part"),
            models.Index(fields=["repair"], name="move_by_repair"),
            models.Index(fields=["at"], name="move_by_time"),
        ]
        constraints = [
            models.CheckConstraint(name="move_has_a_quantity", condition=Q(quantity__gt=0)),
            models.CheckConstraint(
                name="move_between_two_places", condition=~Q(from_place=F("to_place"))
            ),
            models.CheckConstraint(
                name="move_short_within_quantity", condition=Q(short__lte=F("quantity"))
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} x {self.part_id}: {self.from_place} > {self.to_place}"


class Reservation(models.Model):
    """Pieces set aside in one bin for one repair, until they are taken or let go.

    The open reservations of a bin add up to its `reserved`.
    """

    id = models.UUIDField(primary_key=True, editable=False)  # made by the phone or PC
    repair = models.ForeignKey(
        "repairs.Repair", on_delete=models.PROTECT, related_name="reservations"
    )
    level = models.ForeignKey(StockLevel, on_delete=models.PROTECT, related_name="reservations")
    quantity = models.PositiveIntegerField()  # as asked for
    left = models.PositiveIntegerField()  # still set aside
    by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        indexes = [
            models.Index(
                fields=["level", "repair"], name="reservation_open", condition=Q(left__gt=0)
            )
        ]
        constraints = [
            models.CheckConstraint(name="reservation_has_a_quantity", condition=Q(quantity__gt=0)),
            models.CheckConstraint(
                name="reservation_left_within_quantity", condition=Q(left__lte=F("quantity"))
            ),
        ]

    def __str__(self) -> str:
        return f"{self.left} of {self.quantity} for {self.repair_id}"


class StockCount(models.Model):
    """What a person counted in a bin. Kept even if the books were right, so a repeat is seen."""

    id = models.UUIDField(primary_key=True, editable=False)  # made by the phone or PC
    part = models.ForeignKey(Part, on_delete=models.PROTECT, related_name="counts")
    bin = models.ForeignKey(Bin, on_delete=models.PROTECT, related_name="counts")
    counted = models.PositiveIntegerField()
    by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["part", "bin", "at"], name="stockcount_by_bin")]

    def __str__(self) -> str:
        return f"{self.counted} x {self.part_id} in {self.bin_id}"


class PurchaseOrder(models.Model):
    """Parts wanted from one supplier. Drafted in the background, approved by the manager."""

    class Stage(models.TextChoices):
        DRAFT = "draft", _("draft")
        APPROVED = "approved", _("approved")
        SENT = "sent", _("sent")
        RECEIVED = "received", _("received")
        DROPPED = "dropped", _("dropped")

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    number = models.PositiveIntegerField(unique=True)
    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="orders")
    stage = models.CharField(max_length=10, choices=Stage.choices, default=Stage.DRAFT)
    created_at = models.DateTimeField()
    approved_at = models.DateTimeField(null=True, blank=True)
    approved_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    sent_at = models.DateTimeField(null=True, blank=True)
    received_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["supplier"],
                condition=Q(stage="draft"),
                name="purchaseorder_one_draft_per_supplier",
            )
        ]

    def __str__(self) -> str:
        return f"order {self.number}"


class OrderLine(models.Model):
    order = models.ForeignKey(PurchaseOrder, on_delete=models.CASCADE, related_name="lines")
    part = models.ForeignKey(Part, on_delete=models.PROTECT, related_name="order_lines")
    quantity = models.PositiveIntegerField()
    received = models.PositiveIntegerField(default=0)
    cost_minor = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["order", "part"], name="orderline_one_per_part"),
            models.CheckConstraint(name="orderline_has_a_quantity", condition=Q(quantity__gt=0)),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} x {self.part_id}"
