"""The channel check on a stereo unit, and on one whose channels nobody has written down."""

import pytest

from shop.jobs.errors import FactsMissing
from tests.factories.core import ShopFactory
from tests.factories.working import verdicts_of, work_to_end
from tests.shop.jobs.shipped.bench_jobs import nobody_knows
from tests.shop.jobs.shipped.files import take_in
from tests.shop.jobs.test_shipped_templates import a_repair, start, step_of

pytestmark = pytest.mark.django_db
CHANNELS = [
    {"name": "left", "input_dbu": -60, "output_dbu": 4, "noise_dbu": -62, "hum_dbu": -70,
     "crosstalk_db": -60},
    {"name": "right", "input_dbu": 4, "output_dbu": 4},
]  # fmt: skip


@pytest.fixture
def check(db):
    ShopFactory()
    take_in("channel-check")


def a_preamplifier(channels=CHANNELS):
    return a_repair(use_at=("DE", 230, 50), channels=channels)


def rows(pack, id, key):
    column = next(column for column in step_of(pack, id)["columns"] if column["key"] == key)
    return column["band"]["rows"]


def test_noise_is_no_better_than_its_source_and_no_worse_than_its_sheet(check, anna):
    # from memory: 150 ohm in 20 kHz make -131 dBu; 64 dB of gain, 1 dB for the meter
    _sheet, pack = start("channel-check", a_preamplifier(), anna, source=150)

    left, _right = rows(pack, "noise", "noise")
    assert left == [pytest.approx(-131 + 64 - 1, abs=0.1), -62]
    assert rows(pack, "noise", "hum")[0] == [None, -70]


def test_a_silent_sheet_is_judged_by_din_45500(check, anna):
    # second-hand: extract of 1977, dl4cs.de/audio/others/hifi: 50 dB, 40 dB at 1 kHz, 1.5 dB
    _sheet, pack = start("channel-check", a_preamplifier(), anna)

    _left, right = rows(pack, "noise", "noise")
    assert right[1] == -46
    assert rows(pack, "crosstalk", "crosstalk") == [[None, -60], [None, -40]]
    assert rows(pack, "response", "high") == [[-1.5, 1.5]] * 2
    assert rows(pack, "level", "out") == [[2.5, 5.5]] * 2


def test_it_is_worked_to_the_end_on_a_sound_unit(check, anna):
    sheet, _pack = start("channel-check", a_preamplifier(), anna)

    assert work_to_end(sheet, anna) == "passed"


@pytest.mark.parametrize(
    ("cell", "typed"),
    [
        ("level/r2/out", "1.9"),
        ("response/r1/high", "-4.2"),
        ("noise/r1/noise", "-55.5"),
        ("noise/r1/noise", "-84"),  # better than the source and 64 dB of gain allow
        ("crosstalk/r2/crosstalk", "-31"),
    ],
)
def test_one_channel_that_is_off_fails_and_the_worksheet_with_it(check, anna, cell, typed):
    sheet, _pack = start("channel-check", a_preamplifier(), anna, source=150)

    stage = work_to_end(sheet, anna, {cell: typed})

    assert verdicts_of(sheet)[cell] == "fail"
    assert stage == "failed"


def test_a_weighted_meter_fails_since_the_limits_are_flat(check, anna):
    sheet, _pack = start("channel-check", a_preamplifier(), anna)

    assert work_to_end(sheet, anna, {"weighting": "weighted"}) == "failed"


def test_where_the_sheet_names_no_channels_their_number_is_asked(check, anna):
    repair = a_preamplifier(channels=[])

    with pytest.raises(FactsMissing) as missing:
        start("channel-check", repair, anna)
    sheet, pack = start("channel-check", repair, anna, channels=8, input=-10, output=4)

    assert "facts.channels" in str(missing.value.facts)
    assert [row["title"] for row in step_of(pack, "any_level")["rows"]][-1] == "Channel 8"
    assert rows(pack, "any_level", "out")[7] == [2.5, 5.5]
    assert work_to_end(sheet, anna) == "passed"


def test_one_channel_has_no_neighbour_to_hear(check, anna):
    _sheet, one = start("channel-check", a_preamplifier(CHANNELS[:1]), anna)
    _sheet, asked = start("channel-check", nobody_knows(), anna, channels=1)

    ids = {step["id"] for pack in (one, asked) for step in pack["steps"]}
    assert {"level", "any_level"} <= ids
    assert not {"crosstalk", "any_crosstalk"} & ids


def test_without_a_sheet_nothing_speaks_of_the_sheets_level(check, anna):
    _sheet, pack = start("channel-check", a_preamplifier([]), anna, channels=2)

    shown = [step["text"] or "" for step in pack["steps"]]
    assert not [text for text in shown if "sheet's" in text or "[not known" in text]


def test_microvolts_of_noise_are_not_read_with_a_multimeter(check, anna):
    # -90 dBu are 24 µV
    _sheet, pack = start("channel-check", a_preamplifier(), anna)

    assert step_of(pack, "noise")["meter_kinds"] == ["level_meter"]
