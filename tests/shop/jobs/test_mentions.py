"""Notes that name somebody: kept with the record, waiting until that person has seen them."""

import pytest

from shop.core.ids import new_id
from shop.jobs.models import Entry, Mention
from shop.jobs.selectors import first_break_of, mentions_waiting_for
from shop.jobs.services import apply_operations, see_mentions
from tests.factories.core import PersonFactory
from tests.factories.jobs import Phone, correcting
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def ben(db):
    return PersonFactory(username="ben", name="Ben", role="tech")


@pytest.fixture
def phone(anna):
    return Phone(anna, repair=RepairFactory(stage="on_the_bench"))


def send(anna, *operations):
    return [
        (result.outcome, result.code)
        for result in apply_operations(person=anna, device_id=None, operations=operations)
    ]


def note(phone, *people, text="@Ben look at the hum"):
    return phone.entry("note", text=text, mentions=[str(person.id) for person in people])


def waiting(person):
    return [mention.entry.value["text"] for mention in mentions_waiting_for(person)]


def test_a_note_waits_for_whom_it_names_and_for_nobody_else(anna, ben, dora, phone):
    assert send(anna, note(phone, ben)) == [("applied", None)]

    assert waiting(ben) == ["@Ben look at the hum"]
    assert waiting(dora) == waiting(anna) == []


def test_who_is_named_is_part_of_the_chain(anna, ben, phone):
    send(anna, note(phone, ben))

    entry = Entry.objects.get()
    assert entry.value["mentions"] == [str(ben.id)]
    assert first_break_of(phone.repair.id) is None
    entry.value["mentions"] = [str(anna.id)]
    entry.save()
    assert first_break_of(phone.repair.id).seq == 1


def test_a_note_sent_again_waits_once(anna, ben, phone):
    operation = note(phone, ben)

    assert send(anna, operation) + send(anna, operation) == [("applied", None), ("repeated", None)]

    assert Mention.objects.count() == 1


def test_a_note_that_names_somebody_who_left_or_nobody_is_words_only(anna, stranger, phone):
    nobody = PersonFactory.build(id=new_id())

    assert send(anna, note(phone, stranger, nobody, anna)) == [("applied", None)]

    assert (Entry.objects.count(), Mention.objects.count()) == (1, 0)


@pytest.mark.parametrize(
    "mentions", ["ben", ["ben"], [7], [None], [str(new_id()) for _more in range(21)]]
)
def test_what_is_no_list_of_people_is_refused_and_leaves_nothing(anna, phone, mentions):
    operation = phone.entry("note", text="@Ben", mentions=mentions)

    assert send(anna, operation) == [("refused", "bad_entry")]

    assert (Entry.objects.count(), Mention.objects.count()) == (0, 0)


def test_a_note_in_a_worksheet_names_people_as_well(anna, ben):
    from tests.factories.jobs import started, template

    phone = Phone(anna, started(template(), by=anna))

    send(anna, note(phone, ben))

    assert waiting(ben) == ["@Ben look at the hum"]


def test_what_was_seen_waits_no_longer_and_seeing_it_again_changes_nothing(anna, ben, phone):
    send(anna, note(phone, ben))
    ids = list(Mention.objects.values_list("id", flat=True))

    assert see_mentions(ids=ids, by=anna) == 0
    assert [see_mentions(ids=ids, by=ben) for _again in range(2)] == [1, 0]

    assert waiting(ben) == []


def test_a_corrected_note_waits_in_its_new_words_only(anna, ben, phone):
    first = note(phone, ben)
    send(anna, first)

    send(anna, correcting(note(phone, ben, text="@Ben, not the hum, the hiss"), first))

    assert waiting(ben) == ["@Ben, not the hum, the hiss"]


def test_nothing_waits_in_a_repair_that_has_left(anna, ben, phone):
    send(anna, note(phone, ben))

    phone.repair.stage = "handed_back"
    phone.repair.save(update_fields=["stage"])

    assert waiting(ben) == []


def test_naming_people_costs_the_same_queries_for_one_note_and_for_many(
    anna, ben, phone, django_assert_max_num_queries
):
    send(anna, note(phone, ben))  # the record exists from here on
    people = [PersonFactory() for _more in range(5)]

    with django_assert_max_num_queries(14):
        send(anna, *[note(phone, *people) for _more in range(20)])

    assert Mention.objects.count() == 101
