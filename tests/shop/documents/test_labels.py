"""Sheets of small labels: what stands on them, and that a scanner reads each."""

from __future__ import annotations

from uuid import uuid4

import pytest

from shop.core import outbox
from shop.core.errors import BadField
from shop.documents.models import Document
from shop.documents.services import ask_for_labels, issue_labels
from tests.factories.jobs import MeterFactory
from tests.factories.stock import BinFactory, PartFactory
from tests.factories.units import ShelfFactory, UnitFactory
from tests.shop.documents.reading_pdf import codes_on, pages, picture, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def things():
    made = [BinFactory(), PartFactory(), MeterFactory(), ShelfFactory(), UnitFactory()]
    return [one.code for one in made]


def drawn(anna, codes, *, address=False):
    document = ask_for_labels(codes=codes, address=address, by=anna)
    outbox.sweep()
    document.refresh_from_db()
    return document


def test_each_label_names_its_thing_and_can_be_scanned(anna, things, tmp_path):
    sheet = drawn(anna, things)

    assert all(code in text(sheet) for code in things)
    assert BinFactory._meta.model.objects.get().name in text(sheet)
    found = codes_on(picture(sheet, tmp_path, 203.2))
    assert {("DataMatrix", code) for code in things} <= found


def test_a_sheet_has_forty_labels_and_the_next_begins_a_second(anna):
    codes = [BinFactory().code for _ in range(41)]

    sheet = drawn(anna, codes)

    first, second = (page.extract_text() for page in pages(sheet))
    assert [code in first for code in codes] == [True] * 40 + [False]
    assert codes[-1] in second
    box = pages(sheet)[0].mediabox
    assert [round(float(side) / 72 * 25.4) for side in (box.width, box.height)] == [210, 297]


def test_the_address_stands_on_it_for_any_phones_own_camera(anna, things, tmp_path, settings):
    settings.PUBLIC_URL = "https://shop.example"

    sheet = drawn(anna, things, address=True)

    found = {text for _kind, text in codes_on(picture(sheet, tmp_path, 300))}
    assert found == {f"https://shop.example/app/t/{code}" for code in things}


def test_no_address_is_printed_while_nobody_said_where_the_shop_is(anna, things, settings):
    settings.PUBLIC_URL = ""

    with pytest.raises(BadField) as refused:
        ask_for_labels(codes=things, address=True, by=anna)

    assert refused.value.field_code == "no_public_url"
    assert not Document.objects.exists()


def test_a_code_of_nothing_is_not_printed(anna, things):
    with pytest.raises(BadField) as refused:
        ask_for_labels(codes=[*things, "BTRMN928"], address=False, by=anna)

    assert refused.value.field_code == "unknown_code"
    assert not Document.objects.exists()


def test_drawing_a_second_time_finds_the_first(anna, things):
    sheet = drawn(anna, things)

    again = issue_labels(document_id=sheet.id, cause_id=uuid4())

    assert (again.file.name, again.issued_at) == (sheet.file.name, sheet.issued_at)
