"""People, their phones, the shop itself, and the work that must follow a change."""

from __future__ import annotations

from django.contrib.auth.models import AbstractUser
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.core.ids import new_id


class Role(models.TextChoices):
    DESK = "desk", _("front desk")
    TECH = "tech", _("tech")
    MANAGER = "manager", _("manager")


class Person(AbstractUser):
    """Somebody who works in the shop. What they may do follows from their one role."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    name = models.CharField(max_length=80)
    role = models.CharField(max_length=10, choices=Role.choices, default=Role.TECH)
    language = models.CharField(max_length=8, default="en")

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="person_role_is_known", condition=Q(role__in=["desk", "tech", "manager"])
            )
        ]

    def __str__(self) -> str:
        return self.name or self.username


class Device(models.Model):
    """A phone or PC on which somebody signed in. A revoked one is refused everywhere."""

    id = models.UUIDField(primary_key=True)  # made by the phone, kept in its own storage
    name = models.CharField(max_length=80)
    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="devices")
    enrolled_at = models.DateTimeField()
    last_seen_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    revoked_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    # SHA-256 of the secret in this phone's cookie: ids stand in every entry and prove nothing.
    key_hash = models.CharField(max_length=64, null=True, blank=True, unique=True)

    def __str__(self) -> str:
        return self.name


class Pin(models.Model):
    """A short number by which one person opens one phone. It opens no other and signs nothing."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    device = models.ForeignKey(Device, on_delete=models.CASCADE, related_name="pins")
    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="pins")
    hash = models.CharField(max_length=128)
    set_at = models.DateTimeField()
    # Of the password it was set with; with another password the PIN is over.
    password_mark = models.CharField(max_length=64)
    password_at = models.DateTimeField()  # when the password was last typed on this phone
    wrong_tries = models.PositiveSmallIntegerField(default=0)  # since it last fitted
    locked_until = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["device", "person"], name="pin_one_per_device_and_person"
            )
        ]

    def __str__(self) -> str:
        return f"{self.person} on {self.device}"


class Shop(models.Model):
    """The one row of facts about this shop that papers, limits and clocks need."""

    name = models.CharField(max_length=80)
    address = models.TextField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    opening_words = models.CharField(max_length=200, blank=True)
    terms = models.TextField(blank=True)
    country = models.CharField(max_length=2, default="DE")  # ISO 3166-1 alpha-2
    currency = models.CharField(max_length=3, default="EUR")  # ISO 4217
    tax_percent = models.DecimalField(max_digits=5, decimal_places=2, default=0)
    hour_price_minor = models.PositiveIntegerField(default=0)
    diagnosis_fee_minor = models.PositiveIntegerField(default=0)
    bench_volt = models.PositiveSmallIntegerField(default=230)
    bench_hz = models.PositiveSmallIntegerField(default=50)
    safety_scheme = models.CharField(max_length=20, default="en_50678")
    time_zone = models.CharField(max_length=40, default="Europe/Berlin")
    language = models.CharField(max_length=8, default="en")
    status_link_days = models.PositiveSmallIntegerField(default=180)
    # Quantities that may not be read on a meter whose calibration is overdue; others only warn.
    overdue_forbidden = models.JSONField(default=list, blank=True)

    class Meta:
        constraints = [models.CheckConstraint(name="shop_is_one_row", condition=Q(id=1))]

    def __str__(self) -> str:
        return self.name


class Counter(models.Model):
    """A gapless number per kind of paper. Taken last in a transaction: everybody waits for it."""

    kind = models.CharField(max_length=20, primary_key=True)
    last = models.PositiveIntegerField(default=0)

    def __str__(self) -> str:
        return f"{self.kind} {self.last}"


class OutboxEvent(models.Model):
    """Work that must follow a change, written in the change's own transaction."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    kind = models.CharField(max_length=60)  # "<app>.<service>", the name of its handler
    payload = models.JSONField(default=dict)
    # The same key twice is the same work: the second row is not written.
    key = models.CharField(max_length=120, null=True, blank=True, unique=True)
    created_at = models.DateTimeField()
    due_at = models.DateTimeField()
    leased_until = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    done_at = models.DateTimeField(null=True, blank=True)
    dead_at = models.DateTimeField(null=True, blank=True)
    last_error = models.TextField(blank=True)

    class Meta:
        indexes = [
            models.Index(
                fields=["due_at"],
                name="outbox_waiting",
                condition=Q(done_at__isnull=True, dead_at__isnull=True),
            ),
            models.Index(
                fields=["dead_at"], name="outbox_dead", condition=Q(dead_at__isnull=False)
            ),
        ]
        constraints = [
            models.CheckConstraint(
                name="outboxevent_done_or_dead_not_both",
                condition=Q(done_at__isnull=True) | Q(dead_at__isnull=True),
            )
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.id}"


class Heartbeat(models.Model):
    """When a worker or beat was last alive. `/healthz` reads it."""

    name = models.CharField(max_length=120, primary_key=True)
    seen_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.name


class ErasedPerson(models.Model):
    """Customers whose details were erased, so that a restored backup can be cleaned again."""

    customer_id = models.UUIDField(primary_key=True)
    erased_at = models.DateTimeField()

    def __str__(self) -> str:
        return str(self.customer_id)
