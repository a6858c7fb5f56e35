"""Finding a customer by any scrap, and only by who may see them."""

import pytest

from shop.core.ids import new_id
from shop.customers.phones import phone_digits, phone_scrap
from shop.customers.selectors import contact_matches, customers_visible_to
from shop.customers.services import add_customer

pytestmark = pytest.mark.django_db


@pytest.fixture
def rosa():
    return add_customer(
        id=new_id(), name="Rosa Müller-Feld", phone="0151 0000 1234", email="Rosa@Mail.example"
    )


@pytest.mark.parametrize(
    "scrap",
    [
        "rosa",
        "FELD",
        "MÜLLER",
        "müller rosa",
        "mail.EXAMPLE",
        "0151 0000 1234",
        "+49 151 0000-1234",
        "0049 151 00001234",
        "1234",
    ],
)
def test_a_customer_is_found_by_any_scrap_in_any_case(rosa, dora, scrap):
    add_customer(id=new_id(), name="Otto Grau", phone="0160 9999 9999")

    found = customers_visible_to(dora).filter(contact_matches(scrap))

    assert list(found) == [rosa]


@pytest.mark.parametrize("scrap", ["rosa otto", "999", "0", "%", "_"])
def test_what_does_not_fit_finds_nobody(rosa, dora, scrap):
    assert not customers_visible_to(dora).filter(contact_matches(scrap)).exists()


def test_who_does_not_serve_customers_sees_none(rosa, anna, dora, max, stranger):
    assert list(customers_visible_to(dora)) == [rosa]
    assert list(customers_visible_to(max)) == [rosa]
    assert not customers_visible_to(anna).exists()
    assert not customers_visible_to(stranger).exists()


def test_three_digits_or_letters_are_no_telephone_number():
    assert phone_scrap("123") == ""
    assert phone_scrap("92-A417") == ""
    assert phone_digits("00 49 / 151") == "49151"
