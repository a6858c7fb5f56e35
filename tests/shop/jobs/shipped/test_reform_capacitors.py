"""Re-forming two sections of a can capacitor that lay idle for twenty years."""

import pytest

from shop.jobs.errors import FactsMissing, Gate
from tests.factories.core import ShopFactory
from tests.shop.jobs.shipped.bench_jobs import (
    HERE,
    a_repair,
    band_of,
    column_of,
    ids_of,
    publish,
    start,
    step_of,
    verdicts_of,
    work_to_end,
)

pytestmark = pytest.mark.django_db
SLUG = "reform-capacitors"
CAN = {
    "kind": "aluminium", "names": "C1, C2", "rated_farad": "47u", "rated_volt": "450",
    "idle": "y20", "measure": "old",
}  # fmt: skip


@pytest.fixture(autouse=True)
def shipped(db):
    ShopFactory()
    publish("dead-working", SLUG)


def begun(by, **facts):
    return start(SLUG, a_repair(use_at=HERE), by, **{**CAN, **facts})


def test_two_parts_are_formed_to_the_end(anna):
    sheet, pack = begun(anna)

    assert {"form.1", "form.2", "leakage.1", "part_dead.2"} <= set(ids_of(pack))
    assert work_to_end(sheet, anna) == "passed"


def test_the_schedule_of_a_long_idle_450_v_part(anna):
    # our choice, `capacitors.reform`: 10, 25, 50, 75, 90 and 100 %, an hour each after 5 years
    _sheet, pack = begun(anna)

    form = step_of(pack, "form.1")
    assert [row["set_volt"] for row in form["rows"]] == [45, 112.5, 225, 337.5, 405, 450]
    assert form["dwell_seconds"] == 3600
    assert "100 kΩ" in step_of(pack, "supply")["text"]  # a maker's advice of 1993: 10 or 100 kΩ


@pytest.mark.parametrize(
    ("measure", "ampere"),
    [
        ("old", 2.18e-3),  # JAN-C-62: 0.04 x 47 + 0.3 mA
        ("modern", 214.5e-6),  # data sheets: 0.01 x 47 x 450 + 3 µA
    ],
)
def test_what_it_may_leak_follows_the_limit_that_was_chosen(anna, measure, ampere):
    _sheet, pack = begun(anna, measure=measure)

    assert band_of(pack, "leakage.1") == (None, pytest.approx(ampere))
    last = column_of(pack, "form.1", "end")["band"]["rows"][-1]
    assert last == [None, pytest.approx(ampere)]


def test_a_part_that_leaks_too_much_fails(anna):
    sheet, _pack = begun(anna)

    stage = work_to_end(sheet, anna, {"leakage.1": "0.003"})

    assert verdicts_of(sheet)["leakage.1"] == "fail"
    assert stage == "failed"


def test_a_part_that_is_not_worth_it_is_not_hung_up(anna):
    sheet, _pack = begun(anna)

    work_to_end(sheet, anna, {"worth.1": "replace", "formed.1": "not_formed"})

    assert "hung.1" not in verdicts_of(sheet)
    assert "leakage.1" not in verdicts_of(sheet)
    assert verdicts_of(sheet)["leakage.2"] == "pass"


def test_only_wet_aluminium_is_formed(anna):
    with pytest.raises(Gate, match="wet aluminium"):
        begun(anna, kind="other")


def test_nothing_is_formed_whose_marking_nobody_read(anna):
    with pytest.raises(FactsMissing):
        begun(anna, rated_volt=None)
