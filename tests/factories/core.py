"""The smallest valid people and phones."""

from datetime import UTC, datetime

import factory
from django.conf import settings

from api.devices import SESSION_KEY
from shop.core.ids import new_id
from shop.core.models import Device, Person, Shop
from shop.core.pins import give_key, set_pin

NOW = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


class PersonFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Person
        skip_postgeneration_save = True

    username = factory.Sequence(lambda n: f"person{n}")
    name = factory.Sequence(lambda n: f"Person {n}")
    role = "tech"
    password = factory.django.Password("a long enough pass phrase")


class DeviceFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Device

    id = factory.LazyFunction(new_id)
    name = "Phone"
    person = factory.SubFactory(PersonFactory)
    enrolled_at = NOW
    last_seen_at = NOW


PIN = "4071"


def phone_of(*people, pin=PIN):
    """A phone on which each of these people has the same PIN, and its secret."""
    device = DeviceFactory(person=people[0])
    key = give_key(device=device)
    for person in people:
        set_pin(device=device, person=person, pin=pin)
    device.refresh_from_db()
    return device, key


def hold(client, device, key):
    """Let a test client be this phone, signed in or not."""
    client.cookies[settings.DEVICE_COOKIE_NAME] = key
    session = client.session
    session[SESSION_KEY] = str(device.id)
    session.save()
    client.cookies[settings.SESSION_COOKIE_NAME] = session.session_key
    return client


class ShopFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Shop
        django_get_or_create = ("id",)

    id = 1
    name = "Test shop"
