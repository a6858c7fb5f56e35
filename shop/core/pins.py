"""The quick way in on a phone that several people share: a PIN for each, checked here only.

A PIN fits one person on one phone. That it is this phone, the phone shows by a secret (`give_key`);
so whoever learns a PIN, or guesses the id of a phone, has nothing yet.
"""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from uuid import UUID

from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction
from django.db.models import Case, F, Q, QuerySet, Value, When
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shop.core.errors import BadField, ShopError
from shop.core.models import Device, Person, Pin
from shop.core.services import DeviceRevoked

TRIES_BEFORE_LOCK = 5
MOST_TRIES = 10
LOCKED_FOR = timedelta(minutes=15)
PASSWORD_EVERY = timedelta(days=30)
# Down the middle of the keys, and up.
WELL_KNOWN = {"2580", "0852"}


class NoPinHere(ShopError):
    code = "no_pin_here"
    title = gettext_lazy("There is no PIN for you on this phone. Sign in with your password.")


class WrongPin(ShopError):
    status = 403
    code = "wrong_pin"
    title = gettext_lazy("This PIN does not fit.")


class PinLocked(ShopError):
    status = 429
    code = "pin_locked"
    title = gettext_lazy("Too many wrong PINs. Wait a quarter of an hour, or use your password.")


@dataclass(frozen=True)
class Unlocked:
    """Who came in, and how many wrong PINs were tried in their name since they last did."""

    person: Person
    wrong_tries: int


def give_key(*, device: Device) -> str:
    """A new secret by which this phone is known again; only its hash is kept.

    Whoever had a PIN on it sets it anew: without the old secret it could be another phone.
    """
    key = secrets.token_urlsafe(32)
    with transaction.atomic():
        Device.objects.filter(id=device.id).update(key_hash=_key_hash(key))
        device.pins.all().delete()
    return key


def device_with_key(key: str) -> Device | None:
    """The phone that has this secret. Raises DeviceRevoked for a withdrawn one."""
    device = Device.objects.filter(key_hash=_key_hash(key)).first() if key else None
    if device and device.revoked_at:
        raise DeviceRevoked()
    return device


def _key_hash(key: str) -> str:
    # A fast hash will do: 256 random bits cannot be guessed, unlike what people choose.
    return hashlib.sha256(key.encode()).hexdigest()


def set_pin(*, device: Device, person: Person, pin: str) -> Pin:
    """Let a PIN open this phone for this person, in place of an earlier one.

    The caller has just seen the password typed. Raises BadField if the PIN is easily guessed.
    """
    if is_guessable(pin):
        raise BadField(
            "pin", _("This PIN is tried first by anybody. Choose another."), "guessable_pin"
        )
    now = timezone.now()
    fresh = {
        "hash": make_password(pin),
        "set_at": now,
        "password_mark": person.get_session_auth_hash(),
        "password_at": now,
        "wrong_tries": 0,
        "locked_until": None,
    }
    kept, _created = Pin.objects.update_or_create(device=device, person=person, defaults=fresh)
    return kept


def is_guessable(pin: str) -> bool:
    """One or two digits over and over, a run up or down, a year, or a line on the keys."""
    steps = {(int(b) - int(a)) % 10 for a, b in pairwise(pin)}
    is_year = len(pin) == 4 and pin[:2] in {"19", "20"}
    return len(set(pin)) < 3 or steps in ({1}, {9}) or is_year or pin in WELL_KNOWN


def pins_open_to(device: Device, *, now: datetime) -> QuerySet[Pin]:
    """The PINs that may open this phone now, but for those whose password has changed."""
    return device.pins.filter(
        person__is_active=True, password_at__gt=now - PASSWORD_EVERY, wrong_tries__lt=MOST_TRIES
    ).select_related("person")


def people_with_pin(device: Device) -> list[Person]:
    """Who can open this phone by PIN now, by name."""
    pins = pins_open_to(device, now=timezone.now()).order_by("person__name", "person_id")
    return [pin.person for pin in pins if _fits_password(pin)]


def _fits_password(pin: Pin) -> bool:
    return constant_time_compare(pin.password_mark, pin.person.get_session_auth_hash())


def note_password(*, device: Device, person: Person) -> None:
    """The password was typed on this phone: a PIN set with it goes on, another one is over."""
    mine = Pin.objects.filter(device=device, person=person)
    mine.exclude(password_mark=person.get_session_auth_hash()).delete()
    mine.update(password_at=timezone.now(), wrong_tries=0, locked_until=None)


def unlock(*, device: Device, person_id: UUID, pin: str) -> Unlocked:
    """Who comes in by this PIN. Not inside a transaction: a try must stay counted.

    Raises NoPinHere, WrongPin, PinLocked.
    """
    now = timezone.now()
    kept = pins_open_to(device, now=now).filter(person_id=person_id).first()
    if kept is None or not _fits_password(kept):
        raise NoPinHere()
    _take_try(kept, now)
    if not check_password(pin, kept.hash):
        raise _wrong(kept)
    # Withdrawn, or set anew, while we looked: then it was another PIN that fitted.
    same = Pin.objects.filter(id=kept.id, hash=kept.hash)
    if not same.update(wrong_tries=0, locked_until=None):
        raise NoPinHere()
    Device.objects.filter(id=device.id).update(person=kept.person, last_seen_at=now)
    return Unlocked(kept.person, kept.wrong_tries)


def _take_try(pin: Pin, now: datetime) -> None:
    """Count the try before looking: guesses sent at once then have no more tries than others."""
    free = Q(locked_until=None) | Q(locked_until__lte=now)
    locked = Case(
        When(wrong_tries=TRIES_BEFORE_LOCK - 1, then=Value(now + LOCKED_FOR)),
        default=F("locked_until"),
    )
    counted = Pin.objects.filter(free, id=pin.id, wrong_tries__lt=MOST_TRIES)
    if not counted.update(wrong_tries=F("wrong_tries") + 1, locked_until=locked):
        raise PinLocked()


def _wrong(pin: Pin) -> ShopError:
    """What to say after a wrong PIN. The last try drops it: from then on it takes the password."""
    if Pin.objects.filter(id=pin.id, wrong_tries__gte=MOST_TRIES).delete()[0]:
        return NoPinHere(
            _("Too many wrong PINs: this PIN is no longer valid. Sign in with your password.")
        )
    tries = Pin.objects.filter(id=pin.id).values_list("wrong_tries", flat=True).first()
    if tries is None:
        return NoPinHere()
    left = (TRIES_BEFORE_LOCK if tries < TRIES_BEFORE_LOCK else MOST_TRIES) - tries
    return PinLocked() if tries == TRIES_BEFORE_LOCK else WrongPin(tries_left=left)


def drop_pin(*, pin: Pin) -> None:
    """Nothing opens this phone for this person but the password."""
    pin.delete()
