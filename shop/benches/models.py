"""Work places, and the instruments whose accuracy decides what a reading can tell."""

from __future__ import annotations

from django.db import models

from shop.core.ids import new_id


class Bench(models.Model):
    """A work place with its supply and the series lamps that hang there."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    name = models.CharField(max_length=40, unique=True)
    volt = models.PositiveSmallIntegerField()
    hz = models.PositiveSmallIntegerField()
    lamps = models.JSONField(default=list)  # [{"watt": 60, "volt": 230}]

    def __str__(self) -> str:
        return self.name


class Meter(models.Model):
    """An instrument. `accuracy`: [{quantity, percent, counts, resolution}] per quantity."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    code = models.CharField(max_length=8, unique=True)
    name = models.CharField(max_length=80)
    kinds = models.JSONField(default=list)  # "multimeter", "insulation_tester", "earth_tester" ...
    serial = models.CharField(max_length=60, blank=True)
    accuracy = models.JSONField(default=list)
    calibrated_on = models.DateField(null=True, blank=True)
    calibration_due_on = models.DateField(null=True, blank=True)
    retired_on = models.DateField(null=True, blank=True)

    def __str__(self) -> str:
        return self.name
