"""A reading taken from an instrument says so, and is what the instrument said."""

import pytest

from shop.core.ids import new_id
from shop.jobs.models import Entry
from shop.jobs.selectors import first_break_of
from shop.jobs.services import apply_operations
from tests.factories.jobs import MeterFactory, Phone, reading, started, template

pytestmark = pytest.mark.django_db


@pytest.fixture
def phone(anna):
    return Phone(anna, started(template(reading()), by=anna))


def taken(said="+4.98700000E+00"):
    return {"offer": str(new_id()), "said": said, "taken_at": "2026-03-02T09:00:00Z"}


def read(phone, typed="4.987 V", text="4.987", **more):
    value = {
        "as_typed": typed, "value_text": text, "unit": "V", "state": "measured",
        "instrument": taken(), "meter": str(MeterFactory().id), **more,
    }  # fmt: skip
    return phone.entry("reading", "rail", **value)


def sync(person, *operations):
    return apply_operations(person=person, device_id=None, operations=operations)


def test_the_words_of_the_instrument_are_kept_and_chained(anna, phone):
    operation = read(phone)

    (result,) = sync(anna, operation)

    entry = Entry.objects.get(id=operation["id"])
    assert result.outcome == "applied"
    assert entry.value["instrument"]["said"] == "+4.98700000E+00"
    assert first_break_of(entry.record) is None
    entry.value["instrument"]["said"] = "+5.00000000E+00"
    entry.save()
    assert first_break_of(entry.record) is not None


def test_the_same_reading_sent_twice_is_one(anna, phone):
    operation = read(phone)
    sync(anna, operation)

    (again,) = sync(anna, operation)

    assert again.outcome == "repeated"
    assert Entry.objects.count() == 1


def test_over_range_is_taken_as_over_range(anna, phone):
    operation = read(
        phone, "OL", None, state="over_range", instrument=taken("+9.90000000E+37")
    )  # fmt: skip

    (result,) = sync(anna, operation)

    assert result.outcome == "applied"


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ({"instrument": taken("+5.00000000E+00")}, "value_unreadable"),
        ({"instrument": taken("+9.90000000E+37")}, "value_unreadable"),
        ({"instrument": taken("about five")}, "value_unreadable"),
        ({"instrument": {"said": "+4.987E+00"}}, "bad_entry"),
        ({"meter": None}, "bad_entry"),
    ],
)
def test_what_the_instrument_did_not_say_is_refused_and_leaves_no_trace(anna, phone, wrong, code):
    (result,) = sync(anna, read(phone, **wrong))

    assert (result.outcome, result.code) == ("refused", code)
    assert not Entry.objects.exists()


def test_a_reading_typed_by_hand_says_nothing_of_an_instrument(anna, phone):
    operation = phone.read("rail", "5.01")

    sync(anna, operation)

    assert "instrument" not in Entry.objects.get(id=operation["id"]).value
