"""Photos that come in parts, over links that drop: kept part by part, whole only by their hash."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.conf import settings
from django.db import IntegrityError, transaction
from django.db.models import Max, QuerySet
from django.utils import timezone

from shop.core.errors import ShopError
from shop.core.models import Person
from shop.repairs.errors import PartSizeNotAllowed, PhotoTooLarge, UploadOffsetDiffers
from shop.repairs.models import Photo, PhotoPart, Repair
from shop.repairs.services.photos import attach_photo, store_photo

SMALLEST_PART = 16 * 1024  # bytes; only the last part of a photo may be smaller
LARGEST_PART = 1024 * 1024
MOST_UNFINISHED = 20  # photos of one person; a phone sends them one after the other
KEPT_FOR = timedelta(days=1)  # since the newest part


def kept_offset(*, sha256: str, by: Person) -> int:
    """How many bytes of this photo are here from this person, without a gap."""
    end = 0
    for begins_at, size in _parts(sha256, by).values_list("begins_at", "size"):
        if begins_at != end:
            break
        end += size
    return end


def receive_part(
    *,
    sha256: str,
    offset: int,
    content: bytes,
    is_last: bool,
    by: Person,
    repair: Repair | None = None,
    now: datetime | None = None,
) -> tuple[Photo | None, int]:
    """Keep one part. The last one makes the photo. Answers the photo, if whole, and the new offset.

    A photo that is here already needs no part. Raises UploadOffsetDiffers, PartSizeNotAllowed,
    PhotoTooLarge; with the last part also PhotoHashDiffers and NotAnImage, and drops the parts.
    """
    if photo := Photo.objects.filter(sha256=sha256).first():
        if repair:
            attach_photo(sha256=sha256, repair=repair)
        _parts(sha256, by).delete()
        return photo, offset
    _check_size(offset, len(content), is_last=is_last)
    _append(sha256, offset, content, by, now or timezone.now())
    end = offset + len(content)
    return (_make_photo(sha256, end, by, repair) if is_last else None), end


def _check_size(offset: int, size: int, *, is_last: bool) -> None:
    if size > LARGEST_PART or (size < SMALLEST_PART and not is_last):
        raise PartSizeNotAllowed()
    if offset + size > settings.PHOTO_MAX_BYTES:
        raise PhotoTooLarge()


def _append(sha256: str, offset: int, content: bytes, by: Person, now: datetime) -> None:
    expected = kept_offset(sha256=sha256, by=by)
    if offset != expected:
        raise UploadOffsetDiffers(expected_offset=expected)
    if not content:
        return
    if not offset:
        _make_room(by)
    part = PhotoPart(sha256=sha256, sent_by=by, begins_at=offset, size=len(content))
    part.content, part.received_at = content, now
    try:
        with transaction.atomic():
            part.save(force_insert=True)
    except IntegrityError as error:  # another tab or phone of the same person was first
        raise UploadOffsetDiffers(expected_offset=kept_offset(sha256=sha256, by=by)) from error


def _make_photo(sha256: str, end: int, by: Person, repair: Repair | None) -> Photo:
    parts = _parts(sha256, by).filter(begins_at__lt=end).values_list("content", flat=True)
    whole = b"".join(bytes(content) for content in parts)
    try:
        photo, _created = store_photo(sha256=sha256, content=whole, repair=repair, by=by)
    except ShopError:
        _parts(sha256, by).delete()  # bytes that make no photo are of no use to the next try
        raise
    _parts(sha256, by).delete()
    return photo


def _parts(sha256: str, by: Person) -> QuerySet[PhotoPart]:
    return PhotoPart.objects.filter(sha256=sha256, sent_by=by).order_by("begins_at")


def _make_room(by: Person) -> None:
    """A person has only so many photos on their way: the one left lying longest makes room."""
    newest = PhotoPart.objects.filter(sent_by=by).values("sha256").annotate(at=Max("received_at"))
    for row in newest.order_by("-at")[MOST_UNFINISHED - 1 :]:
        _parts(row["sha256"], by).delete()


def forget_stale_parts(*, now: datetime | None = None) -> int:
    """Drop the parts of photos that nobody went on sending for a day. Answers how many photos."""
    before = (now or timezone.now()) - KEPT_FOR
    photos = PhotoPart.objects.values("sha256", "sent_by").annotate(at=Max("received_at"))
    stale = list(photos.filter(at__lt=before))
    for row in stale:
        # One that goes on meanwhile keeps what is new; it begins again where the server says.
        PhotoPart.objects.filter(
            sha256=row["sha256"], sent_by=row["sent_by"], received_at__lt=before
        ).delete()
    return len(stale)
