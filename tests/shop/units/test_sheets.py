"""Model sheets are written whole, from the version that was read, and keep their history."""

import pytest
from django.db import IntegrityError, transaction

from shop.core.errors import BadField, Conflict, Stale
from shop.core.ids import new_id
from shop.units.errors import SheetExists
from shop.units.history import change_rows
from shop.units.models import ModelSheet, ModelSheetChange
from shop.units.services import add_model_sheet, give_sheet, note_idle_power, save_model_sheet
from tests.factories.sheets import full_sheet
from tests.factories.units import ModelSheetFactory, UnitFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def sheet(anna):
    return add_model_sheet(id=new_id(), given=full_sheet(), by=anna)[0]


def sentences(sheet, since=0):
    changes = sheet.changes.filter(version__gt=since).order_by("version", "id")
    return [text for row in change_rows(list(changes)) for text in row["sentences"]]


def test_a_new_sheet_is_given_to_every_unit_of_its_make_and_model(anna):
    alike, other = UnitFactory(make="NEBELHORN", model="echo 92"), UnitFactory(model="Other")
    spelled = UnitFactory(make="Nebelhorn", model="Echo-92")

    sheet, is_new = add_model_sheet(id=new_id(), given=full_sheet(), by=anna, unit=spelled)

    for unit in (alike, other, spelled):
        unit.refresh_from_db()
    assert is_new
    assert alike.model_sheet == spelled.model_sheet == sheet
    assert other.model_sheet is None


def test_the_same_sheet_sent_again_is_the_first_one(anna, sheet):
    again, is_new = add_model_sheet(id=sheet.id, given=full_sheet(), by=anna)

    assert (again, is_new) == (sheet, False)
    with pytest.raises(Conflict):
        add_model_sheet(id=sheet.id, given=full_sheet(rated_watt=99), by=anna)
    assert ModelSheet.objects.count() == 1


def test_a_second_sheet_of_a_make_and_model_is_refused_and_the_first_named(anna, sheet):
    with pytest.raises(SheetExists) as refused:
        add_model_sheet(id=new_id(), given=full_sheet(make="nebelhorn"), by=anna)

    assert refused.value.facts["sheet"] == str(sheet.id)
    assert ModelSheet.objects.count() == 1


def test_a_change_tells_field_before_after_who_and_why(max, sheet):
    save_model_sheet(
        sheet=sheet, given=full_sheet(rated_watt=15), expected_version=1, by=max, why="by the plate"
    )

    sheet.refresh_from_db()
    change = sheet.changes.get(version=2)
    assert (sheet.rated_watt, sheet.version) == (15, 2)
    assert (change.field, change.before, change.after) == ("rated_watt", 14, 15)
    assert (change.by, change.why) == (max, "by the plate")


def test_what_is_the_same_as_before_is_no_change(max, sheet):
    saved = save_model_sheet(sheet=sheet, given=full_sheet(), expected_version=1, by=max)

    assert saved.version == 1
    assert not sheet.changes.filter(version=2).exists()


def test_a_change_from_an_older_version_is_refused_and_leaves_no_trace(anna, max, sheet):
    save_model_sheet(sheet=sheet, given=full_sheet(rated_watt=15), expected_version=1, by=max)

    with pytest.raises(Stale) as refused:
        save_model_sheet(sheet=sheet, given=full_sheet(note="x"), expected_version=1, by=anna)

    sheet.refresh_from_db()
    assert refused.value.facts["version"] == 2
    assert (sheet.rated_watt, sheet.note) == (15, "")
    assert set(sheet.changes.values_list("version", flat=True)) == {1, 2}


def test_history_is_told_in_sentences(max, sheet):
    given = full_sheet(
        rails=[
            {"name": "+5 V", "volt": 5, "low": 4.85, "high": 5.15, "ripple_millivolt": 35},
            {"name": "-5 V", "volt": -5, "low": -5.25, "high": -4.75},
        ],
        hazards=["leaking_cell"],
        valves=[],
    )
    given["supplies"][1] |= {"fuse": "T160mAL250V", "fuse_source": "rating plate"}

    save_model_sheet(sheet=sheet, given=given, expected_version=1, by=max)

    assert sorted(sentences(sheet, since=1)) == [
        "Hazards: leaking cell.",
        "Rails, +5 V, Ripple at most: 35 mV instead of 20 mV.",
        "Rails, -5 V: added (Nominal -5 V, At least -5.25 V, At most -4.75 V).",
        "Supplies it can be set for, 115 V, Fuse: “T160mAL250V”.",
        "Supplies it can be set for, 115 V, Seen on: “rating plate”.",
        "Valves, V1: taken off.",
    ]


def test_idle_power_read_at_the_bench_joins_the_history_once(anna, sheet):
    note_idle_power(sheet=sheet, watt=9.4, source="measured on N1", by=anna)
    note_idle_power(sheet=sheet, watt=9.4, source="measured on N1", by=anna)

    assert sentences(sheet, since=1) == [
        "Idle power: 9.4 W instead of 9 W.",
        "Idle power known from: “measured on N1”.",
    ]
    assert set(sheet.changes.filter(version__gt=1).values_list("by", "why")) == {
        (anna.id, "read at the bench")
    }


def test_a_unit_with_a_sheet_keeps_it(sheet):
    unit = UnitFactory(model_sheet=ModelSheetFactory())
    free = UnitFactory()

    give_sheet(unit=free, sheet=sheet)
    with pytest.raises(BadField):
        give_sheet(unit=unit, sheet=sheet)

    free.refresh_from_db()
    unit.refresh_from_db()
    assert free.model_sheet == sheet != unit.model_sheet


def test_the_database_keeps_one_change_of_a_field_per_version(sheet):
    change = sheet.changes.first()

    with pytest.raises(IntegrityError), transaction.atomic():
        ModelSheetChange.objects.create(
            sheet=sheet, version=1, field=change.field, after=1, at=change.at
        )


def test_a_default_written_out_or_left_out_is_no_change(anna, max, sheet):
    given = full_sheet()
    del given["electrolytics"][0]["kind"]
    given["mains_parts"][0]["maintain_volt"] = 65
    given["supplies"][1]["fuse"] = None

    saved = save_model_sheet(sheet=sheet, given=given, expected_version=1, by=max)

    assert saved.version == 1


def test_a_sheet_written_before_its_shape_was_checked_tells_only_what_is_new(max):
    older = ModelSheetFactory(**full_sheet(rails=[{"name": "+5 V", "volt": "five"}]))

    save_model_sheet(sheet=older, given=full_sheet(), expected_version=1, by=max)

    assert set(older.changes.values_list("field", flat=True)) == {"rails"}
