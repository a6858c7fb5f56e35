"""Status links: many random bits, only a hash kept, revocable, expiring."""

import hashlib
from datetime import timedelta

import pytest
from django.utils import timezone

from shop.repairs.errors import PublicUrlMissing
from shop.repairs.models import Repair, StatusLink
from shop.repairs.selectors import repair_by_token, status_url
from shop.repairs.services import issue_status_link, revoke_status_links
from tests.factories.core import ShopFactory
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


def token_of(url):
    assert url.startswith("https://shop.example/s/")
    return url.rstrip("/").rpartition("/")[2]


def test_a_link_leads_to_its_repair_and_only_the_hash_of_its_token_is_kept():
    repair = RepairFactory()

    token = token_of(issue_status_link(repair=repair))

    link = StatusLink.objects.get()
    assert repair_by_token(token) == repair
    assert link.token_sha256 == hashlib.sha256(token.encode()).hexdigest()
    assert token not in str(StatusLink.objects.values())
    assert len(token) == 32  # 6 bits each: 192 bits, at least 128 are asked for


def test_the_same_address_is_given_again_for_paper_and_mail():
    repair = RepairFactory()

    first = issue_status_link(repair=repair)

    assert issue_status_link(repair=repair) == first == status_url(repair)
    assert StatusLink.objects.count() == 1


def test_two_repairs_never_share_a_token():
    one, two = RepairFactory(), RepairFactory()

    tokens = {token_of(issue_status_link(repair=repair)) for repair in (one, two)}

    assert len(tokens) == 2


def test_a_revoked_link_leads_nowhere_and_the_next_one_is_another():
    repair = RepairFactory()
    old = token_of(issue_status_link(repair=repair))

    revoked = revoke_status_links(repair=repair)

    assert revoked == 1
    assert repair_by_token(old) is None
    assert status_url(repair) is None
    assert token_of(issue_status_link(repair=repair)) != old


def test_a_link_ends_after_the_days_of_the_shop():
    ShopFactory(status_link_days=30)
    repair = RepairFactory()
    token = token_of(issue_status_link(repair=repair))
    link = StatusLink.objects.get()

    StatusLink.objects.update(expires_at=timezone.now() - timedelta(seconds=1))

    assert timedelta(days=29) < link.expires_at - timezone.now() < timedelta(days=30)
    assert repair_by_token(token) is None
    assert status_url(repair) is None


@pytest.mark.parametrize("token", ["", "x", "x" * 32, "x" * 1000, "\0" * 32])
def test_a_made_up_token_leads_nowhere(token):
    issue_status_link(repair=RepairFactory())

    assert repair_by_token(token) is None


def test_opening_a_link_changes_nothing():
    repair = RepairFactory()
    token = token_of(issue_status_link(repair=repair))
    before = (list(Repair.objects.values()), list(StatusLink.objects.values()))

    repair_by_token(token)

    assert (list(Repair.objects.values()), list(StatusLink.objects.values())) == before


def test_without_a_public_address_no_link_is_issued_and_the_reason_is_said(settings):
    settings.PUBLIC_URL = ""

    with pytest.raises(PublicUrlMissing, match="PUBLIC_URL"):
        issue_status_link(repair=RepairFactory())

    assert not StatusLink.objects.exists()


def test_after_a_change_of_the_secret_key_old_links_still_work_and_a_new_one_is_printed(settings):
    repair = RepairFactory()
    old = token_of(issue_status_link(repair=repair))

    settings.SECRET_KEY = "another key of this shop"
    new = token_of(issue_status_link(repair=repair))

    assert new != old
    assert repair_by_token(old) == repair_by_token(new) == repair
