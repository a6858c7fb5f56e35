"""The service of controls: an encoder, a fader, a switch; and where the sheet names none."""

import pytest

from shop.jobs.errors import FactsMissing
from tests.factories.core import ShopFactory
from tests.factories.working import verdicts_of, work_to_end
from tests.shop.jobs.shipped.bench_jobs import read
from tests.shop.jobs.shipped.files import take_in
from tests.shop.jobs.test_shipped_templates import a_repair, locks_of, start, step_of

pytestmark = pytest.mark.django_db
CONTROLS = [
    {"name": "data", "kind": "encoder", "detents": 24},
    {"name": "cutoff", "kind": "fader", "ohm": 50000},
    {"name": "octave", "kind": "switch"},
]


@pytest.fixture
def service(db):
    ShopFactory()
    take_in("controls-service")


def a_synthesiser(controls=CONTROLS):
    return a_repair(use_at=("DE", 230, 50), controls=controls)


def cells(pack, id):
    (column,) = step_of(pack, id)["columns"]
    return column["band"]["rows"]


def test_an_encoder_of_24_detents_counts_24_both_ways_slow_and_fast(service, anna):
    _sheet, pack = start("controls-service", a_synthesiser(), anna)

    assert [row["title"] for row in step_of(pack, "found.1")["rows"]] == [
        "Clockwise, slowly", "Back, slowly", "Clockwise, fast", "Back, fast",
    ]  # fmt: skip
    assert cells(pack, "found.1") == [[24, 24]] * 4
    # common practice, no source: a worn encoder jumps two or three positions for each detent
    assert "A worn one counts 48 to 72." in step_of(pack, "expected.1")["text"]


def test_two_positions_for_each_detent_double_what_is_counted(service, anna):
    _sheet, pack = start("controls-service", a_synthesiser(), anna, each=2)

    assert cells(pack, "left.1") == [[48, 48]] * 4


def test_a_fader_has_the_ohms_of_its_class_and_little_d_c_on_its_wiper(service, anna):
    # second-hand: precisionelectronics.com/0-40a-010c, 20 % of nominal; by hand: -70 dBu is
    # 0.2449 mV, through a contact of 1 % it comes from 24.49 mV
    _sheet, pack = start("controls-service", a_synthesiser(), anna)

    ends, dc = step_of(pack, "ends.2")["band"], step_of(pack, "dc.2")["band"]
    assert (ends["low"], ends["high"]) == (pytest.approx(40_000), pytest.approx(60_000))
    assert dc["high"] == pytest.approx(0.02449, abs=1e-5)
    assert dc["low"] == pytest.approx(-0.02449, abs=1e-5)
    assert step_of(pack, "stop.2")["band"]["high"] == 500


def test_each_kind_of_control_has_its_own_steps(service, anna):
    _sheet, pack = start("controls-service", a_synthesiser(), anna)

    ids = {step["id"] for step in pack["steps"]}
    assert {"found.1", "ends.2", "contacts.3"} <= ids
    assert {"ends.1", "found.2", "dc.3", "kind.1", "moved.1"} & ids == set()


def test_it_is_worked_to_the_end_on_sound_controls(service, anna, ben):
    sheet, _pack = start("controls-service", a_synthesiser(), anna)

    assert work_to_end(sheet, anna, other=ben) == "passed"


def test_a_worn_encoder_is_replaced_and_counted_again(service, anna, ben):
    sheet, _pack = start("controls-service", a_synthesiser(), anna)
    worn = {
        "found.1/r1/counted": "61",
        "found.1/r3/counted": "70",
        "done.1": "replaced",
        "touched.1": "yes",
    }

    stage = work_to_end(sheet, anna, worn, other=ben)

    verdicts = verdicts_of(sheet)
    assert (verdicts["found.1/r1/counted"], verdicts["left.1/r1/counted"]) == ("fail", "pass")
    assert stage == "passed"


def test_an_encoder_that_still_jumps_after_cleaning_fails(service, anna, ben):
    sheet, _pack = start("controls-service", a_synthesiser(), anna)

    stage = work_to_end(sheet, anna, {"touched.1": "yes", "left.1/r4/counted": "25"}, other=ben)

    assert verdicts_of(sheet)["left.1/r4/counted"] == "fail"
    assert stage == "failed"


def test_what_was_not_touched_is_not_measured_again(service, anna, ben):
    sheet, _pack = start("controls-service", a_synthesiser(), anna)

    work_to_end(sheet, anna, {f"touched.{turn}": "no" for turn in (1, 2, 3)}, other=ben)

    assert not [step for step in verdicts_of(sheet) if step.startswith(("left", "dc_left"))]


def test_d_c_on_a_wiper_fails_before_the_track_is_blamed(service, anna, ben):
    sheet, _pack = start("controls-service", a_synthesiser(), anna)

    work_to_end(sheet, anna, {"dc_wanted": "yes"}, until="dead-unplug", other=ben)
    assert read(sheet, anna, "dc.2", "-0.31").outcome == "applied"

    assert verdicts_of(sheet)["dc.2"] == "fail"


def test_where_the_sheet_names_none_the_names_are_asked_for(service, anna, ben):
    repair = a_synthesiser(controls=[])

    with pytest.raises(FactsMissing) as missing:
        start("controls-service", repair, anna)
    sheet, pack = start("controls-service", repair, anna, controls="data wheel, volume")

    assert "facts.controls" in str(missing.value.facts)
    assert step_of(pack, "kind.2")["title"] == "volume: what is it?"
    answers = {"kind.2": "track", "clicks.1": "30", "slow.1": "30", "fast.1": "66"}
    assert work_to_end(sheet, anna, answers, other=ben) == "passed"
    verdicts = verdicts_of(sheet)
    assert (verdicts["slow.1"], verdicts["fast.1"]) == ("pass", "fail")


def test_no_clip_goes_on_before_it_is_dead(service, anna, ben):
    sheet, pack = start("controls-service", a_synthesiser(), anna)

    work_to_end(sheet, anna, {"dc_wanted": "yes"}, until="open-res_dead.2", other=ben)

    assert {("clips_on", "open-res_dead.2"), ("dc.2", "open-res_dead.2")} <= locks_of(sheet, pack)


def test_a_unit_that_is_never_opened_live_is_made_dead_once(service, anna, ben):
    sheet, _pack = start("controls-service", a_synthesiser(), anna)

    assert work_to_end(sheet, anna, other=ben) == "passed"
    steps = set(verdicts_of(sheet))
    assert "dead-res_dead.2" in steps
    assert not [step for step in steps if step.startswith(("open-", "dc.", "dc_left", "res_after"))]


def test_what_lay_before_a_track_is_proved_and_read_dead_before_the_clips_come_off(
    service, anna, ben
):
    sheet, _pack = start("controls-service", a_synthesiser(), anna)
    answers = {"dc_wanted": "yes", "dc_again": "yes", "touched.2": "source", "res_after.2": "180"}

    work_to_end(sheet, anna, answers, other=ben)

    verdicts = verdicts_of(sheet)
    assert (verdicts["dc_left.2"], verdicts["res_after.2"]) == ("pass", "fail")


def test_an_encoder_whose_clicks_nobody_noted_shows_no_gap_in_its_words(service, anna):
    repair = a_synthesiser([{"name": "data", "kind": "encoder"}])
    _sheet, pack = start("controls-service", repair, anna)

    words = [f"{step['title']} {step['text']}" for step in pack["steps"]]
    assert not [text for text in words if "[not known: control" in text or "worn one" in text]
