"""An offered reading goes to the bench and comes back from it, for those who work there."""

import pytest

from shop.core.ids import new_id
from tests.factories.jobs import BenchFactory, MeterFactory

pytestmark = pytest.mark.django_db


def body(of, **more):
    return {
        "id": str(new_id()), "meter": of.code, "quantity": "voltage_dc", "said": "+4.987E+00",
        "taken_at": "2031-05-01T10:00:00Z", "sent_at": "2031-05-01T10:00:02Z", **more,
    }  # fmt: skip


def address(bench):
    return f"/api/v1/benches/{bench.id}/offered-readings/"


def test_what_was_offered_is_read_back_whatever_the_clock_of_the_pc_says(api, anna):
    bench, meter, client = BenchFactory(), MeterFactory(), api(anna)

    sent = client.post(address(bench), body(meter), format="json")
    (told,) = client.get(address(bench)).json()

    assert sent.status_code == 201
    assert (told["typed"], told["meter"], told["quantity"]) == (
        "4.987 V", str(meter.id), "voltage_dc",
    )  # fmt: skip
    assert 2 <= told["age_seconds"] < 60


def test_a_repeat_answers_with_the_first(api, anna):
    bench, client = BenchFactory(), api(anna)
    sent = body(MeterFactory())
    client.post(address(bench), sent, format="json")

    again = client.post(address(bench), {**sent, "sent_at": "2031-05-01T10:00:09Z"}, format="json")

    assert again.status_code == 200
    assert len(client.get(address(bench)).json()) == 1


def test_nothing_new_since_the_last_is_an_empty_list(api, anna):
    bench, client = BenchFactory(), api(anna)
    first = client.post(address(bench), body(MeterFactory()), format="json").json()

    assert client.get(address(bench), {"since": first["taken_at"]}).json() == []


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"meter": "M0000000"}, "meter"),
        ({"quantity": "colour"}, "quantity"),
        ({"said": "4.9.8"}, "said"),
        ({"said": "-5", "quantity": "resistance"}, "said"),
        ({"sent_at": "2031-05-01T11:00:00Z"}, "sent_at"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(api, anna, wrong, field):
    bench = BenchFactory()

    answer = api(anna).post(address(bench), body(MeterFactory(), **wrong), format="json")

    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == field


def test_the_front_desk_neither_offers_nor_sees(api, dora):
    bench, client = BenchFactory(), api(dora)

    assert client.get(address(bench)).status_code == 403
    assert client.post(address(bench), body(MeterFactory()), format="json").status_code == 403


def test_looking_costs_the_same_for_many_offers(api, anna, django_assert_max_num_queries):
    bench, client = BenchFactory(), api(anna)
    for _turn in range(12):
        client.post(address(bench), body(MeterFactory()), format="json")

    with django_assert_max_num_queries(2):
        assert len(client.get(address(bench)).json()) == 12
