"""Work places, and the instruments whose accuracy decides what a reading can tell."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from shop.core.ids import new_id


class MeterKind(models.TextChoices):
    """What an instrument is for. A step names the kinds that may be used for its reading."""

    MULTIMETER = "multimeter", _("multimeter")
    TWO_POLE = "two_pole", _("two-pole voltage tester")
    SAFETY_TESTER = "safety_tester", _("electrical safety tester")
    INSULATION_TESTER = "insulation_tester", _("insulation tester")
    EARTH_TESTER = "earth_tester", _("earth bond tester")
    LEAKAGE_TESTER = "leakage_tester", _("leakage current tester")
    POWER_METER = "power_meter", _("power meter")
    OSCILLOSCOPE = "oscilloscope", _("oscilloscope")
    ESR_METER = "esr_meter", _("ESR meter")
    LCR_METER = "lcr_meter", _("LCR meter")
    LEVEL_METER = "level_meter", _("audio level meter or analyser")
    COUNTER = "counter", _("frequency counter")
    THERMOMETER = "thermometer", _("thermometer")
    SOUND_LEVEL_METER = "sound_level_meter", _("sound level meter")
    ANEMOMETER = "anemometer", _("anemometer")
    TACHOMETER = "tachometer", _("tachometer")
    LENGTH_GAUGE = "length_gauge", _("caliper or feeler gauge")


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
    """An instrument. `accuracy`: [{quantity, percent, counts, resolution, range_end?}]."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    code = models.CharField(max_length=8, unique=True)
    name = models.CharField(max_length=80)
    kinds = models.JSONField(default=list)  # values of MeterKind
    serial = models.CharField(max_length=60, blank=True)
    accuracy = models.JSONField(default=list)
    calibrated_on = models.DateField(null=True, blank=True)
    calibration_due_on = models.DateField(null=True, blank=True)
    retired_on = models.DateField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    def __str__(self) -> str:
        return self.name


class Calibration(models.Model):
    """One calibration of a meter, as its certificate says. Added, never edited."""

    class Found(models.TextChoices):
        IN_TOLERANCE = "in_tolerance", _("within its accuracy")
        ADJUSTED = "adjusted", _("within its accuracy, and adjusted")
        OUT_OF_TOLERANCE = "out_of_tolerance", _("outside its accuracy")

    id = models.UUIDField(primary_key=True, editable=False)  # made by the phone or PC
    meter = models.ForeignKey(Meter, on_delete=models.PROTECT, related_name="calibrations")
    done_on = models.DateField()
    due_on = models.DateField()
    found = models.CharField(max_length=16, choices=Found.choices)
    certificate = models.CharField(max_length=80, blank=True)
    note = models.CharField(max_length=300, blank=True)
    noted_by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    noted_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="calibration_due_after_it_was_done", condition=Q(due_on__gt=F("done_on"))
            )
        ]

    def __str__(self) -> str:
        return f"{self.meter_id} {self.done_on}"


class OfferedReading(models.Model):
    """What an instrument on a bench reads, offered to the worksheet open there. Never an entry.

    Kept for an hour: a tech takes it into a step and saves it there, or it is gone.
    """

    id = models.UUIDField(primary_key=True, editable=False)  # made by the PC beside the instrument
    bench = models.ForeignKey(Bench, on_delete=models.CASCADE, related_name="+")
    meter = models.ForeignKey(Meter, on_delete=models.CASCADE, related_name="+")
    quantity = models.CharField(max_length=20)  # of shop.calc.quantities
    said = models.CharField(max_length=40)  # in the words of the instrument: `+4.98700000E+00`
    taken_at = models.DateTimeField()  # by the server's clock
    offered_by = models.ForeignKey("core.Person", on_delete=models.CASCADE, related_name="+")
    device = models.ForeignKey("core.Device", null=True, on_delete=models.CASCADE, related_name="+")

    class Meta:
        indexes = [models.Index(fields=["bench", "-taken_at"], name="offered_newest_of_bench")]

    def __str__(self) -> str:
        return f"{self.meter_id} {self.said}"
