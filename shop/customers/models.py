"""Who brings units, and how to reach them."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from shop.core.ids import new_id


class Customer(models.Model):
    """A person or firm as they named themselves; contact details as typed."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    name = models.CharField(max_length=120)
    phone = models.CharField(max_length=40, blank=True)
    phone_digits = models.CharField(max_length=20, blank=True, db_index=True)  # for finding only
    email = models.EmailField(blank=True)
    language = models.CharField(max_length=8, default="en")
    note = models.TextField(blank=True)
    created_at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["name"], name="customer_by_name")]
        constraints = [
            models.CheckConstraint(name="customer_has_a_name", condition=~Q(name="")),
        ]

    def __str__(self) -> str:
        return self.name
