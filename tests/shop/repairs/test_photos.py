"""Photos: really pictures, without the camera's own data, kept once."""

import hashlib
import io
import struct
import zlib

import pytest
from django.core.files.storage import default_storage
from PIL import Image, PngImagePlugin

from shop.repairs.errors import NotAnImage, PhotoHashDiffers, PhotoTooLarge
from shop.repairs.models import Photo, RepairPhoto
from shop.repairs.pictures import clean_picture, thumbnail_width
from shop.repairs.services import attach_photo, make_thumbnail, store_photo
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db
ORIENTATION, GPS, MAKE = 0x0112, 0x8825, 0x010F


def picture(kind="JPEG", size=(40, 20), **more):
    out = io.BytesIO()
    Image.new("RGB", size, "orange").save(out, format=kind, **more)
    return out.getvalue()


def picture_with_exif(kind="JPEG"):
    exif = Image.Exif()
    exif[MAKE], exif[ORIENTATION] = "Testcamera", 6  # 6: to be turned by a quarter
    exif[GPS] = {1: "N", 2: (52.0, 31.0, 0.0)}
    return picture(kind, exif=exif)


def sha(content):
    return hashlib.sha256(content).hexdigest()


def bytes_of(photo):
    with photo.file.open("rb") as file:
        return file.read()


def stored():
    return sorted(default_storage.listdir("photos")[0]) if default_storage.exists("photos") else []


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_clean_picture_is_kept_byte_for_byte(anna, kind):
    content = picture(kind)

    photo, created = store_photo(
        sha256=sha(content), content=content, repair=RepairFactory(), by=anna
    )

    assert created
    assert (photo.width, photo.height, photo.size) == (40, 20, len(content))
    assert photo.kind == kind.lower()
    assert bytes_of(photo) == content


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_place_and_camera_are_taken_out_and_the_picture_stands_upright(anna, kind):
    content = picture_with_exif(kind)

    photo, _ = store_photo(sha256=sha(content), content=content, repair=RepairFactory(), by=anna)

    kept = bytes_of(photo)
    image = Image.open(io.BytesIO(kept))
    assert photo.sha256 == sha(content)
    assert (photo.width, photo.height) == image.size == (20, 40)
    assert dict(image.getexif()) == {}
    assert b"Testcamera" not in kept


def test_words_inside_a_picture_are_taken_out():
    words = PngImagePlugin.PngInfo()
    words.add_text("Comment", "taken at home")

    png = clean_picture(picture("PNG", pnginfo=words))
    jpeg = clean_picture(picture("JPEG", comment=b"taken at home"))

    assert b"taken at home" not in png.content
    assert b"taken at home" not in jpeg.content


def test_the_same_photo_again_changes_nothing(anna):
    content, repair = picture(), RepairFactory()
    sent = {"sha256": sha(content), "content": content, "repair": repair, "by": anna}
    first, _ = store_photo(**sent)

    again, created = store_photo(**sent)

    assert (again, created) == (first, False)
    assert RepairPhoto.objects.count() == 1
    assert len(stored()) == 1


def test_one_photo_may_belong_to_two_repairs_and_is_kept_once(anna):
    content = picture()
    for repair in (RepairFactory(), RepairFactory()):
        store_photo(sha256=sha(content), content=content, repair=repair, by=anna)

    assert Photo.objects.count() == 1
    assert RepairPhoto.objects.count() == 2


def test_the_caption_from_the_counter_outlives_the_arrival_of_the_bytes(anna):
    content, repair = picture(), RepairFactory()
    attach_photo(sha256=sha(content), repair=repair, caption="dented lid")

    store_photo(sha256=sha(content), content=content, repair=repair, by=anna)

    assert RepairPhoto.objects.get().caption == "dented lid"


def bomb(width, height):
    """A PNG that says it is so large, in a few bytes."""
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = [(b"IHDR", header), (b"IDAT", zlib.compress(bytes(1000))), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        for kind, body in chunks
    )


REFUSED = {
    "empty": (b"", NotAnImage),
    "text": (b"no picture", NotAnImage),
    "html": (b"<html><script>alert(1)</script></html>", NotAnImage),
    "cut off": (picture(size=(400, 400))[:300], NotAnImage),
    "another kind": (picture("GIF"), NotAnImage),
    "too many pixels": (bomb(8000, 5001), PhotoTooLarge),
    "far too many pixels": (bomb(50_000, 50_000), PhotoTooLarge),
    "too many bytes": (picture() + bytes(6 * 1024 * 1024), PhotoTooLarge),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_no_photo_is_refused_and_nothing_is_kept(anna, name):
    content, error = REFUSED[name]

    with pytest.raises(error):
        store_photo(sha256=sha(content), content=content, repair=RepairFactory(), by=anna)

    assert not Photo.objects.exists()
    assert not RepairPhoto.objects.exists()
    assert stored() == []


def test_bytes_that_do_not_fit_their_name_are_refused(anna):
    with pytest.raises(PhotoHashDiffers):
        store_photo(sha256="0" * 64, content=picture(), repair=RepairFactory(), by=anna)

    assert not Photo.objects.exists()


def test_a_small_one_is_made_once(anna):
    content = picture(size=(1000, 500))
    photo, _ = store_photo(sha256=sha(content), content=content, repair=RepairFactory(), by=anna)

    small = make_thumbnail(photo=photo, width=160)
    photo.file.storage.delete(photo.file.name)  # the second time needs no original
    again = make_thumbnail(photo=photo, width=160)

    assert Image.open(io.BytesIO(small)).size == (160, 80)
    assert again == small


def test_only_a_few_widths_are_ever_made():
    assert [thumbnail_width(w) for w in (16, 160, 161, 700, 9000)] == [160, 160, 320, 1280, 1280]
