"""The smallest valid customers, model sheets, units and repairs."""

import factory

from shop.calc.codes import Kind, make_code
from shop.customers.models import Customer
from shop.repairs.models import Repair
from shop.units.models import ModelSheet, Shelf, Unit
from tests.factories.core import NOW, PersonFactory


class CustomerFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Customer

    name = factory.Sequence(lambda n: f"Customer {n}")
    email = factory.Sequence(lambda n: f"customer{n}@mail.example")
    created_at = NOW


class ModelSheetFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = ModelSheet

    make = "Testmake"
    model = factory.Sequence(lambda n: f"Model {n}")
    kind = "preamplifier"
    supply_kind = "linear"


class ShelfFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Shelf

    code = factory.Sequence(lambda n: make_code(Kind.SHELF, f"{n:06d}"))
    name = factory.Sequence(lambda n: f"Shelf {n}")


class UnitFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Unit

    code = factory.Sequence(lambda n: make_code(Kind.UNIT, f"{n:06d}"))
    make = "Testmake"
    model = "Model"
    owner = factory.SubFactory(CustomerFactory)


class RepairFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Repair

    number = factory.Sequence(lambda n: n + 1)
    unit = factory.SubFactory(UnitFactory)
    customer = factory.SelfAttribute("unit.owner")
    stage = "booked_in"
    stage_since = NOW
    booked_in_at = NOW
    booked_in_by = factory.SubFactory(PersonFactory, role="desk")
    complaint = "No sound."
    use_at_country = "DE"
    use_at_volt = 230
    use_at_hz = 50
