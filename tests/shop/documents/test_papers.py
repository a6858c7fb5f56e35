"""Each paper holds what it must, on the pages it should have, and its codes can be scanned."""

import io
import json
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
import zxingcpp
from django.core.files.base import ContentFile
from PIL import Image

from shop.calc.codes import Kind, make_code
from shop.core.ids import new_id
from shop.core.models import Shop
from shop.documents import services
from shop.documents.errors import DocumentError
from shop.documents.papers.report.entries import limits_text
from shop.jobs.models import Entry
from shop.jobs.services import publish_revision, start_worksheet
from shop.repairs.models import Photo, RepairPhoto
from shop.repairs.selectors import status_url
from shop.units.models import Piece
from tests.factories.core import NOW, ShopFactory
from tests.factories.jobs import BenchFactory
from tests.factories.papers import FUSE, pack, reading, worked, worksheet
from tests.factories.units import ModelSheetFactory, RepairFactory, UnitFactory
from tests.shop.documents.reading_pdf import codes_on, pages, picture, text

pytestmark = pytest.mark.django_db

UNIT_CODE = make_code(Kind.UNIT, "7K3M9Q")
PIECE_CODE = make_code(Kind.PIECE, "00A1B2")


@pytest.fixture
def repair(db):
    ShopFactory(
        name="Lamp Lane Repairs", address="Yard 7", terms="Stored for six months.", currency="EUR"
    )
    sheet = ModelSheetFactory(hazards=["high_voltage", "leaking_cell"])
    unit = UnitFactory(
        code=UNIT_CODE, make="Testmake", model="Model 88", serial="921043", model_sheet=sheet,
        set_for_volt=230,
    )  # fmt: skip
    Piece.objects.create(code=PIECE_CODE, unit=unit, name="step-down transformer")
    return RepairFactory(
        unit=unit, number=1042, complaint="It hums.\nSmelled hot.", damage="Dent, 4.7 Ω ±5 % µF",
        set_for_volt=230, set_for_hz=50, use_at_country="US", use_at_volt=120, use_at_hz=60,
        diagnosis_fee_minor=4500, spending_limit_minor=15000, sounds="save_first",
        signature={"svg": '<svg viewBox="0 0 9 9"><path d="M1 1L8 8"/></svg>', "name": "C. Test"},
    )  # fmt: skip


def issued(repair, kind):
    return services.issue(kind=kind, repair_id=repair.id, cause_id=new_id())


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


@pytest.mark.parametrize(
    ("quantity", "low", "words"),
    [
        ("current_ac", 0, "at most 500 µA"),
        ("current_dc", 0, "0 A to 500 µA"),  # a current the wrong way round is below zero
        ("current_ac", 0.0001, "100 µA to 500 µA"),
    ],
)
def test_a_limit_of_nothing_is_left_out_where_nothing_can_be_less(quantity, low, words):
    value = {"quantity": quantity, "judged": {"low": low, "high": 0.0005}}

    assert limits_text(Entry(unit="A", value=value)) == words


def test_the_report_tells_what_was_found_left_and_not_tested(repair, anna):
    worked(repair, person=anna)

    report = services.issue_test_report(repair_id=repair.id, cause_id=new_id())

    said = text(report).replace("\u00a0", " ")
    for words in (
        "Test report for repair 1042", "It hums.", "As found", "4.2 mV", "wrong value", "As left",
        "12 MΩ", "± 240 kΩ", "at least 1 MΩ", "14.5 V to 15.5 V", "57.1 V borderline",
        "Rear outlet None.", "C14 had dried out.", "Checked by a second person: Anna",
        "Bench meter 1", "4711", "Probe had slipped.", "common practice, no source",
        "from memory, not verified", "the maker's marking wins", "Sources disagree",
        "Unplug before opening.", "ILAC-G8:09/2019", f"{10:064x}", "page 1 / ", str(report.id),
        "Every worksheet that was worked to its end has passed.",
    ):  # fmt: skip
        assert words in said, words


def test_a_source_of_several_answers_stands_once_and_is_cited_by_its_number(repair, anna):
    other = FUSE | {"title": "Fuse once more", "working": FUSE["working"] | {"lines": []}}
    worksheet(repair, person=anna, pack=pack(work={"fuse": FUSE, "other": other}))

    said = text(services.issue_test_report(repair_id=repair.id, cause_id=new_id()))

    assert said.count("R10 series (IEC 60127): from memory, not verified") == 1
    assert said.count("Sources: 1, 2") == 2


def test_the_report_shows_a_corrected_reading_only_as_a_correction(repair, anna):
    worked(repair, person=anna)

    said = text(services.issue_test_report(repair_id=repair.id, cause_id=new_id()))

    tables, corrections = said.split("Corrections")
    assert "1 Ω" not in tables
    assert "1 Ω 12 MΩ Probe had slipped." in corrections


def test_a_report_with_a_failed_worksheet_does_not_say_passed(repair, anna):
    worksheet(repair, person=anna, stage="failed")

    said = text(services.issue_test_report(repair_id=repair.id, cause_id=new_id()))

    assert "Not everything has passed" in said
    assert "Every worksheet" not in said


def test_the_plate_sticker_is_made_from_the_computed_values(repair, anna):
    worksheet(repair, person=anna)

    sticker = issued(repair, "plate_sticker")

    said = text(sticker)
    for words in ("SET FOR 120 V ~ 60 Hz", "T160mAL250V", "160 mA, time-lag", UNIT_CODE):
        assert words in said
    assert "the maker’s marking wins" in said
    assert f"{sticker.requested_at.astimezone(ZoneInfo('Europe/Berlin')):%-d %b %Y}" in said
    box = pages(sticker)[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((226.8, 113.4), abs=0.1)


def test_without_a_computed_fuse_there_is_no_sticker(repair, anna):
    worksheet(repair, person=anna, pack=pack(work={}))

    with pytest.raises(DocumentError, match="start the mains conversion first"):
        issued(repair, "plate_sticker")


def test_whole_modules_of_the_tags_code_are_whole_dots_of_a_203_dpi_printer(repair, tmp_path):
    Shop.objects.update(language="de")  # a decimal comma would undo the size

    found = picture(issued(repair, "tag"), tmp_path, 203.2)

    (code,) = zxingcpp.read_barcodes(found)
    width = code.position.top_right.x - code.position.top_left.x
    assert width / 12 == pytest.approx(10, abs=0.5) or width / 14 == pytest.approx(10, abs=0.5)


def test_the_projects_own_conversion_makes_a_sticker_and_a_report(repair, anna):
    body = json.loads(Path("shop/jobs/templates/mains-conversion.json").read_text())
    publish_revision(body=body)
    sheet = repair.unit.model_sheet
    sheet.primary = {
        "sections": [
            {"name": "A", "start": "1", "finish": "2", "rated_volt": 115},
            {"name": "B", "start": "3", "finish": "4", "rated_volt": 115},
        ],
        "plate_volt": 230,
        "plate_hz": [50, 60],
    }
    sheet.supplies = [{"volt": 230, "links": [["2", "3"]], "fuse": "T80mAL250V"}]
    sheet.save()
    start_worksheet(id=new_id(), repair=repair, template=body["slug"], by=anna)

    sticker = text(issued(repair, "plate_sticker"))
    report = text(issued(repair, "test_report"))

    assert "SET FOR 120 V ~ 60 Hz FUSE T160mAL250V 160 mA" in sticker.replace("\u00a0", " ")
    assert "Mains conversion" in report
    assert "T160mAL250V" in report


def test_the_projects_own_first_power_up_prints_its_ramp(repair, anna):
    body = json.loads(Path("shop/jobs/templates/series-lamp-power-up.json").read_text())
    publish_revision(body=body)
    sheet = repair.unit.model_sheet
    sheet.idle_watt, sheet.rated_watt = 14, 25
    sheet.save()
    started, _new = start_worksheet(
        id=new_id(), repair=repair, template=body["slug"], by=anna, bench=BenchFactory()
    )
    steps = json.loads(bytes(started.pack))["steps"]
    ramp = next(step for step in steps if step["kind"] == "ramp")
    place = f"{ramp['id']}/{ramp['rows'][0]['id']}/{ramp['columns'][0]['key']}"
    reading(repair, place, "12.3", "voltage_ac", low=10, high=14, person=anna, sheet=started)

    said = text(issued(repair, "test_report"))

    assert "12.3 V pass" in said
