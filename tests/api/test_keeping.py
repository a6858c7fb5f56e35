"""What a browser may keep: nothing of customers."""

import pytest

from tests.factories.everything import everything

pytestmark = pytest.mark.django_db


def test_what_tells_of_customers_is_kept_by_no_browser(api):
    shop = everything()
    client = api(shop.people["desk"])

    for path in (
        "customers/", f"customers/{shop.repair.customer_id}/", "repairs/", "find/?q=Rosa",
        f"repairs/{shop.repair.id}/", f"repairs/{shop.repair.id}/account/",
    ):  # fmt: skip
        answer = client.get(f"/api/v1/{path}")

        assert (answer.status_code, answer["Cache-Control"]) == (200, "no-store"), path


def test_what_may_be_kept_says_so_itself(api):
    shop = everything()
    client = api(shop.people["tech"])

    for path in ("codes/", "calculators/", f"worksheets/{shop.worksheet.id}/pack/"):
        assert client.get(f"/api/v1/{path}")["Cache-Control"] == "private, no-cache"
