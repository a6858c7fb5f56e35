"""Parts of photos: bounded, swept, and the same in row and file whatever is killed between."""

import hashlib
import threading
from datetime import timedelta

import pytest
from django.core.files.storage import default_storage
from django.db import OperationalError, connection

from shop.repairs.errors import UploadOffsetDiffers
from shop.repairs.models import Photo, PhotoPart
from shop.repairs.services import forget_stale_parts, kept_offset, receive_part
from shop.repairs.services import photo_parts as under_test
from tests.factories.core import NOW, PersonFactory
from tests.factories.everything import picture

PART = bytes(16 * 1024)
CONTENT = picture() + bytes(40 * 1024)  # a picture with a tail
NAME = hashlib.sha256(CONTENT).hexdigest()


def name(n):
    return f"{n:064x}"


@pytest.mark.django_db
def test_parts_that_nobody_went_on_sending_are_forgotten_after_a_day(anna):
    receive_part(sha256=name(1), offset=0, content=PART, is_last=False, by=anna, now=NOW)
    day_later = NOW + timedelta(days=1, minutes=1)
    receive_part(sha256=name(2), offset=0, content=PART, is_last=False, by=anna, now=NOW)
    receive_part(
        sha256=name(2), offset=len(PART), content=PART, is_last=False, by=anna, now=day_later
    )

    forgotten = forget_stale_parts(now=day_later)

    assert forgotten == 1
    assert set(PhotoPart.objects.values_list("sha256", flat=True)) == {name(2)}
    assert kept_offset(sha256=name(2), by=anna) == 2 * len(PART)


@pytest.mark.django_db
def test_a_person_has_only_so_many_photos_on_their_way(anna, max):
    receive_part(sha256=name(0), offset=0, content=PART, is_last=False, by=max, now=NOW)
    for n in range(25):
        receive_part(
            sha256=name(n), offset=0, content=PART, is_last=False, by=anna,
            now=NOW + timedelta(seconds=n),
        )  # fmt: skip

    kept = PhotoPart.objects.filter(sent_by=anna).values_list("sha256", flat=True)

    assert set(kept) == {name(n) for n in range(5, 25)}
    assert PhotoPart.objects.filter(sent_by=max).count() == 1


@pytest.mark.django_db
def test_killed_while_the_photo_is_made_the_parts_are_still_there(anna, monkeypatch):
    def dies(**_given):
        raise OperationalError("the machine went away")

    receive_part(sha256=NAME, offset=0, content=CONTENT[:20_000], is_last=False, by=anna)
    with monkeypatch.context() as patch:
        patch.setattr(under_test, "store_photo", dies)
        with pytest.raises(OperationalError):
            receive_part(
                sha256=NAME, offset=20_000, content=CONTENT[20_000:], is_last=True, by=anna
            )

    assert kept_offset(sha256=NAME, by=anna) == len(CONTENT)
    assert not Photo.objects.exists()
    photo, _offset = receive_part(
        sha256=NAME, offset=len(CONTENT), content=b"", is_last=True, by=anna
    )
    assert default_storage.size(photo.file.name) == photo.size
    assert not PhotoPart.objects.exists()


@pytest.mark.django_db
def test_killed_after_the_photo_was_made_its_parts_go_with_the_next_question(anna):
    receive_part(sha256=NAME, offset=0, content=CONTENT[:20_000], is_last=False, by=anna)
    under_test.store_photo(sha256=NAME, content=CONTENT, by=anna)

    photo, _offset = receive_part(
        sha256=NAME, offset=20_000, content=CONTENT[20_000:], is_last=True, by=anna
    )

    assert photo == Photo.objects.get()
    assert not PhotoPart.objects.exists()


@pytest.mark.django_db(transaction=True)
@pytest.mark.postgresql
def test_two_tabs_that_send_the_same_part_at_once_keep_it_once():
    person, outcomes = PersonFactory(), []
    start = threading.Barrier(6)

    def send():
        start.wait()
        try:
            receive_part(sha256=NAME, offset=0, content=PART, is_last=False, by=person)
            outcomes.append("kept")
        except UploadOffsetDiffers as why:
            outcomes.append(why.facts["expected_offset"])
        finally:
            connection.close()

    threads = [threading.Thread(target=send) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert outcomes.count("kept") == 1
    assert outcomes.count(len(PART)) == 5
    assert kept_offset(sha256=NAME, by=person) == len(PART)
