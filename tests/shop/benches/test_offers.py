"""An instrument's reading is shown to whoever works at its bench, for a while, and is no entry."""

from datetime import date, timedelta

import pytest

from shop.benches.models import OfferedReading
from shop.benches.selectors import offer_card, offers_on
from shop.benches.services import offer_reading
from shop.calc.working import BadInput
from shop.core.errors import BadField, Conflict
from shop.core.ids import new_id
from shop.jobs.models import Entry
from tests.factories.core import NOW
from tests.factories.jobs import BenchFactory, MeterFactory

pytestmark = pytest.mark.django_db


def offered(by, *, seconds=0.0, now=NOW, **more):
    facts = {
        "id": new_id(), "quantity": "voltage_dc", "said": "+4.98700000E+00", "device_id": None,
        **more,
    }  # fmt: skip
    facts.setdefault("bench", BenchFactory())
    facts.setdefault("meter", MeterFactory())
    return offer_reading(**facts, age=timedelta(seconds=seconds), by=by, now=now)[0]


def test_an_offer_says_what_a_tech_would_have_typed_and_how_old_it_is(anna):
    offer = offered(anna, seconds=3)

    card = offer_card(offer, NOW + timedelta(seconds=2))

    assert (card["typed"], card["said"], card["age_seconds"]) == ("4.987 V", "+4.98700000E+00", 5)
    assert not Entry.objects.exists()


@pytest.mark.parametrize(("said", "typed"), [("+9.9E+37", "OL"), ("9.91E37", "n/m"), ("0", "0 V")])
def test_over_range_no_number_and_zero_are_three_things(anna, said, typed):
    offer = offered(anna, said=said)

    assert offer_card(offer, NOW)["typed"] == typed


def test_each_meter_shows_its_newest_only(anna):
    bench, volts, amps = BenchFactory(), MeterFactory(), MeterFactory()
    offered(anna, bench=bench, meter=volts, said="1", seconds=9)
    offered(anna, bench=bench, meter=amps, said="2", seconds=5, quantity="current_dc")
    offered(anna, bench=bench, meter=volts, said="3", seconds=1)
    offered(anna, said="4")  # on another bench

    shown = [(offer.meter, offer.said) for offer in offers_on(bench, NOW)]

    assert shown == [(volts, "3"), (amps, "2")]


def test_what_was_seen_is_not_told_again(anna):
    offer = offered(anna, seconds=4)

    assert offers_on(offer.bench, NOW, since=offer.taken_at - timedelta(seconds=1)) == [offer]
    assert offers_on(offer.bench, NOW, since=offer.taken_at) == []


def test_after_a_quarter_of_an_hour_an_offer_is_not_shown_and_after_an_hour_it_is_gone(anna):
    offer = offered(anna)

    assert offers_on(offer.bench, NOW + timedelta(minutes=16)) == []
    later = offered(anna, now=NOW + timedelta(minutes=61))
    assert list(OfferedReading.objects.all()) == [later]


def test_a_repeat_is_the_first_offer_whatever_time_has_passed(anna):
    facts = {"id": new_id(), "bench": BenchFactory(), "meter": MeterFactory()}
    first = offered(anna, **facts)

    again = offered(anna, **facts, now=NOW + timedelta(seconds=20), seconds=20)

    assert again == first
    assert OfferedReading.objects.count() == 1


def test_the_same_id_with_another_value_is_a_conflict(anna):
    facts = {"id": new_id(), "bench": BenchFactory(), "meter": MeterFactory()}
    offered(anna, **facts)

    with pytest.raises(Conflict):
        offered(anna, **facts, said="+5.00000000E+00")


@pytest.mark.parametrize("seconds", [-1, 15 * 60, 10**7])
def test_a_reading_of_long_ago_or_still_to_come_is_refused(anna, seconds):
    with pytest.raises(BadField) as refused:
        offered(anna, seconds=seconds)

    assert refused.value.field_code == "too_old"
    assert not OfferedReading.objects.exists()


@pytest.mark.parametrize("said", ["", "4.9.8", "NaN", "4,987", "1e9999", "４"])
def test_what_no_instrument_says_is_refused(anna, said):
    with pytest.raises(BadInput):
        offered(anna, said=said)

    assert not OfferedReading.objects.exists()


def test_a_meter_that_was_put_away_offers_nothing(anna):
    with pytest.raises(BadField, match="put away"):
        offered(anna, meter=MeterFactory(retired_on=date(2026, 1, 1)))
