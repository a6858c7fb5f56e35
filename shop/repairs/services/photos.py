"""Photos come in: checked, cleaned, kept once by the hash of the bytes that were sent."""

from __future__ import annotations

import hashlib

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction
from django.utils import timezone

from shop.core.models import Person
from shop.repairs.errors import PhotoHashDiffers
from shop.repairs.models import Photo, Repair, RepairPhoto
from shop.repairs.pictures import Picture, clean_picture, thumbnail


def store_photo(
    *, sha256: str, content: bytes, by: Person, repair: Repair | None = None
) -> tuple[Photo, bool]:
    """Keep a photo, of a repair where it belongs to one. Answers the photo and whether it is new.

    A repeat returns the first result. Raises PhotoHashDiffers, NotAnImage, PhotoTooLarge.
    """
    if hashlib.sha256(content).hexdigest() != sha256:
        raise PhotoHashDiffers()
    known = Photo.objects.filter(sha256=sha256).first()
    photo, created = (known, False) if known else _keep(sha256, clean_picture(content), by)
    if repair:
        attach_photo(sha256=sha256, repair=repair)
    return photo, created


def _keep(sha256: str, picture: Picture, by: Person) -> tuple[Photo, bool]:
    # The file is written outside the transaction, so that a slow disk holds no lock.
    name = default_storage.save(
        f"photos/{sha256[:2]}/{sha256}.{picture.kind}", ContentFile(picture.content)
    )
    photo, created = Photo.objects.get_or_create(
        sha256=sha256,
        defaults={
            "width": picture.width,
            "height": picture.height,
            "size": len(picture.content),
            "kind": picture.kind,
            "file": name,
            "received_at": timezone.now(),
            "received_from": by,
        },
    )
    if not created:
        default_storage.delete(name)  # another phone was first
    return photo, created


@transaction.atomic
def attach_photo(*, sha256: str, repair: Repair, caption: str = "") -> RepairPhoto:
    """A photo belongs to a repair, whether its bytes have arrived or not. A repeat is one row."""
    fresh = {"caption": caption, "taken_at": timezone.now()}
    attached, _created = RepairPhoto.objects.get_or_create(
        repair=repair, sha256=sha256, defaults=fresh
    )
    return attached


def make_thumbnail(*, photo: Photo, width: int) -> bytes:
    """A smaller JPEG of a photo, made once and kept beside it."""
    name = f"photos/small/{photo.sha256[:2]}/{photo.sha256}-{width}.jpeg"
    if default_storage.exists(name):
        with default_storage.open(name) as kept:
            return bytes(kept.read())
    with photo.file.open("rb") as original:
        small = thumbnail(original.read(), width)
    default_storage.save(name, ContentFile(small))
    return small
