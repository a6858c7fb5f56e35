"""Photos in parts over HTTP: what a phone on a link that drops asks, sends and hears."""

import hashlib
import io
import random

import pytest
from PIL import Image

from shop.repairs.models import Photo, PhotoPart, RepairPhoto
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db
PART = 32 * 1024


def grainy(side=400, seed=1):
    """A picture that does not shrink to nothing: about 470 kB."""
    out = io.BytesIO()
    pixels = random.Random(seed).randbytes(side * side * 3)
    Image.frombytes("RGB", (side, side), pixels).save(out, format="PNG")
    return out.getvalue()


CONTENT = grainy()
NAME = hashlib.sha256(CONTENT).hexdigest()
ADDRESS = f"/api/v1/photos/{NAME}/upload/"


def kept_bytes():
    with Photo.objects.get().file.open("rb") as file:
        return file.read()


def send(client, offset, content, *, last=False, repair=None, address=ADDRESS):
    return client.generic(
        "PATCH",
        f"{address}?repair={repair}" if repair else address,
        content,
        "application/partial-upload",
        HTTP_UPLOAD_OFFSET=str(offset),
        HTTP_UPLOAD_COMPLETE="?1" if last else "?0",
    )


def send_whole(client, repair=None, begin=0, content=CONTENT, address=ADDRESS):
    for offset in range(begin, len(content), PART):
        part = content[offset : offset + PART]
        last = offset + PART >= len(content)
        answer = send(client, offset, part, last=last, repair=repair, address=address)
        assert answer.status_code == 200, answer.content
    return answer


def test_parts_in_order_make_the_photo_of_the_repair(api, anna):
    repair = RepairFactory()

    answer = send_whole(api(anna), repair.id)

    assert answer.json()["complete"] is True
    assert answer.json()["photo"]["sha256"] == NAME
    assert answer["Upload-Complete"] == "?1"
    assert kept_bytes() == CONTENT
    assert RepairPhoto.objects.get().repair == repair
    assert not PhotoPart.objects.exists()


def test_the_server_says_where_to_go_on(api, anna):
    client = api(anna)
    send(client, 0, CONTENT[:PART])
    send(client, PART, CONTENT[PART : 2 * PART])

    answer, head = client.get(ADDRESS), client.head(ADDRESS)

    assert answer.json() == {"offset": 2 * PART, "complete": False}
    assert (head["Upload-Offset"], head["Upload-Complete"]) == (str(2 * PART), "?0")
    assert (head["Cache-Control"], head.content) == ("no-store", b"")
    assert "max-append-size=" in head["Upload-Limit"]


def test_a_part_sent_twice_is_refused_with_the_place_to_go_on_and_kept_once(api, anna):
    client = api(anna)
    send(client, 0, CONTENT[:PART])

    again = send(client, 0, CONTENT[:PART])

    assert (again.status_code, again.json()["code"]) == (409, "upload_offset_differs")
    assert again.json()["expected_offset"] == PART
    assert PhotoPart.objects.count() == 1


def test_a_part_that_leaves_a_gap_is_refused(api, anna):
    answer = send(api(anna), PART, CONTENT[PART : 2 * PART])

    assert (answer.status_code, answer.json()["expected_offset"]) == (409, 0)
    assert not PhotoPart.objects.exists()


def test_half_a_photo_is_seen_by_nobody(api, anna):
    repair = RepairFactory()
    send(api(anna), 0, CONTENT[:PART], repair=repair.id)

    assert api(anna).get(f"/api/v1/photos/{NAME}/").status_code == 404
    assert not Photo.objects.exists()
    assert not RepairPhoto.objects.exists()


def test_two_people_send_the_same_photo_each_their_own_parts(api, anna, max):
    repair = RepairFactory()
    send(api(anna), 0, CONTENT[:PART])

    assert api(max).get(ADDRESS).json()["offset"] == 0
    send_whole(api(max), repair.id)
    rest = send(api(anna), PART, b"", last=True, repair=repair.id)

    assert rest.json()["complete"] is True  # nothing more to send
    assert Photo.objects.get().received_from == max
    assert not PhotoPart.objects.exists()


def test_a_lost_last_answer_is_found_out_by_asking(api, anna):
    client, repair = api(anna), RepairFactory()
    send_whole(client, repair.id)

    assert client.get(ADDRESS).json() == {
        "offset": len(CONTENT),
        "complete": True,
        "photo": {"sha256": NAME, "width": 400, "height": 400, "size": len(CONTENT)},
    }
    again = send(client, 0, CONTENT[:PART], repair=repair.id)
    assert (again.status_code, again.json()["complete"]) == (200, True)
    assert RepairPhoto.objects.count() == 1


def test_a_photo_that_is_here_belongs_to_the_next_repair_without_being_sent_again(api, anna):
    first, second = RepairFactory(), RepairFactory()
    send_whole(api(anna), first.id)

    send(api(anna), 0, b"", last=True, repair=second.id)

    assert set(RepairPhoto.objects.values_list("repair_id", flat=True)) == {first.id, second.id}


def test_bytes_that_do_not_fit_the_name_make_no_photo_and_are_dropped(api, anna):
    client, repair = api(anna), RepairFactory()
    send(client, 0, bytes(PART))

    answer = send(client, PART, CONTENT[PART:], last=True, repair=repair.id)

    assert (answer.status_code, answer.json()["code"]) == (400, "photo_hash_differs")
    assert not Photo.objects.exists()
    assert client.get(ADDRESS).json()["offset"] == 0


def test_parts_that_make_no_picture_are_refused(api, anna):
    content = b"<html>" * 10_000
    address = f"/api/v1/photos/{hashlib.sha256(content).hexdigest()}/upload/"

    send(api(anna), 0, content[:PART], address=address)
    answer = send(api(anna), PART, content[PART:], last=True, address=address)

    assert (answer.status_code, answer.json()["code"]) == (400, "not_an_image")
    assert not PhotoPart.objects.exists()


@pytest.mark.parametrize("size", [1, 16 * 1024 - 1, 1024 * 1024 + 1])
def test_parts_too_small_or_too_large_are_refused(api, anna, size):
    answer = send(api(anna), 0, bytes(size))

    assert (answer.status_code, answer.json()["code"]) == (400, "part_size_not_allowed")


def test_a_photo_does_not_grow_beyond_what_a_photo_may_have(api, anna):
    client, part = api(anna), bytes(1024 * 1024)
    for offset in range(0, 6 * len(part), len(part)):
        assert send(client, offset, part).status_code == 200

    answer = send(client, 6 * len(part), part)

    assert (answer.status_code, answer.json()["code"]) == (400, "photo_too_large")
    assert PhotoPart.objects.count() == 6


@pytest.mark.parametrize("offset", ["", "-1", "x", "1.5", "99999999999999"])
def test_an_offset_that_is_none_is_named(api, anna, offset):
    answer = send(api(anna), offset, CONTENT[:PART])

    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "Upload-Offset"


@pytest.mark.parametrize("complete", ["1", "true", "yes", ""])
def test_a_last_mark_that_is_none_is_named_and_keeps_nothing(api, anna, complete):
    answer = api(anna).generic(
        "PATCH", ADDRESS, CONTENT[:PART], HTTP_UPLOAD_OFFSET="0", HTTP_UPLOAD_COMPLETE=complete
    )

    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "Upload-Complete"
    assert not PhotoPart.objects.exists()


def test_a_picture_of_no_repair_is_for_who_writes_at_the_bench(api, anna, dora):
    refused = send(api(dora), 0, CONTENT[:PART])
    taken = send(api(anna), 0, CONTENT[:PART])

    assert (refused.status_code, refused.json()["code"]) == (403, "not_your_role")
    assert taken.status_code == 200


def test_every_third_request_dropped_before_or_after_it_was_taken_still_makes_one_photo(api, anna):
    client, repair, dice = api(anna), RepairFactory(), random.Random(7)
    requests = offset = 0

    while True:
        requests += 1
        part = CONTENT[offset : offset + PART]
        last = offset + PART >= len(CONTENT)
        if requests % 3 == 0 and dice.random() < 0.5:
            continue  # lost on the way there
        answer = send(client, offset, part, last=last, repair=repair.id)
        if requests % 3 == 0:  # lost on the way back: ask
            answer = client.get(ADDRESS)
        if answer.json().get("complete"):
            break
        offset = answer.json()["offset"]

    assert kept_bytes() == CONTENT
    assert not PhotoPart.objects.exists()
