"""Customers are written down as they say it, once."""

import pytest
from django.db import IntegrityError, transaction

from shop.core.errors import BadField, Conflict
from shop.core.ids import new_id
from shop.customers.models import Customer
from shop.customers.services import add_customer
from tests.factories.units import CustomerFactory

pytestmark = pytest.mark.django_db


def test_details_are_kept_as_typed_and_digits_beside_them_for_finding():
    customer = add_customer(id=new_id(), name=" Rosa Feld ", phone="+49 (0)151 / 00-123")

    assert customer.name == "Rosa Feld"
    assert customer.phone == "+49 (0)151 / 00-123"
    assert customer.phone_digits == "49015100123"


def test_the_same_customer_sent_twice_is_one_customer():
    sent = {"id": new_id(), "name": "Rosa Feld", "email": "r@mail.example"}

    first = add_customer(**sent)
    again = add_customer(**sent)

    assert first == again
    assert Customer.objects.count() == 1


def test_the_same_id_with_another_name_is_a_conflict_and_changes_nothing():
    id = new_id()
    add_customer(id=id, name="Rosa Feld")

    with pytest.raises(Conflict):
        add_customer(id=id, name="Otto Grau")

    assert Customer.objects.get().name == "Rosa Feld"


@pytest.mark.parametrize(
    ("field", "sent"),
    [
        ("name", {"name": "  "}),
        ("email", {"name": "Rosa", "email": "rosa at home"}),
        ("language", {"name": "Rosa", "language": "xx"}),
    ],
)
def test_what_cannot_be_used_is_named_and_nothing_is_written(field, sent):
    with pytest.raises(BadField) as refused:
        add_customer(id=new_id(), **sent)

    assert refused.value.field == field
    assert not Customer.objects.exists()


def test_the_database_keeps_no_customer_without_a_name():
    with pytest.raises(IntegrityError, match="customer_has_a_name"), transaction.atomic():
        CustomerFactory(name="")
