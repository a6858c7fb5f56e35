"""Coming in by PIN over HTTP."""

import json
from http.cookies import SimpleCookie

import pytest
from django.conf import settings
from django.test import Client

from shop.core.ids import new_id
from shop.core.models import Device, Pin
from tests.factories.core import PIN, DeviceFactory, hold, phone_of
from tests.factories.everything import everything

pytestmark = pytest.mark.django_db
PASSWORD = "a long enough pass phrase"
HERE = "/api/v1/session/pin/"


def phone(key):
    """A browser that has this secret and no session."""
    client = Client()
    client.cookies = SimpleCookie({settings.DEVICE_COOKIE_NAME: key} if key else {})
    return client


def send(client, method, path, body, **headers):
    return client.generic(method, path, json.dumps(body), "application/json", **headers)


def sign_in(client, person, device_id, password=PASSWORD):
    device = {"id": str(device_id), "name": "Bench phone"}
    body = {"username": person.username, "password": password, "device": device}
    return send(client, "POST", "/api/v1/session/", body)


def enter(client, person, pin=PIN):
    return send(client, "POST", HERE, {"person": str(person.id), "pin": pin})


def set_pin(client, pin=PIN, password=PASSWORD):
    return send(client, "PUT", HERE, {"pin": pin, "password": password})


def names(client):
    return [row["name"] for row in client.get(HERE).json()["people"]]


def test_a_phone_goes_from_hand_to_hand_by_pin(anna, dora):
    client, id = Client(), new_id()
    for person in (anna, dora):
        assert sign_in(client, person, id).status_code == 200
        assert set_pin(client).status_code == 204
    client.delete("/api/v1/session/")
    listed = names(client)

    came_in = enter(client, anna)

    assert listed == ["Anna", "Dora"]
    assert came_in.status_code == 200, came_in.content
    assert came_in.json()["device"]["id"] == str(id)
    assert client.get("/api/v1/session/").json()["name"] == "Anna"
    enter(client, dora)
    assert client.get("/api/v1/session/").json()["name"] == "Dora"


def test_the_secret_of_a_phone_is_kept_from_scripts_and_other_sites(anna):
    answer = sign_in(Client(), anna, new_id())

    cookie = answer.cookies[settings.DEVICE_COOKIE_NAME]
    assert cookie["httponly"]
    assert cookie["samesite"] == "Strict"
    assert len(cookie.value) >= 43  # 256 bits in base64
    assert Device.objects.get().key_hash not in {cookie.value, "", None}


def test_a_phone_keeps_its_secret_when_the_next_person_signs_in(anna, dora):
    client, id = Client(), new_id()
    sign_in(client, anna, id)
    first = client.cookies[settings.DEVICE_COOKIE_NAME].value
    set_pin(client)

    sign_in(client, dora, id)

    assert client.cookies[settings.DEVICE_COOKIE_NAME].value == first
    assert names(client) == ["Anna"]


def test_who_knows_the_id_of_a_phone_learns_nothing_and_comes_in_nowhere(anna, dora):
    device, _key = phone_of(anna)  # ids of phones stand in every entry

    elsewhere = Client()
    for client in (elsewhere, phone("guessed"), phone("")):
        assert names(client) == []
        assert enter(client, anna).json()["code"] == "no_pin_here"
    assert client.get(f"{HERE}?device={device.id}").json() == {"people": []}
    assert Pin.objects.get().wrong_tries == 0


def test_who_signs_in_as_that_phone_without_its_secret_gets_nobodys_pin(anna, dora):
    device, key = phone_of(anna)

    elsewhere = Client()
    assert sign_in(elsewhere, dora, device.id).status_code == 200

    assert names(elsewhere) == []
    assert enter(elsewhere, anna).json()["code"] == "no_pin_here"
    assert enter(phone(key), anna).json()["code"] == "no_pin_here"


def test_a_wrong_pin_says_how_many_tries_are_left_and_the_fifth_locks(anna):
    _device, key = phone_of(anna)
    client = phone(key)

    said = [enter(client, anna, "8305") for _ in range(5)]

    assert [answer.json()["code"] for answer in said] == ["wrong_pin"] * 4 + ["pin_locked"]
    assert [answer.json().get("tries_left") for answer in said] == [4, 3, 2, 1, None]
    assert enter(client, anna).status_code == 429
    assert client.get("/api/v1/session/").status_code == 401


def test_tries_stay_counted_over_http(anna):
    _device, key = phone_of(anna)

    enter(phone(key), anna, "8305")

    assert Pin.objects.get().wrong_tries == 1
    assert enter(phone(key), anna).json()["wrong_tries"] == 1


def test_setting_a_pin_takes_the_password_typed_just_now(anna):
    client = Client()
    sign_in(client, anna, new_id())

    answer = set_pin(client, password="what somebody else thinks")

    assert (answer.status_code, answer.json()["code"]) == (403, "wrong_password")
    assert not Pin.objects.exists()


def test_a_guessable_pin_is_refused_at_its_field(anna):
    client = Client()
    sign_in(client, anna, new_id())

    answer = set_pin(client, pin="1234")

    assert answer.status_code == 400
    assert [(row["field"], row["code"]) for row in answer.json()["errors"]] == [
        ("pin", "guessable_pin")
    ]


@pytest.mark.parametrize("pin", ["407", "407140714", "40a1", "٤٠٧١", "40 71", "", None, 4071.5, []])
def test_what_is_no_pin_is_refused(anna, pin):
    client = Client()
    sign_in(client, anna, new_id())

    assert set_pin(client, pin=pin).status_code == 400
    assert not Pin.objects.exists()


def test_a_pin_does_not_set_another_pin_nor_sign(api):
    shop = everything()
    tech = shop.people["tech"]
    client = phone(shop.phone_key)
    enter(client, tech)

    another = set_pin(client, pin="80421", password=PIN)
    body = {"id": str(new_id()), "step": "signed", "password": PIN, "note": ""}
    signed = send(client, "POST", f"/api/v1/worksheets/{shop.worksheet.id}/sign-off/", body)

    assert (another.status_code, another.json()["code"]) == (403, "wrong_password")
    assert (signed.status_code, signed.json()["code"]) == (403, "wrong_password")
    assert enter(phone(shop.phone_key), tech).status_code == 200
    body["password"] = PASSWORD
    assert send(client, "POST", f"/api/v1/worksheets/{shop.worksheet.id}/sign-off/", body).json()[
        "kind"
    ]


def test_a_pin_does_not_open_the_admin_but_the_password_does(max):
    max.is_staff = max.is_superuser = True
    max.save()
    device, key = phone_of(max)
    client = phone(key)

    enter(client, max)
    by_pin = client.get("/admin/")
    sign_in(client, max, device.id)
    by_password = client.get("/admin/")

    assert (by_pin.status_code, by_pin.json()["code"]) == (403, "password_needed")
    assert by_password.status_code == 200


def test_withdrawing_a_phone_hits_everybody_who_uses_it(anna, dora, max, api):
    device, key = phone_of(anna, dora)
    by_pin, by_password = phone(key), phone(key)
    enter(by_pin, anna)
    sign_in(by_password, dora, device.id)

    api(max).post(f"/api/v1/devices/{device.id}/revoke/")

    for client in (by_pin, by_password):
        for _again in range(2):  # the first answer ends the session, the second says why as well
            assert client.get("/api/v1/people/").json()["code"] == "device_revoked"
    assert phone(key).get(HERE).json()["code"] == "device_revoked"
    assert enter(phone(key), anna).json()["code"] == "device_revoked"
    again = phone(key)
    assert sign_in(again, anna, new_id()).json()["code"] == "device_revoked"
    assert again.get("/api/v1/session/").status_code == 401


def test_the_manager_sees_who_has_a_pin_where_and_withdraws_it(anna, dora, max, api):
    _device, key = phone_of(anna, dora)

    (row,) = api(max).get("/api/v1/devices/").json()["results"]
    shown = {pin["person_name"]: pin["id"] for pin in row["pins"]}
    gone = api(max).delete(f"/api/v1/pins/{shown['Anna']}/")

    assert list(shown) == ["Anna", "Dora"]
    assert "hash" not in json.dumps(row)
    assert gone.status_code == 204
    assert names(phone(key)) == ["Dora"]
    assert api(max).delete(f"/api/v1/pins/{shown['Anna']}/").status_code == 404


def test_nobody_but_the_manager_withdraws_the_pin_of_another(anna, dora, api):
    phone_of(anna)

    for person in (anna, dora):
        assert api(person).delete(f"/api/v1/pins/{Pin.objects.get().id}/").status_code == 403
    assert Pin.objects.exists()


def test_everybody_drops_their_own_pin_and_no_other(anna, dora):
    _device, key = phone_of(anna, dora)
    client = phone(key)
    enter(client, anna)

    answer = client.delete(HERE)

    assert answer.status_code == 204
    assert names(client) == ["Dora"]
    assert client.delete(HERE).status_code == 204


def test_a_session_without_a_phone_sets_no_pin(client, anna):
    client.force_login(anna, backend="django.contrib.auth.backends.ModelBackend")

    answer = set_pin(client)

    assert (answer.status_code, answer.json()["code"]) == (409, "not_on_this_phone")


def test_a_phone_of_before_the_secrets_gets_one_with_its_first_pin(client, anna):
    device = DeviceFactory(person=anna)
    client.force_login(anna, backend="django.contrib.auth.backends.ModelBackend")
    hold(client, device, "")
    client.force_login(anna, backend="django.contrib.auth.backends.ModelBackend")

    assert set_pin(client).status_code == 204

    assert names(client) == ["Anna"]


def test_coming_in_by_pin_takes_a_csrf_token(anna):
    _device, key = phone_of(anna)
    client = Client(enforce_csrf_checks=True)
    client.cookies[settings.DEVICE_COOKIE_NAME] = key

    assert enter(client, anna).status_code == 403
    assert client.get("/api/v1/session/").status_code == 401


def test_phones_with_pins_take_the_same_queries(api, max, anna, dora, django_assert_num_queries):
    for _ in range(6):
        phone_of(anna, dora)
    client = api(max)

    with django_assert_num_queries(2):
        rows = client.get("/api/v1/devices/").json()["results"]

    assert [len(row["pins"]) for row in rows] == [2] * 6
