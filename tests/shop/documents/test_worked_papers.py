"""What was worked stands on the report and the plate sticker."""

import json
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from shop.core.ids import new_id
from shop.documents import services
from shop.documents.errors import DocumentError
from shop.documents.papers.report.entries import limits_text, reading_row
from shop.jobs.models import Entry
from shop.jobs.services import publish_revision, start_worksheet
from tests.factories.core import NOW
from tests.factories.jobs import BenchFactory
from tests.factories.papers import FUSE, UNIT_CODE, pack, reading, worked, worksheet
from tests.shop.documents.reading_pdf import issued, pages, text

pytestmark = pytest.mark.django_db


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


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ({}, "Hand meter"),
        ({"instrument": {"said": "+5.0E+00"}}, "Hand meter, taken from the instrument"),
    ],
)
def test_a_reading_that_was_taken_from_an_instrument_says_so(anna, value, words):
    entry = Entry(
        unit="V", value=value, made_by=anna, made_at=NOW, meter_state={"name": "Hand meter"}
    )

    assert reading_row(entry, "Rail")["meter"] == words


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
