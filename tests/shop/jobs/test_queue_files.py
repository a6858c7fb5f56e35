"""The file of a phone that cannot send: taken in under its maker's name, once, whole or not."""

import json
from base64 import b64encode
from hashlib import sha256

import pytest
from django.core.management import CommandError, call_command

from shop.core.errors import BadField, NotAllowed
from shop.jobs.models import Entry
from shop.jobs.services import take_in_queue
from shop.repairs.errors import PhotoHashDiffers
from shop.repairs.models import Photo, RepairPhoto
from tests.factories.everything import picture
from tests.factories.jobs import Phone, look, started, template

pytestmark = pytest.mark.django_db


@pytest.fixture
def phone(anna):
    worksheet = started(template(look()), by=anna)
    return Phone(anna, worksheet)


def file_of(operations, photos=None):
    bodies = [{**one["body"], "seq": None} for one in operations]
    made = {"format": 1, "made_at": "2026-11-30T12:00:00Z", "operations": bodies}
    return json.dumps({**made, "photos": photos or {}}).encode()


def note(phone, text="belt worn"):
    return Phone(phone.person, repair=phone.repair).entry("note", text=text)


def photo_of(phone):
    content = picture()
    name = sha256(content).hexdigest()
    value = {"sha256": name, "width": 8, "height": 8, "size": len(content), "caption": "belt"}
    entry = Phone(phone.person, repair=phone.repair).entry("photo", **value)
    return entry, {name: b64encode(content).decode()}


def test_entries_come_in_under_the_name_of_who_made_them_and_the_log_says_who_brought_them(
    phone, anna, max
):
    taken = take_in_queue(content=file_of([note(phone), note(phone, "belt new")]), by=max)

    assert taken.count("applied") == 2
    mine, brought = Entry.objects.filter(made_by=anna), Entry.objects.get(made_by=max)
    assert [entry.value["text"] for entry in mine.order_by("seq")] == ["belt worn", "belt new"]
    assert brought.record == phone.repair.id
    assert anna.name in brought.value["text"]


def test_a_file_taken_in_twice_doubles_nothing(phone, max):
    content = file_of([note(phone)])
    take_in_queue(content=content, by=max)
    before = Entry.objects.count()

    again = take_in_queue(content=content, by=max)

    assert (again.count("repeated"), again.count("applied")) == (1, 0)
    assert Entry.objects.count() == before


def test_photos_come_along_and_belong_to_their_repair(phone, max, anna):
    entry, photos = photo_of(phone)

    taken = take_in_queue(content=file_of([entry], photos), by=max)

    assert (taken.count("applied"), taken.photos) == (1, 1)
    assert Photo.objects.get().received_from == anna
    assert RepairPhoto.objects.get().repair == phone.repair


@pytest.mark.parametrize("text", [b64encode(b"another").decode(), "no base64!", ""])
def test_a_photo_that_does_not_fit_its_name_refuses_the_whole_file(phone, max, text):
    entry, photos = photo_of(phone)
    damaged = dict.fromkeys(photos, text)

    with pytest.raises(PhotoHashDiffers):
        take_in_queue(content=file_of([note(phone), entry], damaged), by=max)

    assert not Entry.objects.exists()
    assert not Photo.objects.exists()


def test_what_a_rule_refuses_is_told_and_the_rest_comes_in(phone, max):
    wrong = phone.entry("note", "nowhere", text="on a step that is not there")

    taken = take_in_queue(content=file_of([wrong, note(phone)]), by=max)

    assert (taken.count("refused"), taken.count("applied")) == (1, 1)


def test_only_a_manager_takes_in(phone, anna, dora):
    for person in (anna, dora):
        with pytest.raises(NotAllowed):
            take_in_queue(content=file_of([note(phone)]), by=person)

    assert not Entry.objects.exists()


@pytest.mark.parametrize(
    "content",
    [b"", b"{}", b"[]", b"\xff", b'{"format": 2, "made_at": "", "operations": []}',
     b'{"format": 1, "made_at": "", "operations": [{"made_by": "x"}]}',
     b'{"format": 1, "made_at": "", "operations": [{}]}'],
)  # fmt: skip
def test_what_is_no_such_file_is_refused(content, max):
    with pytest.raises(BadField):
        take_in_queue(content=content, by=max)


def test_a_long_file_of_two_people_comes_in_in_its_order(phone, anna, max):
    other = Phone(max, repair=phone.repair)
    operations = [note(phone, str(n)) for n in range(250)]
    operations.insert(100, other.entry("note", text="by the manager"))

    taken = take_in_queue(content=file_of(operations), by=max)

    assert taken.count("applied") == 251
    texts = Entry.objects.filter(made_by=anna).order_by("seq").values_list("value", flat=True)
    assert [value["text"] for value in texts] == [str(n) for n in range(250)]


def test_the_command_says_what_came_of_it(phone, max, tmp_path, capsys):
    file = tmp_path / "unsent.json"
    file.write_bytes(file_of([note(phone)]))

    call_command("take_in_queue", str(file), by="max")

    assert "1 taken in, 0 were here already, 0 refused; 0 photos" in capsys.readouterr().out


@pytest.mark.parametrize(("name", "by"), [("unsent.json", "nobody"), ("missing.json", "max")])
def test_the_command_refuses_whom_and_what_it_does_not_know(phone, max, tmp_path, name, by):
    (tmp_path / "unsent.json").write_bytes(file_of([note(phone)]))

    with pytest.raises(CommandError):
        call_command("take_in_queue", str(tmp_path / name), by=by)
