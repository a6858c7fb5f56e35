"""Each paper holds what it must, on the pages it should have, and its codes can be scanned."""

import io

import pytest
import zxingcpp
from django.core.files.base import ContentFile
from PIL import Image

from shop.core.models import Shop
from shop.repairs.models import Photo, RepairPhoto
from shop.repairs.selectors import status_url
from shop.units.models import Piece
from tests.factories.core import NOW
from tests.factories.papers import PIECE_CODE, UNIT_CODE
from tests.shop.documents.reading_pdf import codes_on, issued, pages, picture, text

pytestmark = pytest.mark.django_db


def test_the_receipt_says_what_was_left_and_what_may_be_done(repair):
    receipt = issued(repair, "receipt")

    said = text(receipt)
    for words in (
        "Receipt for repair 1042", repair.customer.name, "It hums. Smelled hot.",
        "Dent, 4.7 Ω ±5 %",
        "step-down transformer", PIECE_CODE, "45.00 EUR incl. tax",
        "up to 150.00 EUR incl. tax", "ask first",
        "must be saved first", "120 V, 60 Hz (United States)",
        "Signed on screen by C. Test", "2 Mar 2026, 10:00 CET", "Stored for six months.",
        "Lamp Lane Repairs",
    ):  # fmt: skip
        assert words in said.replace("\u00a0", " "), words
    assert len(pages(receipt)) == 1


def test_a_german_receipt_writes_days_money_and_countries_the_german_way(repair):
    repair.customer.language = "de"
    repair.customer.save()

    said = text(issued(repair, "receipt")).replace("\u00a0", " ")

    for words in (
        "Gebühr für die Durchsicht 45,00 EUR inkl. Steuer", "bis 150,00 EUR inkl. Steuer",
        "120 V, 60 Hz (Vereinigte Staaten)", "02.03.2026, 10:00 CET",
    ):  # fmt: skip
        assert words in said, words


def test_a_name_typed_for_a_signature_stands_on_the_receipt(repair):
    repair.signature = {"svg": "", "strokes": 0, "name": "C. Test"}
    repair.save(update_fields=["signature"])

    receipt = issued(repair, "receipt")

    assert "Agreed to on screen with the name C. Test" in text(receipt)


def test_the_receipt_is_tagged_for_screen_readers(repair):
    receipt = issued(repair, "receipt")

    catalogue = pages(receipt)[0].indirect_reference.pdf.trailer["/Root"]
    assert catalogue["/MarkInfo"]["/Marked"]
    assert catalogue["/Lang"] == "en"


def test_the_code_on_the_receipt_leads_to_the_status_page(repair, tmp_path):
    receipt = issued(repair, "receipt")

    found = codes_on(picture(receipt, tmp_path, 150))

    assert found == {("QRCode", status_url(repair))}


def test_without_a_public_address_the_receipt_has_no_code_and_says_why(repair, settings, tmp_path):
    settings.PUBLIC_URL = ""

    receipt = issued(repair, "receipt")

    assert codes_on(picture(receipt, tmp_path, 150)) == set()
    assert "the address at which customers reach this shop is not set" in text(receipt)
    assert not repair.status_links.exists()


def test_damage_photos_are_on_the_receipt_and_missing_ones_are_counted(repair):
    jpeg = io.BytesIO()
    Image.new("RGB", (1600, 1200), "brown").save(jpeg, "JPEG")
    photo = Photo(
        sha256="a" * 64, width=1600, height=1200, size=9, kind="jpeg", received_at=NOW,
        received_from=repair.booked_in_by,
    )  # fmt: skip
    photo.file.save("a.jpg", ContentFile(jpeg.getvalue()))
    for sha256 in ("a" * 64, "b" * 64):
        RepairPhoto.objects.create(repair=repair, sha256=sha256, caption="dent", taken_at=NOW)

    receipt = issued(repair, "receipt")

    assert len(pages(receipt)[0].images) == 1
    assert "1 photo was still on its way" in text(receipt)


def test_a_customer_reads_the_receipt_in_their_language(repair):
    repair.customer.language = "de"
    repair.customer.save()

    receipt = issued(repair, "receipt")

    assert receipt.language == "de"
    assert "Annahmeschein zu Reparatur 1042" in text(receipt)


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("dpi", [203, 300])
@pytest.mark.parametrize(("page", "code"), [(1, UNIT_CODE), (2, PIECE_CODE)])
def test_a_tag_can_be_scanned_as_a_label_printer_prints_it(
    repair, tmp_path, dpi, page, code, language
):
    Shop.objects.update(language=language)

    tag = issued(repair, "tag")

    found = codes_on(picture(tag, tmp_path, dpi, page))

    assert found == {("DataMatrix", code)}


def test_the_tag_warns_and_names_the_unit(repair):
    tag = issued(repair, "tag")

    first, second = (" ".join(page.extract_text().split()) for page in pages(tag))
    for words in (
        UNIT_CODE, "Testmake Model 88", "921043", "SET FOR 230 V", "DO NOT POWER",
        "high voltage inside, leaking cell",
    ):  # fmt: skip
        assert words in first
    assert "step-down transformer" in second
    assert "DO NOT POWER" not in second


def test_a_tag_is_a_label_of_62_by_29_millimetres(repair):
    box = pages(issued(repair, "tag"))[0].mediabox

    assert (float(box.width), float(box.height)) == pytest.approx((175.75, 82.2), abs=0.1)


def test_a_cleared_unit_has_a_tag_without_the_warning(repair):
    repair.unit.do_not_power = False
    repair.unit.save()

    tag = issued(repair, "tag")

    assert "DO NOT POWER" not in text(tag)


def test_a_hundred_loose_pieces_are_a_hundred_labels(repair):
    for number in range(99):
        Piece.objects.create(code=f"P{number:07d}", unit=repair.unit, name=f"screw {number}")

    tag = issued(repair, "tag")

    assert len(pages(tag)) == 101


def test_whole_modules_of_the_tags_code_are_whole_dots_of_a_203_dpi_printer(repair, tmp_path):
    Shop.objects.update(language="de")  # a decimal comma would undo the size

    found = picture(issued(repair, "tag"), tmp_path, 203.2)

    (code,) = zxingcpp.read_barcodes(found)
    width = code.position.top_right.x - code.position.top_left.x
    assert width / 12 == pytest.approx(10, abs=0.5) or width / 14 == pytest.approx(10, abs=0.5)
