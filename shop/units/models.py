"""What the shop knows about a make and model, and the very units that customers bring."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.core.ids import new_id


class SupplyKind(models.TextChoices):
    LINEAR = "linear", _("linear, with a mains transformer")
    SWITCH_MODE = "switch_mode", _("switch-mode")
    EXTERNAL = "external", _("external supply")


class Hazard(models.TextChoices):
    LIVE_CHASSIS = "live_chassis", _("live chassis")
    HIGH_VOLTAGE = "high_voltage", _("high voltage inside")
    SELENIUM = "selenium", _("selenium rectifier")
    ASBESTOS = "asbestos", _("asbestos")
    PCB_OIL = "pcb_oil", _("PCB oil in capacitors")
    LEAKING_CELL = "leaking_cell", _("leaking cell")
    TUBE_HIGH_VOLTAGE = "tube_high_voltage", _("lamp or tube high voltage")


class Feature(models.TextChoices):
    MOTOR = "motor", _("a motor")
    RELAY = "relay", _("a relay in the supply")
    VALVE_RECTIFIER = "valve_rectifier", _("a valve rectifier")
    BATTERY_LOGIC = "battery_logic", _("a memory kept by a cell")


class ModelSheet(models.Model):
    """What the shop knows about one make and model. Facts the calculators need, as data.

    The JSON fields have the shapes that the calculators take, so that they pass unchanged:

    primary:     {"sections": [{"name", "start", "finish", "rated_volt", "rated_ampere"?,
                  "taps"?: [{"terminal", "volt"}]}], "plate_volt", "plate_hz": [50, 60],
                  "links_now"?, "resistances": [{"name", "from", "to", "ohm"}]}
    supplies:    [{"volt": 230, "name": "230 V", "links": [["2", "3"]],
                  "line_terminals": ["1", "4"], "fuse": "T80mAL250V"|null,
                  "fuse_source": "rating plate"}]: the maker's own settings
    secondaries: [{"name", "rated_volt", "is_heater", "regulation_percent"}]
    rails:       [{"name", "volt", "low", "high", "ripple_millivolt"}]
    reservoirs:  [{"name", "volt", "farad", "bleeder_ohm"|null}]
    thermal_links: in mains_parts, kind "thermal_link"
    cell:        {"fitted": name in the cell table, "rechargeable": bool, "charged_by_board": bool,
                  "low_ua", "high_ua", "memory_volt", "diode_volt", "resistor_ohm", "supply_pin"}
    mains_parts: [{"kind": "varistor"|"x_capacitor"|..., "name", "rated_volt", ...}] as
                  `voltage_parts.check` takes them
    known_faults: [{"fault", "template"}]
    channels:    [{"name", "input_dbu"?, "output_dbu"?, "noise_dbu"?, "hum_dbu"?,
                  "crosstalk_db"?}]: input and output at the maker's level, the rest as highest
    electrolytics: [{"name", "farad", "volt", "kind"?: "aluminium"|"bipolar"|"tantalum", "place"?}]
    valves:      [{"name", "type", "heater_volt", "heater_ampere"?, "heater_supply"?: "ac"|"dc",
                  "plate_volt"?, "plate_max_watt"?, "cathode_ohm"?, "cathode_low_volt"?,
                  "cathode_high_volt"?}]
    controls:    [{"name", "kind": "encoder"|"potentiometer"|"fader"|"switch", "detents"?, "ohm"?}]
    pictures:    [{"sha256", "caption"}], bytes in the photo store
    """

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    make = models.CharField(max_length=60)
    model = models.CharField(max_length=60)
    kind = models.CharField(max_length=60)  # "synthesiser", "preamplifier" ...
    year_from = models.PositiveSmallIntegerField(null=True, blank=True)
    year_to = models.PositiveSmallIntegerField(null=True, blank=True)
    supply_kind = models.CharField(max_length=12, choices=SupplyKind.choices)
    protection_class = models.CharField(max_length=3, default="I")  # "0", "I", "II", "III"
    two_wire = models.BooleanField(default=False)
    rated_watt = models.FloatField(null=True, blank=True)
    idle_watt = models.FloatField(null=True, blank=True)
    idle_watt_source = models.CharField(max_length=120, blank=True)
    features = models.JSONField(default=list)  # values of Feature
    hazards = models.JSONField(default=list)  # values of Hazard
    primary = models.JSONField(default=dict, blank=True)
    supplies = models.JSONField(default=list, blank=True)
    secondaries = models.JSONField(default=list, blank=True)
    rails = models.JSONField(default=list, blank=True)
    reservoirs = models.JSONField(default=list, blank=True)
    cell = models.JSONField(default=dict, blank=True)
    mains_parts = models.JSONField(default=list, blank=True)
    cord_length_m = models.FloatField(default=1.8)
    cord_mm2 = models.FloatField(default=0.75)
    reset_procedure = models.TextField(blank=True)
    serial_rule = models.CharField(max_length=120, blank=True)  # as `date_codes.years` reads it
    known_faults = models.JSONField(default=list, blank=True)
    channels = models.JSONField(default=list, blank=True)
    electrolytics = models.JSONField(default=list, blank=True)
    valves = models.JSONField(default=list, blank=True)
    controls = models.JSONField(default=list, blank=True)
    pictures = models.JSONField(default=list, blank=True)
    note = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["make", "model"], name="modelsheet_one_per_make_and_model"
            ),
            models.CheckConstraint(
                name="modelsheet_protection_class_is_known",
                condition=Q(protection_class__in=["0", "I", "II", "III"]),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.make} {self.model}"


class ModelSheetChange(models.Model):
    """What one save changed of one field of a model sheet. Added, never edited."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    sheet = models.ForeignKey(ModelSheet, on_delete=models.PROTECT, related_name="changes")
    version = models.PositiveIntegerField()  # of the sheet after the change
    field = models.CharField(max_length=40)
    before = models.JSONField(null=True)
    after = models.JSONField(null=True)
    why = models.CharField(max_length=200, blank=True)
    # Nobody, where a reading at the bench was written down by the books themselves.
    by = models.ForeignKey("core.Person", null=True, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["sheet", "version", "field"], name="modelsheetchange_field_once_a_version"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.sheet_id} {self.version} {self.field}"


class Shelf(models.Model):
    """A place where units and pieces stand."""

    code = models.CharField(max_length=8, primary_key=True)
    name = models.CharField(max_length=40, unique=True)

    def __str__(self) -> str:
        return self.name


class Unit(models.Model):
    """One piece of equipment. Its code is printed on its tag and never used again."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    code = models.CharField(max_length=8, unique=True)
    model_sheet = models.ForeignKey(
        ModelSheet, null=True, blank=True, on_delete=models.PROTECT, related_name="units"
    )
    make = models.CharField(max_length=60)
    model = models.CharField(max_length=60)
    serial = models.CharField(max_length=60, blank=True, db_index=True)
    owner = models.ForeignKey("customers.Customer", on_delete=models.PROTECT, related_name="units")
    set_for_volt = models.PositiveSmallIntegerField(null=True, blank=True)
    set_for_hz = models.PositiveSmallIntegerField(null=True, blank=True)
    shelf = models.ForeignKey(
        Shelf, null=True, blank=True, on_delete=models.PROTECT, related_name="units"
    )
    do_not_power = models.BooleanField(default=True)
    power_note = models.CharField(max_length=200, blank=True)
    power_changed_at = models.DateTimeField(null=True, blank=True)
    power_changed_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    def __str__(self) -> str:
        return f"{self.make} {self.model} {self.code}"


class Piece(models.Model):
    """A loose piece that came with a unit, with a sub-tag of its own."""

    class State(models.TextChoices):
        HERE = "here", _("in the shop")
        HANDED_BACK = "handed_back", _("handed back")
        MISSING = "missing", _("missing")

    code = models.CharField(max_length=8, primary_key=True)
    unit = models.ForeignKey(Unit, on_delete=models.PROTECT, related_name="pieces")
    name = models.CharField(max_length=80)
    state = models.CharField(max_length=12, choices=State.choices, default=State.HERE)

    def __str__(self) -> str:
        return f"{self.name} {self.code}"


class PlaceEvent(models.Model):
    """Where a unit was put, by whom and when. Added, never edited."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    unit = models.ForeignKey(Unit, on_delete=models.CASCADE, related_name="place_events")
    shelf = models.ForeignKey(Shelf, on_delete=models.PROTECT, related_name="+")
    by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.unit_id} {self.shelf_id}"
