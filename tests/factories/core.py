"""The smallest valid people and phones."""

from datetime import UTC, datetime

import factory

from shop.core.ids import new_id
from shop.core.models import Device, Person, Shop

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


class ShopFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Shop
        django_get_or_create = ("id",)

    id = 1
    name = "Test shop"
