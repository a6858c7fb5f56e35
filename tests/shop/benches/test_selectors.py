"""What a meter's calibration is worth today."""

from datetime import date

import pytest

from shop.benches.models import Bench, Meter
from shop.benches.selectors import bench_card, benches, calibration_state, meter_card, meters_in_use

pytestmark = pytest.mark.django_db
TODAY = date(2026, 3, 2)


@pytest.mark.parametrize(
    ("due_on", "state"),
    [(None, "unknown"), (date(2026, 3, 1), "overdue"), (TODAY, "ok"), (date(2027, 1, 1), "ok")],
)
def test_a_meter_is_overdue_from_the_day_after_it_was_due(due_on, state):
    meter = Meter(name="Meter", calibration_due_on=due_on)

    assert calibration_state(meter, TODAY) == state
    assert meter_card(meter, TODAY)["state"] == state


def test_a_retired_meter_is_no_longer_offered():
    kept = Meter.objects.create(code="M0000001", name="Kept")
    Meter.objects.create(code="M0000002", name="Gone", retired_on=date(2026, 3, 1))
    Meter.objects.create(code="M0000003", name="Last day", retired_on=TODAY)

    assert [meter.name for meter in meters_in_use(TODAY)] == [kept.name, "Last day"]


def test_benches_come_by_name_with_their_lamps():
    Bench.objects.create(name="B", volt=230, hz=50)
    Bench.objects.create(name="A", volt=230, hz=50, lamps=[{"watt": 60, "volt": 230}])

    cards = [bench_card(bench) for bench in benches()]

    assert [card["name"] for card in cards] == ["A", "B"]
    assert cards[0]["lamps"] == [{"watt": 60, "volt": 230}]
