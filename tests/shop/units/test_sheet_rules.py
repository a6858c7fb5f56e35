"""What may stand on a model sheet, and what is refused at which field."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.working import BadInput
from shop.insight.demo import sheets_linear, sheets_special
from shop.units.models import ModelSheet
from shop.units.shapes import FIELDS
from shop.units.sheet_rules import as_kept, doubts_about, read_sheet
from tests.factories.sheets import SECTIONS, full_sheet

# Numbers, words, nothing and rows, nested, and the words that a sheet itself uses.
SCALARS = (
    st.none() | st.booleans() | st.integers(-(10**12), 10**12) | st.floats() | st.text(max_size=20)
    | st.sampled_from(["linear", "I", "1", "2", "A", "T80mAL250V", "2xLR6", "{year2}{any}"])
)  # fmt: skip
NAMES = st.sampled_from([*FIELDS, "sections", "name", "start", "finish", "rated_volt", "volt",
                         "links", "line_terminals", "fuse", "plate_hz"])  # fmt: skip
ANY_JSON = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(NAMES, inner, max_size=6),
    max_leaves=25,
)


def changed(path, value):
    """A full sheet with one value changed: `primary.sections.1.rated_volt`."""
    sheet = full_sheet(primary={**full_sheet()["primary"], "sections": [dict(s) for s in SECTIONS]})
    *inside, last = [int(name) if name.isdigit() else name for name in path.split(".")]
    part = sheet
    for name in inside:
        part = part[name]
    part[last] = value
    return sheet


@pytest.mark.parametrize(
    "sheet",
    [full_sheet(), *sheets_linear.SHEETS, *sheets_special.SHEETS],
    ids=lambda sheet: sheet["model"],
)
def test_a_sound_sheet_is_kept_whole_and_reads_back_the_same(sheet):
    kept = read_sheet(sheet)

    assert read_sheet(kept) == kept
    assert set(kept) == set(FIELDS)
    for name, value in sheet.items():
        assert as_kept(name, value) == kept[name]
    assert kept["make"] == sheet["make"]
    assert [row["volt"] for row in kept["rails"]] == [row["volt"] for row in sheet["rails"]]


@pytest.mark.parametrize(
    ("path", "value", "field"),
    [
        ("make", " ", "make"),
        ("supply_kind", "steam", "supply_kind"),
        ("hazards", ["sharks"], "hazards[0]"),
        ("year_to", 1980, "year_to"),
        ("idle_watt", "much", "idle_watt"),
        ("primary.sections.1.rated_volt", "115", "primary.sections[1].rated_volt"),
        ("primary.sections.1.start", "1", "primary.sections"),
        ("primary.sections.0.taps", [{"terminal": "T", "volt": 300}], "primary.sections[0].taps"),
        ("primary.plate_hz", [5], "primary.plate_hz[0]"),
        ("primary.resistances.0.from", "9", "primary.resistances[0].from"),
        ("primary.resistances.0.to", "9", "primary.resistances[0].to"),
        ("supplies.0.links", [["2", "7"]], "supplies[0].links[0]"),
        ("supplies.0.line_terminals", ["1", "8"], "supplies[0].line_terminals"),
        ("supplies.0.line_terminals", ["1"], "supplies[0].line_terminals"),
        ("supplies.1.volt", 230, "supplies[1].volt"),
        ("rails.0.high", 1, "rails[0].high"),
        ("electrolytics.1.name", "C1", "electrolytics[1].name"),
        ("valves.0.heater_supply", "steam", "valves[0].heater_supply"),
        ("cell.fitted", "CR1", "cell.fitted"),
        ("cell.high_ua", 0.5, "cell.high_ua"),
        ("serial_rule", "{century}", "serial_rule"),
        ("pictures", [{"sha256": "beef"}], "pictures[0].sha256"),
        ("rumour", "heard", "rumour"),
    ],
)
def test_what_cannot_be_is_refused_at_its_own_field(path, value, field):
    with pytest.raises(BadInput) as refused:
        read_sheet(changed(path, value))

    assert refused.value.field == field
    assert refused.value.reason


@pytest.mark.parametrize(
    ("links", "mains", "code"),
    [
        ([["1", "2"]], ["1", "2"], "must_not_be_powered"),  # a short circuit
        ([["2", "4"]], ["1", "3"], "must_not_be_powered"),  # the second section works against
        ([["1", "3"], ["2", "4"]], ["1", "2"], "wrong_volts"),  # 115 V made, 230 V said
    ],
)
def test_links_that_would_harm_are_refused(links, mains, code):
    sheet = full_sheet()
    sheet["supplies"][0] |= {"links": links, "line_terminals": mains}

    with pytest.raises(BadInput) as refused:
        read_sheet(sheet)

    assert (refused.value.field, refused.value.code) == ("supplies[0].links", code)


def test_links_of_a_unit_without_known_windings_are_kept_unjudged():
    kept = read_sheet(full_sheet(primary={}))

    assert kept["primary"] == {}
    assert kept["supplies"][0]["links"] == [["2", "3"]]


def test_a_kept_sheet_is_what_the_calculators_take():
    kept = read_sheet(full_sheet())
    settings = [
        {"name": row["name"], "supply_volt": row["volt"], "links": row["links"],
         "line_terminals": row["line_terminals"]}
        for row in kept["supplies"]
    ]  # fmt: skip

    winding = work_out(
        "windings.for_supply",
        {"sections": kept["primary"]["sections"], "plate_hz": kept["primary"]["plate_hz"],
         "target_volt": 115, "target_hz": 60, "secondaries": kept["secondaries"],
         "model_sheet_settings": settings},
    )  # fmt: skip
    parts = work_out(
        "voltage_parts.check", {"nominal_volt": 115, "hz": 60, "parts": kept["mains_parts"]}
    )

    assert winding.value.links == [["1", "3"], ["2", "4"]]
    assert [item.name for item in parts.value.items] == ["C101", "link in the transformer"]


def test_a_marking_that_cannot_be_read_is_kept_and_told():
    sheet = full_sheet()
    sheet["supplies"][0] |= {"fuse": "see service note 4", "fuse_source": "rating plate"}

    kept = ModelSheet(**read_sheet(sheet))

    assert kept.supplies[0]["fuse"] == "see service note 4"
    told = {doubt["field"]: doubt["text"] for doubt in doubts_about(kept)}
    assert "see service note 4" in told["supplies[0].fuse"]
    assert told["supplies[1].fuse"] == "No fuse for 115 V."


def test_markings_of_both_standards_are_read():
    sheet = full_sheet()
    sheet["supplies"][0]["fuse"] = "T160mAL250V"
    sheet["supplies"][1] |= {"fuse": "3/16A", "fuse_source": "rating plate"}

    assert not [
        one for one in doubts_about(ModelSheet(**read_sheet(sheet))) if "fuse" in one["field"]
    ]


def kept_or_refused(sheet):
    try:
        return ModelSheet(**read_sheet(sheet)), None
    except BadInput as refused:
        return None, refused


@given(sheet=st.dictionaries(NAMES, ANY_JSON, max_size=8))
def test_anything_sent_is_a_sheet_or_a_refusal_with_a_field(sheet):
    kept, refused = kept_or_refused(sheet)

    assert kept or (refused.field and refused.reason)


@given(field=st.sampled_from(FIELDS), value=ANY_JSON)
def test_a_sound_sheet_with_any_field_replaced_is_a_sheet_or_a_refusal_there(field, value):
    kept, refused = kept_or_refused({**full_sheet(), field: value})

    if kept:
        assert all(doubt["text"] for doubt in doubts_about(kept))
    else:
        # New sections may not have the terminals that the settings name; years go together too.
        named = refused.field.split(".")[0].split("[")[0]
        assert named == field or field in ("primary", "year_from")
