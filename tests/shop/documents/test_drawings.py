"""The report draws how a primary was joined and how it is to be joined."""

import json
import re
from pathlib import Path

import pytest
from django.template.loader import render_to_string
from django.utils import translation

from shop.calc.registry import answer_as_json, work_out
from shop.core.ids import new_id
from shop.documents import services
from shop.documents.papers.report.work import worked_out
from shop.jobs.services import publish_revision, start_worksheet
from tests.factories.units import ModelSheetFactory, RepairFactory, UnitFactory
from tests.shop.documents.reading_pdf import pages, text

pytestmark = pytest.mark.django_db

SECTIONS = [
    {"name": name, "start": f"{name}1", "finish": f"{name}6", "rated_volt": 120.0,
     "taps": [{"terminal": f"{name} rear row, upper {n}", "volt": volt}
              for n, volt in enumerate((100.0, 105.0, 110.0, 117.0), 2)]}
    for name in "ABCD"
]  # fmt: skip
ASKED = {
    "sections": SECTIONS, "target_volt": 120.0, "target_hz": 60.0, "plate_hz": [50.0, 60.0],
    "links_now": [["A6", "B1"]],
}  # fmt: skip


def drawing():
    return answer_as_json(work_out("windings.for_supply", ASKED))["value"]["drawing"]


@pytest.fixture
def repair(db):
    sheet = ModelSheetFactory(
        primary={"sections": SECTIONS, "plate_volt": 240, "plate_hz": [50, 60]},
        supplies=[{"volt": 230, "links": [["A6", "B1"], ["B6", "D1"]], "fuse": "T80mAL250V"}],
    )
    unit = UnitFactory(model_sheet=sheet, set_for_volt=230)
    return RepairFactory(
        unit=unit, set_for_volt=230, set_for_hz=50, use_at_country="US", use_at_volt=120,
        use_at_hz=60,
    )  # fmt: skip


def converted(repair, by):
    body = json.loads(Path("shop/jobs/templates/mains-conversion.json").read_text())
    publish_revision(body=body)
    return start_worksheet(id=new_id(), repair=repair, template=body["slug"], by=by)


@pytest.mark.parametrize("language", ["en", "de"])
def test_a_drawing_is_written_line_by_line_with_points_in_its_numbers(language):
    shown = drawing()

    with translation.override(language):
        svg = render_to_string("documents/drawing.html", {"drawing": shown})

    assert svg.count("<line ") == len(shown["lines"])
    assert svg.count("<path ") == len(shown["coils"])
    assert svg.count("<circle ") == len(shown["dots"])
    assert svg.count("<text ") == len(shown["labels"])
    assert not re.findall(r'(?:x1|y1|cx|cy|r|x|y)="[^"]*,[^"]*"', svg)
    assert f'viewBox="0 0 {shown["width"]} {shown["height"]}"' in svg


def test_names_of_terminals_cannot_break_out_of_the_drawing():
    shown = drawing()
    shown["labels"][1]["text"] = '<script>"'

    svg = render_to_string("documents/drawing.html", {"drawing": shown})

    assert "<script>" not in svg


def test_the_report_shows_the_links_as_found_beside_those_for_the_supply(repair, anna):
    converted(repair, anna)

    report = services.issue(kind="test_report", repair_id=repair.id, cause_id=new_id())

    said = text(report)
    assert "As found. Joined: A6–B1, B6–D1." in said
    assert "For the supply. Joined: A1–B1" in said
    assert "A rear row, upper 2" in said  # stands on the drawing only
    assert len(pages(report)) <= 6


def test_an_answer_kept_before_drawings_were_made_is_shown_without_one(repair, anna):
    sheet, _is_new = converted(repair, anna)
    pack = json.loads(bytes(sheet.pack))
    for answer in pack["work"].values():
        if answer["value"]:
            answer["value"].pop("drawing", None)
            answer["value"].pop("drawing_now", None)
    sheet.pack = json.dumps(pack).encode()

    assert all(shown["drawings"] == [] for shown in worked_out([sheet])["answers"])
