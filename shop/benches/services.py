"""Writes of meters: what they are, their calibrations, where an overdue one is refused; and what
an instrument offers."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any, Final
from uuid import UUID

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.benches.models import Bench, Calibration, Meter, OfferedReading
from shop.benches.selectors import OFFERED_FOR
from shop.calc.codes import Kind
from shop.calc.quantities import Quantity
from shop.calc.readings import reading_said
from shop.core.codes import with_new_code
from shop.core.errors import BadField, Stale
from shop.core.idempotency import require_same
from shop.core.models import Person, Shop
from shop.core.selectors import shop_zone, the_shop

OFFERS_KEPT_FOR: Final = timedelta(hours=1)


@transaction.atomic
def add_meter(*, id: UUID, facts: dict[str, Any]) -> tuple[Meter, bool]:
    """Hang a meter up under a new code; also says whether it is new.

    A repeat with the same id returns the first. Raises BadField for an accuracy that cannot be,
    Conflict if the id has other content.
    """
    _require_sensible(facts)
    if known := Meter.objects.filter(id=id).first():
        return require_same(known, **facts), False
    made = with_new_code(
        Kind.METER,
        lambda code: Meter.objects.create(id=id, code=code, **facts),
        lambda code: Meter.objects.filter(code=code).exists(),
    )
    return made, True


def change_meter(*, meter: Meter, version: int, facts: dict[str, Any]) -> Meter:
    """Write down what a meter is now. What was recorded with it keeps its state of then.

    Raises Stale if it changed since `version`, BadField for an accuracy that cannot be.
    """
    _require_sensible(facts)
    same = Meter.objects.filter(id=meter.id, version=version)
    if not same.update(**facts, version=F("version") + 1):
        raise Stale()
    meter.refresh_from_db()
    return meter


def _require_sensible(facts: dict[str, Any]) -> None:
    """One accuracy per quantity; a percentage and counts are never below nothing."""
    seen: set[str] = set()
    for number, row in enumerate(facts.get("accuracy", [])):
        field = f"accuracy[{number}]"
        if row["quantity"] in seen:
            raise BadField(f"{field}.quantity", _("This quantity stands twice."), "twice")
        seen.add(row["quantity"])
        if row["percent"] == 0 and row["counts"] == 0:
            raise BadField(f"{field}.percent", _("No meter is exact."), "too_good")


@transaction.atomic
def note_calibration(
    *, id: UUID, meter: Meter, done_on: date, due_on: date, found: str, certificate: str = "",
    note: str = "", by: Person, today: date,
) -> Calibration:  # fmt: skip
    """Note what a certificate says; the newest one says when the meter is due again.

    A repeat with the same id returns the first. Raises BadField for days that cannot be, Conflict
    if the id has other content.
    """
    said = {
        "meter": meter, "done_on": done_on, "due_on": due_on, "found": found,
        "certificate": certificate, "note": note,
    }  # fmt: skip
    if known := Calibration.objects.filter(id=id).first():
        return require_same(known, **said)
    if done_on > today:
        raise BadField("done_on", _("This day is still to come."), "in_the_future")
    if due_on <= done_on:
        raise BadField("due_on", _("It is due after it was done."), "too_early")
    try:
        with transaction.atomic():
            made = Calibration.objects.create(id=id, noted_by=by, noted_at=timezone.now(), **said)
    except IntegrityError:  # the same id at the same moment
        return require_same(Calibration.objects.get(id=id), **said)
    _follow(meter)
    return made


def _follow(meter: Meter) -> None:
    """The meter carries the days of its newest calibration."""
    newest = meter.calibrations.order_by("-done_on", "-noted_at").first()
    if newest is None:
        return
    Meter.objects.filter(id=meter.id).update(
        calibrated_on=newest.done_on,
        calibration_due_on=newest.due_on,
        version=F("version") + 1,
    )
    meter.refresh_from_db()


def forbid_overdue(*, quantities: list[str]) -> list[str]:
    """For these quantities a meter whose calibration is overdue is refused, not only warned of."""
    wanted = [quantity.value for quantity in Quantity if quantity in quantities]
    kept = {"overdue_forbidden": wanted}
    first = {**kept, "name": the_shop().name}
    Shop.objects.update_or_create(id=1, defaults=kept, create_defaults=first)
    return wanted


@transaction.atomic
def offer_reading(
    *, id: UUID, bench: Bench, meter: Meter, quantity: str, said: str, age: timedelta, by: Person,
    device_id: UUID | None, now: datetime,
) -> tuple[OfferedReading, bool]:  # fmt: skip
    """Show what an instrument reads to whoever works at its bench; also says whether it is new.

    `age`: how long ago it was read, by one clock. Never an entry: a tech takes it, or it is gone.
    A repeat with the same id returns the first. Raises BadInput for what no instrument says,
    BadField for a meter that was put away or a reading too old to be shown, Conflict if the id
    has other content.
    """
    told = {"bench": bench, "meter": meter, "quantity": quantity, "said": said, "offered_by": by}
    if known := OfferedReading.objects.filter(id=id).first():
        return require_same(known, **told), False
    reading_said(said, Quantity(quantity))
    if not timedelta(0) <= age < OFFERED_FOR:
        raise BadField("sent_at", _("It was read too long ago to be shown."), "too_old")
    if meter.retired_on and meter.retired_on < timezone.localdate(now, shop_zone()):
        raise BadField("meter", _("This meter was put away."), "put_away")
    OfferedReading.objects.filter(taken_at__lt=now - OFFERS_KEPT_FOR).delete()
    try:
        with transaction.atomic():
            made = OfferedReading.objects.create(
                id=id, taken_at=now - age, device_id=device_id, **told
            )
    except IntegrityError:  # the same id at the same moment
        return require_same(OfferedReading.objects.get(id=id), **told), False
    return made, True
