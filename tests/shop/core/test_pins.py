"""The PIN of one person on one phone."""

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from shop.core import pins
from shop.core.errors import BadField
from shop.core.ids import new_id
from shop.core.models import Pin
from shop.core.pins import NoPinHere, PinLocked, WrongPin
from shop.core.services import DeviceRevoked, revoke_device
from tests.factories.core import PIN, DeviceFactory, PersonFactory, phone_of

pytestmark = pytest.mark.django_db
WRONG = "8305"


def open_phone(device, person, pin=PIN):
    return pins.unlock(device=device, person_id=person.id, pin=pin)


def refused(device, person, pin=WRONG):
    with pytest.raises((WrongPin, PinLocked, NoPinHere)) as caught:
        open_phone(device, person, pin)
    return caught.value


def try_wrong(device, person, times):
    return [refused(device, person).code for _ in range(times)]


def let_lock_pass():
    Pin.objects.update(locked_until=timezone.now() - timedelta(seconds=1))


def test_each_person_opens_the_phone_with_their_own_pin(anna, dora):
    device, _key = phone_of(anna)
    pins.set_pin(device=device, person=dora, pin="77310")

    assert open_phone(device, anna).person == anna
    assert open_phone(device, dora, "77310").person == dora
    assert refused(device, dora, PIN).code == "wrong_pin"


def test_a_pin_opens_no_other_phone(anna):
    phone_of(anna)
    other, _key = phone_of(PersonFactory())

    assert refused(other, anna, PIN).code == "no_pin_here"


def test_whoever_comes_in_is_who_has_the_phone_now(anna, dora):
    device, _key = phone_of(anna, dora)

    open_phone(device, dora)

    device.refresh_from_db()
    assert device.person == dora
    assert device.last_seen_at > timezone.now() - timedelta(minutes=1)


def test_what_is_kept_is_no_pin(anna):
    phone_of(anna)

    kept = Pin.objects.get()
    assert PIN not in kept.hash
    assert kept.hash.startswith("md5$")  # the quick hasher of the tests: as for passwords


@pytest.mark.parametrize(
    "pin", ["0000", "1234", "4321", "7890", "0987", "12345678", "1212", "7700", "1984", "2025",
            "2580", "0852", "55555", "33443344"],
)  # fmt: skip
def test_what_anybody_tries_first_is_refused(anna, pin):
    with pytest.raises(BadField) as caught:
        pins.set_pin(device=DeviceFactory(), person=anna, pin=pin)

    assert caught.value.field_code == "guessable_pin"
    assert not Pin.objects.exists()


@pytest.mark.parametrize("pin", ["4071", "1235", "2468", "19840", "1357", "90210"])
def test_others_are_taken(pin):
    assert not pins.is_guessable(pin)


@given(st.from_regex(r"[0-9]{4,8}", fullmatch=True))
def test_two_digits_are_never_enough(pin):
    assert pins.is_guessable(pin) or len(set(pin)) >= 3


def test_a_new_pin_takes_the_place_of_the_old_one(anna):
    device, _key = phone_of(anna)

    pins.set_pin(device=device, person=anna, pin="80421")

    assert open_phone(device, anna, "80421").person == anna
    assert refused(device, anna, PIN).code == "wrong_pin"
    assert Pin.objects.count() == 1


def test_one_person_has_one_pin_on_a_phone(anna):
    device, _key = phone_of(anna)
    first = Pin.objects.get()

    with pytest.raises(IntegrityError, match="pin"), transaction.atomic():
        Pin.objects.create(
            device=device, person=anna, hash="x", password_mark="", set_at=first.set_at,
            password_at=first.set_at,
        )  # fmt: skip


def test_the_fifth_wrong_try_locks_for_a_quarter_of_an_hour_even_the_right_pin(anna):
    device, _key = phone_of(anna)

    said = try_wrong(device, anna, 5)

    assert said == ["wrong_pin"] * 4 + ["pin_locked"]
    assert refused(device, anna, PIN).code == "pin_locked"
    wait = Pin.objects.get().locked_until - timezone.now()
    assert timedelta(minutes=14) < wait <= timedelta(minutes=15)
    let_lock_pass()
    assert open_phone(device, anna).person == anna


def test_tries_while_it_is_locked_are_not_counted(anna):
    device, _key = phone_of(anna)
    try_wrong(device, anna, 5)

    said = try_wrong(device, anna, 20)

    assert set(said) == {"pin_locked"}
    assert Pin.objects.get().wrong_tries == 5


def test_five_more_wrong_tries_drop_the_pin(anna):
    device, _key = phone_of(anna)
    try_wrong(device, anna, 5)
    let_lock_pass()

    said = try_wrong(device, anna, 5)

    assert said == ["wrong_pin"] * 4 + ["no_pin_here"]
    assert not Pin.objects.exists()
    assert refused(device, anna, PIN).code == "no_pin_here"


def test_it_is_said_how_many_tries_are_left(anna):
    device, _key = phone_of(anna)

    left = [refused(device, anna).facts["tries_left"] for _ in range(4)]

    assert left == [4, 3, 2, 1]


def test_wrong_tries_of_one_are_not_held_against_another(anna, dora):
    device, _key = phone_of(anna, dora)
    try_wrong(device, anna, 5)

    assert open_phone(device, dora).person == dora


def test_who_comes_in_hears_of_the_tries_before_and_begins_anew(anna):
    device, _key = phone_of(anna)
    try_wrong(device, anna, 3)

    first, second = open_phone(device, anna), open_phone(device, anna)

    assert (first.wrong_tries, second.wrong_tries) == (3, 0)
    assert try_wrong(device, anna, 4) == ["wrong_pin"] * 4


def test_a_try_that_was_never_finished_is_counted(anna, monkeypatch):
    device, _key = phone_of(anna)

    def cut_off(*_given):
        raise OSError("the power went")

    monkeypatch.setattr(pins, "check_password", cut_off)
    with pytest.raises(OSError, match="power"):
        open_phone(device, anna)

    assert Pin.objects.get().wrong_tries == 1


def test_after_thirty_days_without_the_password_a_pin_rests_until_it_is_typed(anna):
    device, _key = phone_of(anna)
    Pin.objects.update(password_at=timezone.now() - timedelta(days=30))

    assert refused(device, anna, PIN).code == "no_pin_here"
    assert pins.people_with_pin(device) == []
    pins.note_password(device=device, person=anna)
    assert open_phone(device, anna).person == anna


def test_another_password_ends_the_pin_for_good(anna):
    device, _key = phone_of(anna)

    anna.set_password("another long pass phrase")
    anna.save()

    assert refused(device, anna, PIN).code == "no_pin_here"
    assert pins.people_with_pin(device) == []
    pins.note_password(device=device, person=anna)
    assert not Pin.objects.exists()


def test_who_no_longer_works_here_has_no_pin(anna, dora):
    device, _key = phone_of(anna, dora)

    anna.is_active = False
    anna.save()

    assert pins.people_with_pin(device) == [dora]
    assert refused(device, anna, PIN).code == "no_pin_here"


def test_a_withdrawn_phone_keeps_nobodys_pin(anna, dora, max):
    device, key = phone_of(anna, dora)
    kept, _key = phone_of(anna)

    revoke_device(device=device, by=max)

    assert list(Pin.objects.values_list("device", flat=True)) == [kept.id]
    with pytest.raises(DeviceRevoked):
        pins.device_with_key(key)


def test_a_phone_without_its_secret_gets_another_and_all_set_their_pins_anew(anna, dora):
    device, old = phone_of(anna, dora)

    new = pins.give_key(device=device)

    assert new != old
    assert pins.device_with_key(old) is None
    assert pins.device_with_key(new) == device
    assert not Pin.objects.exists()


@pytest.mark.parametrize("key", ["", "guessed", "x" * 5000])
def test_a_guessed_secret_is_no_phone(anna, key):
    phone_of(anna)

    assert pins.device_with_key(key) is None


def test_nobody_is_refused_like_somebody_without_a_pin(anna):
    device, _key = phone_of(anna)

    with pytest.raises(NoPinHere):
        pins.unlock(device=device, person_id=new_id(), pin=PIN)


def test_the_password_lifts_the_lock(anna):
    device, _key = phone_of(anna)
    try_wrong(device, anna, 5)

    pins.note_password(device=device, person=anna)

    assert open_phone(device, anna).person == anna
