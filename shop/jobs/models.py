"""Job templates, their drafts and revisions, worksheets, and the entries that are the record."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from shop.core.ids import new_id


class Origin(models.TextChoices):
    """Where the words of a template came from."""

    SHIPPED = "shipped", _("comes with the program")
    SHOP = "shop", _("made in this shop")
    IMPORTED = "imported", _("taken in from a file")


class JobTemplate(models.Model):
    """A reusable procedure; its published revisions never change."""

    slug = models.SlugField(primary_key=True, max_length=60)
    title = models.CharField(max_length=120)
    origin = models.CharField(max_length=8, choices=Origin.choices, default=Origin.SHOP)
    # The last shipped file that was published or offered as a draft: none is offered twice.
    shipped_sha256 = models.CharField(max_length=64, blank=True)
    retired_at = models.DateTimeField(null=True, blank=True)
    retired_reason = models.CharField(max_length=300, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="jobtemplate_origin_is_known", condition=Q(origin__in=Origin.values)
            )
        ]

    def __str__(self) -> str:
        return self.title


class Revision(models.Model):
    """One published state of a template. `body` follows the template schema, version 1.

    Without `reviewed_by` no second person looked at it; `alone_reason` then says why a manager
    published it all the same, and is empty for files that came with the program.
    """

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    template = models.ForeignKey(JobTemplate, on_delete=models.PROTECT, related_name="revisions")
    number = models.PositiveIntegerField()
    body = models.JSONField()
    body_sha256 = models.CharField(max_length=64)
    origin = models.CharField(max_length=8, choices=Origin.choices, default=Origin.SHOP)
    change_note = models.CharField(max_length=500, blank=True)
    published_at = models.DateTimeField()
    published_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    reviewed_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    reviewed_at = models.DateTimeField(null=True, blank=True)
    review_note = models.CharField(max_length=2000, blank=True)
    alone_reason = models.CharField(max_length=300, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["template", "number"], name="revision_number_once"),
            models.CheckConstraint(
                name="revision_origin_is_known", condition=Q(origin__in=Origin.values)
            ),
            models.CheckConstraint(
                name="revision_reviewed_by_and_at",
                condition=Q(reviewed_by__isnull=True, reviewed_at__isnull=True)
                | Q(reviewed_by__isnull=False, reviewed_at__isnull=False),
            ),
            models.CheckConstraint(
                name="revision_reviewed_or_alone",
                condition=Q(reviewed_by__isnull=True) | Q(alone_reason=""),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.template_id} {self.number}"


class Draft(models.Model):
    """A template on its way to its next revision. `body` may be faulty: nothing typed is lost.

    Everybody who saved a change is an editor, and no editor reviews. A published draft stays, with
    the revision it became.
    """

    class Stage(models.TextChoices):
        DRAFT = "draft", _("being written")
        IN_REVIEW = "in_review", _("waiting for review")
        REVIEWED = "reviewed", _("reviewed")
        PUBLISHED = "published", _("published")

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    slug = models.CharField(max_length=60)
    title = models.CharField(max_length=120)
    body = models.JSONField()
    faults = models.PositiveIntegerField(default=0)  # found when it was last saved
    origin = models.CharField(max_length=8, choices=Origin.choices, default=Origin.SHOP)
    based_on = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="drafts"
    )
    stage = models.CharField(max_length=10, choices=Stage.choices, default=Stage.DRAFT)
    version = models.PositiveIntegerField(default=1)
    created_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    created_at = models.DateTimeField()
    updated_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    updated_at = models.DateTimeField()
    editors = models.ManyToManyField("core.Person", related_name="+")
    submitted_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    submitted_at = models.DateTimeField(null=True, blank=True)
    submit_note = models.CharField(max_length=2000, blank=True)
    reviewed_by = models.ForeignKey(
        "core.Person", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    reviewed_at = models.DateTimeField(null=True, blank=True)
    review_note = models.CharField(max_length=2000, blank=True)
    revision = models.OneToOneField(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="draft"
    )

    class Meta:
        indexes = [models.Index(fields=["slug", "stage"], name="draft_by_slug")]
        constraints = [
            models.CheckConstraint(
                name="draft_stage_is_known",
                condition=Q(stage__in=["draft", "in_review", "reviewed", "published"]),
            ),
            models.CheckConstraint(
                name="draft_origin_is_known", condition=Q(origin__in=Origin.values)
            ),
            models.CheckConstraint(
                name="draft_published_as_a_revision",
                condition=Q(stage="published", revision__isnull=False)
                | (~Q(stage="published") & Q(revision__isnull=True)),
            ),
            models.CheckConstraint(
                name="draft_reviewed_by_somebody",
                condition=~Q(stage="reviewed") | Q(reviewed_by__isnull=False),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.slug} {self.stage}"

    @property
    def is_edited(self) -> bool:
        """Whether somebody changed it since it was begun or taken in."""
        return self.updated_at > self.created_at


class Worksheet(models.Model):
    """One revision worked on one repair. The pack is computed once and kept as bytes."""

    class Stage(models.TextChoices):
        OPEN = "open", _("open")
        PASSED = "passed", _("passed")
        FAILED = "failed", _("failed")
        STOPPED = "stopped", _("stopped")

    id = models.UUIDField(primary_key=True, editable=False)  # made by the phone or PC
    repair = models.ForeignKey(
        "repairs.Repair", on_delete=models.PROTECT, related_name="worksheets"
    )
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="worksheets")
    bench = models.ForeignKey(
        "benches.Bench", null=True, blank=True, on_delete=models.PROTECT, related_name="worksheets"
    )
    stage = models.CharField(max_length=10, choices=Stage.choices, default=Stage.OPEN)
    opened_by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    opened_at = models.DateTimeField()
    closed_at = models.DateTimeField(null=True, blank=True)
    stop_reason = models.CharField(max_length=300, blank=True)
    facts = models.JSONField(default=dict)  # asked when it was started
    pack = models.BinaryField()
    pack_sha256 = models.CharField(max_length=64)

    class Meta:
        indexes = [models.Index(fields=["repair", "stage"], name="worksheet_by_repair")]

    def __str__(self) -> str:
        return f"{self.revision_id} on {self.repair_id}"


class RecordHead(models.Model):
    """The end of one record's chain: a worksheet, or the bench log of a repair."""

    record = models.UUIDField(primary_key=True)  # the worksheet's id, or the repair's
    last_seq = models.PositiveIntegerField(default=0)
    last_hash = models.CharField(max_length=64, default="0" * 64)

    def __str__(self) -> str:
        return f"{self.record} {self.last_seq}"


class Entry(models.Model):
    """What a person recorded. Added, never edited; a correction names the entry it replaces.

    `value` and `value_text` are as sent and hashed; `value_si` is for queries only.
    """

    class Kind(models.TextChoices):
        ACKNOWLEDGE = "acknowledge", _("acknowledged")
        CHOICE = "choice", _("choice")
        READING = "reading", _("reading")
        PHOTO = "photo", _("photo")
        FINDING = "finding", _("finding")
        NOTE = "note", _("note")
        SKIP = "skip", _("skipped")
        TIMER = "timer", _("timer")
        PART = "part", _("part taken")
        SIGN_OFF = "sign_off", _("signed off")

    id = models.UUIDField(primary_key=True, editable=False)  # made by the phone
    record = models.UUIDField()
    seq = models.PositiveIntegerField()
    repair = models.ForeignKey("repairs.Repair", on_delete=models.PROTECT, related_name="entries")
    worksheet = models.ForeignKey(
        Worksheet, null=True, blank=True, on_delete=models.PROTECT, related_name="entries"
    )
    step = models.CharField(max_length=120, blank=True)
    kind = models.CharField(max_length=12, choices=Kind.choices)
    value = models.JSONField(default=dict)
    value_text = models.CharField(max_length=40, blank=True)  # canonical decimal, SI unit
    value_si = models.FloatField(null=True, blank=True)
    unit = models.CharField(max_length=12, blank=True)
    verdict = models.CharField(max_length=24, blank=True)
    meter = models.ForeignKey(
        "benches.Meter", null=True, blank=True, on_delete=models.PROTECT, related_name="entries"
    )
    meter_state = models.JSONField(null=True, blank=True)  # name, due date, accuracy at that time
    replaces = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="replaced_by"
    )
    reason = models.CharField(max_length=300, blank=True)
    made_by = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    device = models.ForeignKey(
        "core.Device", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    made_at = models.DateTimeField()  # claimed by the phone
    received_at = models.DateTimeField()
    hash = models.CharField(max_length=64)

    class Meta:
        indexes = [
            models.Index(fields=["repair", "received_at"], name="entry_by_repair"),
            models.Index(fields=["meter", "received_at"], name="entry_by_meter"),
        ]
        constraints = [
            models.UniqueConstraint(fields=["record", "seq"], name="entry_seq_once_per_record"),
            models.UniqueConstraint(
                fields=["replaces"],
                condition=Q(replaces__isnull=False),
                name="entry_replaced_once",
            ),
            models.CheckConstraint(
                name="entry_correction_has_a_reason",
                condition=Q(replaces__isnull=True) | ~Q(reason=""),
            ),
            models.CheckConstraint(
                name="entry_does_not_replace_itself",
                condition=Q(replaces__isnull=True) | ~Q(replaces=F("id")),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.step}"


class Mention(models.Model):
    """Somebody whom a note names: it waits for them until they have seen it."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)
    entry = models.ForeignKey(Entry, on_delete=models.PROTECT, related_name="mentions")
    person = models.ForeignKey("core.Person", on_delete=models.PROTECT, related_name="+")
    seen_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [
            models.Index(
                fields=["person"], name="mention_unseen", condition=Q(seen_at__isnull=True)
            )
        ]
        constraints = [
            models.UniqueConstraint(fields=["entry", "person"], name="mention_once_per_entry")
        ]

    def __str__(self) -> str:
        return f"{self.person_id} in {self.entry_id}"
