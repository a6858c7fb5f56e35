"""Customers over HTTP: for the desk and the manager only."""

import pytest

from shop.core.ids import new_id
from shop.customers.models import Customer
from tests.factories.units import CustomerFactory

pytestmark = pytest.mark.django_db
CUSTOMERS = "/api/v1/customers/"
ROSA = {"name": "Rosa Feld", "phone": "0151 123", "email": "r@mail.example", "language": "en"}


def test_the_desk_writes_a_customer_down_and_finds_them_again(api, dora):
    made = api(dora).post(CUSTOMERS, ROSA, format="json")
    found = api(dora).get(CUSTOMERS, {"q": "ROSA"}).json()["results"]

    assert made.status_code == 201
    assert found == [made.json()]
    assert {name: made.json()[name] for name in ROSA} == ROSA


def test_the_same_id_again_is_the_same_customer(api, dora):
    sent = {**ROSA, "id": str(new_id())}

    answers = [api(dora).post(CUSTOMERS, sent, format="json") for _ in range(2)]

    assert {answer.json()["id"] for answer in answers} == {sent["id"]}
    assert Customer.objects.count() == 1


@pytest.mark.parametrize(
    ("field", "changes"),
    [
        ("name", {"name": " "}),
        ("name", {"name": "x" * 121}),
        ("email", {"email": "nowhere"}),
        ("language", {"language": "xx"}),
        ("id", {"id": "seven"}),
        ("phone", {"phone": None}),
    ],
)
def test_bad_input_is_named_at_its_field(api, dora, field, changes):
    answer = api(dora).post(CUSTOMERS, {**ROSA, **changes}, format="json")

    assert answer.status_code == 400
    assert [row["field"] for row in answer.json()["errors"]] == [field]
    assert not Customer.objects.exists()


def test_a_tech_sees_no_customer(api, anna):
    rosa = CustomerFactory()

    for address in (CUSTOMERS, f"{CUSTOMERS}{rosa.id}/"):
        assert api(anna).get(address).status_code == 403
    assert api(anna).post(CUSTOMERS, ROSA, format="json").status_code == 403


@pytest.mark.parametrize("customers", [1, 30])
def test_the_list_takes_the_same_queries_for_few_and_for_many(
    api, dora, customers, django_assert_num_queries
):
    for _ in range(customers):
        CustomerFactory()
    client = api(dora)

    with django_assert_num_queries(1):
        rows = client.get(CUSTOMERS).json()["results"]

    assert len(rows) == customers
