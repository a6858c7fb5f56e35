"""Photos over HTTP: raw bytes in, pictures out, to staff only."""

import hashlib
import io

import pytest
from PIL import Image

from shop.repairs.models import Photo, RepairPhoto
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


def picture(size=(400, 200), kind="JPEG"):
    out = io.BytesIO()
    Image.new("RGB", size, "orange").save(out, format=kind)
    return out.getvalue()


def put(client, content, repair=None, sha256=None, content_type="image/jpeg"):
    name = sha256 or hashlib.sha256(content).hexdigest()
    query = f"?repair={repair}" if repair else ""
    return client.put(f"/api/v1/photos/{name}/{query}", content, content_type=content_type)


def test_a_photo_is_kept_and_its_repeat_changes_nothing(api, anna):
    repair, content = RepairFactory(), picture()

    first = put(api(anna), content, repair.id)
    again = put(api(anna), content, repair.id)

    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json() == again.json()
    assert first.json()["width"] == 400
    assert (Photo.objects.count(), RepairPhoto.objects.count()) == (1, 1)


def test_a_photo_comes_back_as_a_picture_and_as_nothing_else(api, anna):
    content = picture()
    sha256 = put(api(anna), content, RepairFactory().id).json()["sha256"]

    answer = api(anna).get(f"/api/v1/photos/{sha256}/")

    assert answer.content == content
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Disposition"].startswith("inline; filename=")
    assert "private" in answer["Cache-Control"]
    assert "sandbox" in answer["Content-Security-Policy"]


@pytest.mark.parametrize(("asked", "width"), [(100, 160), (300, 320), (400, 400), (5000, 400)])
def test_a_small_one_is_as_wide_as_asked_or_a_little_more(api, anna, asked, width):
    sha256 = put(api(anna), picture(), RepairFactory().id).json()["sha256"]

    answer = api(anna).get(f"/api/v1/photos/{sha256}/", {"width": asked})

    assert Image.open(io.BytesIO(answer.content)).width == width


@pytest.mark.parametrize("width", ["0", "wide", "-5", "99999999"])
def test_a_width_that_is_none_is_named(api, anna, width):
    sha256 = put(api(anna), picture(), RepairFactory().id).json()["sha256"]

    answer = api(anna).get(f"/api/v1/photos/{sha256}/", {"width": width})

    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "width"


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "not_an_image"),
        (b"<html>", "not_an_image"),
        (picture(kind="GIF"), "not_an_image"),
        (picture() + bytes(6 * 1024 * 1024), "photo_too_large"),
    ],
    ids=["empty", "html", "gif", "too large"],
)
@pytest.mark.parametrize("content_type", ["image/jpeg", "application/json", "text/html"])
def test_what_is_no_photo_is_refused_whatever_it_calls_itself(
    api, anna, content, code, content_type
):
    answer = put(api(anna), content, RepairFactory().id, content_type=content_type)

    assert (answer.status_code, answer.json()["code"]) == (400, code)
    assert not Photo.objects.exists()


def test_bytes_that_do_not_fit_their_name_are_refused(api, anna):
    answer = put(api(anna), picture(), RepairFactory().id, sha256="0" * 64)

    assert (answer.status_code, answer.json()["code"]) == (400, "photo_hash_differs")


@pytest.mark.parametrize("repair", ["x", "00000000-0000-0000-0000-000000000000"])
def test_a_repair_that_is_not_there_gets_no_photo(api, anna, repair):
    answer = put(api(anna), picture(), repair)

    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "repair"
    assert not Photo.objects.exists()


def test_a_picture_of_no_repair_is_kept_for_who_writes_at_the_bench(api, anna, max, dora):
    content = picture()

    refused = put(api(dora), content)
    first, again = put(api(anna), content), put(api(max), content)

    assert (refused.status_code, refused.json()["code"]) == (403, "not_your_role")
    assert (first.status_code, again.status_code) == (201, 200)
    assert (Photo.objects.count(), RepairPhoto.objects.count()) == (1, 0)


def test_nobody_from_outside_sees_a_photo(api, anna, stranger):
    sha256 = put(api(anna), picture(), RepairFactory().id).json()["sha256"]

    assert api().get(f"/api/v1/photos/{sha256}/").status_code == 401
    assert api(stranger).get(f"/api/v1/photos/{sha256}/").status_code == 403
    assert put(api(), picture(), RepairFactory().id).status_code == 401


def test_a_photo_that_is_not_there_is_a_404(api, anna):
    assert api(anna).get(f"/api/v1/photos/{'0' * 64}/").status_code == 404
