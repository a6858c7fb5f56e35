"""One visit of one unit: its stages, what the customer allows, its photos, its status link."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.core.ids import new_id


class Stage(models.TextChoices):
    BOOKED_IN = "booked_in", _("booked in")
    LOOKING_OVER = "looking_over", _("being looked over")
    AWAITING_GO_AHEAD = "awaiting_go_ahead", _("waiting for the go-ahead")
    ON_THE_BENCH = "on_the_bench", _("on the bench")
    AWAITING_PARTS = "awaiting_parts", _("waiting for parts")
    AWAITING_OTHER = "awaiting_other", _("waiting for an answer from outside")
    ON_TEST = "on_test", _("on test")
    READY = "ready", _("ready to fetch")
    HANDED_BACK = "handed_back", _("handed back")
    DECLINED = "declined", _("cost declined")
    BEYOND_REPAIR = "beyond_repair", _("beyond repair")
    UNCLAIMED = "unclaimed", _("not fetched")
    DISPOSED = "disposed", _("disposed of")


class VisibleChanges(models.TextChoices):
    YES = "yes", _("allowed")
    NO = "no", _("not allowed")
    ASK = "ask", _("ask first")


class Sounds(models.TextChoices):
    NONE = "none", _("no stored sounds")
    MAY_BE_LOST = "may_be_lost", _("may be lost")
    SAVE_FIRST = "save_first", _("must be saved first")


class Hands(models.TextChoices):
    """Into whose hands a repair came with an event."""

    TAKEN = "taken", _("taken")
    HANDED = "handed", _("handed over")
    PUT_BACK = "put_back", _("put back")


class Repair(models.Model):
    """One visit of one unit. The stage changes only through `services.change_stage`."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    number = models.PositiveIntegerField(unique=True)
    unit = models.ForeignKey("units.Unit", on_delete=models.PROTECT, related_name="repairs")
    customer = models.ForeignKey(
        "customers.Customer", on_delete=models.PROTECT, related_name="repairs"
    )
    stage = models.CharField(max_length=20, choices=Stage.choices, default=Stage.BOOKED_IN)
    stage_since = models.DateTimeField()
    version = models.PositiveIntegerField(default=1)
    booked_in_at = models.DateTimeField()
    booked_in_by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    content_hash = models.CharField(max_length=64, blank=True)  # of what was sent, for repeats
    due_on = models.DateField(null=True, blank=True)
    assigned_to = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="repairs"
    )
    complaint = models.TextField()
    last_worked = models.CharField(max_length=120, blank=True)
    last_supply = models.CharField(max_length=120, blank=True)
    set_for_volt = models.PositiveSmallIntegerField(null=True, blank=True)  # as found
    set_for_hz = models.PositiveSmallIntegerField(null=True, blank=True)
    use_at_country = models.CharField(max_length=2)
    use_at_volt = models.PositiveSmallIntegerField()
    use_at_hz = models.PositiveSmallIntegerField()
    damage = models.TextField(blank=True)
    diagnosis_fee_minor = models.PositiveIntegerField(default=0)
    spending_limit_minor = models.PositiveIntegerField(default=0)
    visible_changes = models.CharField(
        max_length=4, choices=VisibleChanges.choices, default=VisibleChanges.ASK
    )
    sounds = models.CharField(max_length=12, choices=Sounds.choices, default=Sounds.NONE)
    signature = models.JSONField(null=True, blank=True)  # {"svg", "strokes", "name"}
    outcome = models.TextField(blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)
    labour_minutes_corrected = models.PositiveIntegerField(null=True, blank=True)
    # Of a unit that leaves unrepaired: somebody closed it up and labelled it not safe to power.
    closed_up_at = models.DateTimeField(null=True, blank=True)
    closed_up_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    fetched_signature = models.JSONField(null=True, blank=True)  # {"svg", "strokes", "name"}

    class Meta:
        indexes = [
            models.Index(fields=["stage", "stage_since"], name="repair_by_stage"),
            models.Index(fields=["-booked_in_at", "-id"], name="repair_newest_first"),
            models.Index(fields=["assigned_to", "stage"], name="repair_by_tech"),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["unit"],
                condition=~Q(stage__in=["handed_back", "disposed"]),
                name="repair_one_open_per_unit",
            ),
            models.CheckConstraint(
                name="repair_stage_is_known", condition=Q(stage__in=Stage.values)
            ),
        ]

    def __str__(self) -> str:
        return f"#{self.number}"


class StageEvent(models.Model):
    """A change of stage. Added, never edited; the clocks are computed from these.

    One from a stage to itself says what was corrected, or into whose hands it came meanwhile:
    `handed_to` took it, or is to take it; nobody has what was put back.
    """

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    repair = models.ForeignKey(Repair, on_delete=models.CASCADE, related_name="events")
    from_stage = models.CharField(max_length=20, blank=True)
    to_stage = models.CharField(max_length=20, choices=Stage.choices)
    at = models.DateTimeField()
    by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )  # None: the customer, by the status page
    reason = models.CharField(max_length=300, blank=True)
    hands = models.CharField(max_length=8, choices=Hands.choices, blank=True)
    handed_to = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        indexes = [models.Index(fields=["repair", "at"], name="stageevent_by_repair")]
        constraints = [
            models.CheckConstraint(
                name="stageevent_handed_to_somebody",
                condition=Q(hands__in=["taken", "handed"], handed_to__isnull=False)
                | Q(hands__in=["", "put_back"], handed_to__isnull=True),
            )
        ]

    def __str__(self) -> str:
        return f"{self.from_stage} > {self.to_stage}"


class Photo(models.Model):
    """A picture, kept once by the SHA-256 of its bytes, without the camera's own data."""

    sha256 = models.CharField(max_length=64, primary_key=True)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    size = models.PositiveIntegerField()
    kind = models.CharField(max_length=12)  # "jpeg", "png", "webp"
    file = models.FileField(upload_to="photos/")
    received_at = models.DateTimeField()
    received_from = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return self.sha256[:12]


class RepairPhoto(models.Model):
    """A photo that belongs to a repair: damage at the counter, or one taken at the bench."""

    repair = models.ForeignKey(Repair, on_delete=models.CASCADE, related_name="photos")
    sha256 = models.CharField(max_length=64)  # the picture may still be on its way
    caption = models.CharField(max_length=200, blank=True)
    taken_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["repair", "sha256"], name="repairphoto_once_per_repair")
        ]

    def __str__(self) -> str:
        return self.sha256[:12]


class PhotoPart(models.Model):
    """One part of a photo on its way. Whole, they become the photo; left lying, they are swept.

    Parts are rows and not a growing file: a row is there or is not, whatever was killed between.
    """

    sha256 = models.CharField(max_length=64)  # of the whole photo
    sent_by = models.ForeignKey("core.Person", on_delete=models.CASCADE, related_name="+")
    begins_at = models.PositiveIntegerField()  # bytes before this part
    size = models.PositiveIntegerField()  # bytes of it
    content = models.BinaryField()
    received_at = models.DateTimeField(db_index=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["sent_by", "sha256", "begins_at"], name="photopart_once_per_place"
            )
        ]

    def __str__(self) -> str:
        return f"{self.sha256[:12]} from {self.begins_at}"


class StatusLink(models.Model):
    """The address at which a customer follows one repair. Only the hash of its token is stored."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    repair = models.ForeignKey(Repair, on_delete=models.CASCADE, related_name="status_links")
    token_sha256 = models.CharField(max_length=64, unique=True)
    created_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return str(self.id)
