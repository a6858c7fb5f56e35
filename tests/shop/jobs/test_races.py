"""Two phones at once on one record. Needs real row locks."""

import threading

import pytest
from django.db import connection

from shop.core.ids import new_id
from shop.jobs.models import Entry, RecordHead, Worksheet
from shop.jobs.selectors import first_break_of
from shop.jobs.services import apply_operations, start_worksheet
from tests.factories.core import PersonFactory
from tests.factories.jobs import Phone, correcting, on_the_bench, started, template

pytestmark = [pytest.mark.postgresql, pytest.mark.django_db(transaction=True)]


def at_once(*jobs):
    """Run jobs in threads that start together; returns what each returned or raised."""
    gate, found = threading.Barrier(len(jobs)), [None] * len(jobs)

    def run(index, job):
        gate.wait()
        try:
            found[index] = job()
        except Exception as error:
            found[index] = error
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(jobs)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    return found


def sync(person, operations):
    return lambda: apply_operations(person=person, device_id=None, operations=operations)


def outcomes(found):
    return sorted(result.code or result.outcome for results in found for result in results)


def test_phones_that_write_to_one_bench_log_at_once_leave_one_chain_without_gaps():
    people = [PersonFactory(role="tech") for _ in range(4)]
    repair = on_the_bench()
    batches = [
        (person, [Phone(person, repair=repair).entry("note", text=str(n)) for n in range(20)])
        for person in people
    ]

    found = at_once(*[sync(person, batch) for person, batch in batches])

    assert outcomes(found) == ["applied"] * 80
    assert RecordHead.objects.get(record=repair.id).last_seq == 80
    assert first_break_of(repair.id) is None


def test_the_same_batch_sent_twice_at_once_is_kept_once():
    worker = PersonFactory(role="tech")
    sheet = started(template(), by=worker)
    phone = Phone(worker, sheet)
    batch = [phone.acknowledge(), phone.choose("cord", "sound")]

    found = at_once(sync(worker, batch), sync(worker, batch))

    assert outcomes(found) == ["applied", "applied", "repeated", "repeated"]
    assert Entry.objects.count() == 2


def test_of_two_corrections_at_once_one_stands():
    worker = PersonFactory(role="tech")
    sheet = started(template(), by=worker)
    phone = Phone(worker, sheet)
    wrong = phone.choose("cord", "sound")
    sync(worker, [phone.acknowledge(), wrong])()
    both = [correcting(phone.choose("cord", "damaged"), wrong) for _ in range(2)]

    found = at_once(*[sync(worker, [one]) for one in both])

    assert outcomes(found) == ["applied", "wrong_replaces"]
    assert first_break_of(sheet.id) is None


def test_a_worksheet_started_twice_at_once_is_one():
    worker, repair, id = PersonFactory(role="tech"), on_the_bench(), new_id()
    started(template(), by=worker)  # publishes the template

    def start():
        return start_worksheet(id=id, repair=repair, template="small", by=worker)

    found = at_once(start, start)

    assert sorted(created for _worksheet, created in found) == [False, True]
    assert Worksheet.objects.filter(id=id).count() == 1
