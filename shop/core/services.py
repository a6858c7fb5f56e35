"""Writes of the core: people's phones, gapless numbers, signs of life."""

from __future__ import annotations

from datetime import timedelta
from uuid import UUID

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from shop.core.errors import ShopError
from shop.core.models import Counter, Device, Heartbeat, Person, Role

HEARTBEAT_EVERY = timedelta(seconds=10)


class DeviceRevoked(ShopError):
    status = 401
    code = "device_revoked"
    title = "This phone was withdrawn. Ask the manager."


def add_person(
    *, username: str, name: str, role: str, password: str, language: str = "en"
) -> Person:
    """Add somebody who works here. A manager may also use the admin."""
    is_manager = role == Role.MANAGER
    return Person.objects.create_user(
        username=username,
        password=password,
        name=name,
        role=role,
        language=language,
        is_staff=is_manager,
        is_superuser=is_manager,
    )


@transaction.atomic
def enrol_device(*, id: UUID, name: str, person: Person) -> Device:
    """Take a phone into the list, or see it again under whoever signs in now.

    Raises DeviceRevoked: a withdrawn phone stays out whoever uses it.
    """
    now = timezone.now()
    fresh = {"name": name[:80], "person": person, "enrolled_at": now, "last_seen_at": now}
    device, created = Device.objects.get_or_create(id=id, defaults=fresh)
    if device.revoked_at:
        raise DeviceRevoked()
    if not created:
        device.name, device.person, device.last_seen_at = name[:80], person, now
        device.save(update_fields=["name", "person", "last_seen_at"])
    return device


@transaction.atomic
def revoke_device(*, device: Device, by: Person) -> None:
    """Withdraw a phone. It is refused from its next request on, and nobody's PIN opens it."""
    Device.objects.filter(id=device.id, revoked_at=None).update(
        revoked_at=timezone.now(), revoked_by=by
    )
    device.pins.all().delete()


def next_number(kind: str) -> int:
    """The next gapless number of a kind. Call it last in a transaction: the row is locked."""
    Counter.objects.get_or_create(kind=kind)
    Counter.objects.filter(kind=kind).update(last=F("last") + 1)
    return Counter.objects.get(kind=kind).last


def beat_heart(*, name: str) -> None:
    """Note that somebody is alive, at most once in ten seconds."""
    now = timezone.now()
    if Heartbeat.objects.filter(name=name, seen_at__gt=now - HEARTBEAT_EVERY).exists():
        return
    Heartbeat.objects.update_or_create(name=name, defaults={"seen_at": now})
