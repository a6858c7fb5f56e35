"""Lists and finding: who sees what, in how many queries, in which words."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone, translation

from shop.repairs import clocks
from shop.repairs.models import StageEvent
from shop.repairs.selectors import (
    earlier_visits,
    find,
    open_repair_of,
    repair_rows,
    repairs_matching,
    repairs_visible_to,
    row_values,
    stage_marks,
)
from shop.repairs.words import day_words, stage_words, waiting_for
from shop.units.services import add_piece
from tests.factories.core import NOW, ShopFactory
from tests.factories.units import CustomerFactory, RepairFactory, UnitFactory

pytestmark = pytest.mark.django_db
BERLIN = ZoneInfo("Europe/Berlin")
DAY = timedelta(days=1)


def test_who_no_longer_works_here_sees_no_repair(stranger, anna):
    RepairFactory()

    assert repairs_visible_to(anna).count() == 1
    assert not repairs_visible_to(stranger).exists()
    assert find("Testmake", stranger) == []


@pytest.mark.parametrize("repairs", [1, 9])
def test_rows_take_the_same_queries_for_one_and_for_many(anna, repairs, django_assert_num_queries):
    for _ in range(repairs):
        RepairFactory(assigned_to=anna)

    with django_assert_num_queries(2):  # the shop's time zone, and all rows
        rows = repair_rows(row_values(repairs_visible_to(anna), anna))

    assert len(rows) == repairs


@pytest.mark.parametrize("hits", [1, 30])
def test_finding_takes_the_same_queries_for_one_and_for_many_and_stops_at_twenty(
    dora, hits, django_assert_num_queries
):
    for _ in range(hits):
        owner = CustomerFactory(name="Testmake lover")
        add_piece(unit=RepairFactory(unit__owner=owner).unit, name="cord")

    with django_assert_num_queries(5):
        found = find("testmake", dora)

    assert len(found) == min(3 * hits, 20)


@pytest.fixture
def repair():
    owner = CustomerFactory(
        name="Rosa Müller",
        email="rosa@mail.example",
        phone="0151 5555 123",
        phone_digits="1515555123",
    )
    RepairFactory(unit__make="Othermake", unit__owner__name="Otto Grau")
    unit = UnitFactory(
        code="N00000GM", make="Testmake", model="Glimmer 2", serial="92-0417", owner=owner
    )
    return RepairFactory(number=8317, unit=unit, customer=owner)


@pytest.mark.parametrize(
    "scrap",
    ["8317", "#8317", "n00000gm", "N0000-0GM", "glimmer", "testmake GLIMMER", "92-04", "rosa",
     "MÜLLER", "rosa glimmer", "rosa@mail", "0151 5555 123", "5123"],
)  # fmt: skip
def test_a_repair_is_found_by_any_scrap(repair, dora, scrap):
    assert list(repairs_matching(scrap, dora)) == [repair]


def test_a_repair_is_found_once_by_the_code_of_one_of_its_pieces(repair, anna):
    pieces = [add_piece(unit=repair.unit, name=name) for name in ("cord", "pedal")]

    for piece in pieces:
        assert list(repairs_matching(piece.code.lower(), anna)) == [repair]
    assert list(repairs_matching("glimmer", anna)) == [repair]


def test_a_tech_finds_by_name_but_not_by_how_to_reach_a_customer(repair, anna):
    kinds = {row["kind"] for row in find("rosa", anna)}

    assert kinds == {"repair"}
    assert find("rosa@mail.example", anna) == []
    assert find("0151 5555 123", anna) == []


def test_the_desk_finds_repair_customer_and_unit(repair, dora):
    found = find("8317", dora) + find("rosa", dora) + find("glimmer", dora)

    assert [row["kind"] for row in found] == ["repair", "repair", "customer", "repair", "unit"]
    assert found[2]["customer"]["phone"] == "0151 5555 123"
    assert found[4]["unit"]["code"] == "N00000GM"


@pytest.mark.parametrize("scrap", ["", "   ", "nothing like it", "99999999999999999999", "%"])
def test_what_does_not_fit_finds_nothing(repair, dora, scrap):
    assert find(scrap, dora) == []


def test_a_row_tells_where_the_repair_stands(anna):
    now = timezone.now()
    RepairFactory(
        stage="on_the_bench",
        stage_since=now,
        booked_in_at=now - 3 * DAY,
        assigned_to=anna,
        due_on=date(2026, 12, 1),
    )

    (row,) = repair_rows(row_values(repairs_visible_to(anna), anna))

    assert row["stage_words"] == "on the bench since today"
    assert row["waiting_for"] is None
    assert row["age_days"] == 3
    assert row["assigned_to"] == {"id": anna.id, "name": "Anna"}
    assert row["due_on"] == date(2026, 12, 1)


def test_the_age_of_a_closed_repair_stands_still(anna):
    RepairFactory(stage="handed_back", booked_in_at=NOW, closed_at=NOW + 5 * DAY)

    (row,) = repair_rows(row_values(repairs_visible_to(anna), anna))

    assert row["age_days"] == 5
    assert row["stage_words"].startswith("handed back ")


@pytest.mark.parametrize(
    ("ago", "words"),
    [(0, "today"), (1, "yesterday"), (2, "Saturday"), (6, "Tuesday"), (7, "23 Feb"),
     (400, "26 Jan 2025")],
)  # fmt: skip
def test_days_are_said_as_people_near_them_say_them(ago, words):
    monday = date(2026, 3, 2)

    assert day_words(monday - ago * DAY, monday) == words


@pytest.mark.parametrize(
    ("stage", "words"),
    [
        ("booked_in", "booked in Saturday, waiting for a tech"),
        ("on_the_bench", "on the bench since Saturday"),
        ("awaiting_parts", "waiting for parts since Saturday"),
        ("awaiting_go_ahead", "waiting for the go-ahead since Saturday"),
        ("ready", "ready to fetch since Saturday, waiting for the customer"),
        ("handed_back", "handed back Saturday"),
    ],
)
def test_a_stage_is_a_sentence(stage, words):
    saturday = datetime(2026, 2, 28, 10, tzinfo=UTC)

    assert stage_words(stage, saturday, date(2026, 3, 2), BERLIN) == words


def test_the_day_is_the_shops_day_and_not_that_of_greenwich():
    late = datetime(2026, 3, 1, 23, 30, tzinfo=UTC)  # already Monday in Berlin

    assert "today" in stage_words("ready", late, date(2026, 3, 2), BERLIN)


def test_weekdays_follow_the_readers_language():
    with translation.override("de"):
        assert day_words(date(2026, 2, 28), date(2026, 3, 2)) == "Samstag"


def test_every_stage_knows_for_whom_it_waits():
    waiting = {stage: waiting_for(stage) for stage in ("on_test", "awaiting_parts", "unclaimed")}

    assert waiting == {"on_test": None, "awaiting_parts": "parts", "unclaimed": "the customer"}


def marks(*pairs):
    return [(stage, NOW + days * DAY) for stage, days in pairs]


def test_the_working_clock_stands_still_while_others_are_waited_for():
    # 10 days in all; 2 for the go-ahead and 3 for parts are not work.
    events = marks(
        ("booked_in", 0),
        ("looking_over", 1),
        ("awaiting_go_ahead", 2),
        ("on_the_bench", 4),
        ("awaiting_parts", 5),
        ("on_the_bench", 8),
        ("ready", 9),
        ("handed_back", 10),
    )

    later = NOW + 99 * DAY
    assert clocks.in_days(clocks.elapsed(events, later)) == 10.0
    assert clocks.in_days(clocks.working(events, later)) == 5.0


def test_the_clocks_of_an_open_repair_run_until_now():
    events = marks(("booked_in", 0), ("awaiting_other", 1))

    now = NOW + 2.5 * DAY
    assert clocks.in_days(clocks.elapsed(events, now)) == 2.5
    assert clocks.in_days(clocks.working(events, now)) == 1.0


def test_without_events_the_clocks_show_nothing():
    assert clocks.elapsed([], NOW) == clocks.working([], NOW) == timedelta()


def test_the_marks_of_the_clocks_are_the_events_in_their_order():
    repair = RepairFactory()
    for stage, days in (("looking_over", 1), ("booked_in", 0)):
        StageEvent.objects.create(repair=repair, to_stage=stage, at=NOW + days * DAY)

    assert stage_marks(repair) == marks(("booked_in", 0), ("looking_over", 1))


def test_other_visits_of_the_same_unit_are_its_history():
    unit = UnitFactory()
    old = RepairFactory(unit=unit, stage="handed_back", number=3, outcome="unrepaired")
    now = RepairFactory(unit=unit)
    RepairFactory()

    (visit,) = earlier_visits(now)

    assert (visit["id"], visit["number"]) == (old.id, "3")
    assert visit["outcome"] == "handed back unrepaired"


def test_the_open_repair_of_a_unit_is_the_one_it_is_here_for():
    unit = UnitFactory()
    RepairFactory(unit=unit, stage="handed_back")

    before = open_repair_of(unit)
    repair = RepairFactory(unit=unit, stage="unclaimed")

    assert before is None
    assert open_repair_of(unit) == repair


def test_rows_use_the_time_zone_of_the_shop(anna):
    ShopFactory(time_zone="Pacific/Kiritimati")  # 14 hours ahead
    RepairFactory(stage="ready", stage_since=timezone.now())

    (row,) = repair_rows(row_values(repairs_visible_to(anna), anna))

    assert "today" in row["stage_words"]
