"""Status links: the address at which a customer follows one repair without an account."""

from __future__ import annotations

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from shop.core.ids import new_id
from shop.core.selectors import the_shop, why_no_public_url
from shop.repairs.errors import PublicUrlMissing
from shop.repairs.models import Repair, StatusLink
from shop.repairs.selectors.links import link_url, live_link
from shop.repairs.tokens import derive_token, token_sha256


@transaction.atomic
def issue_status_link(*, repair: Repair) -> str:
    """The address of the repair's status page; the one in force if there is one.

    Raises PublicUrlMissing with the sentence for the screen.
    """
    if reason := why_no_public_url():
        raise PublicUrlMissing(reason)
    link = live_link(repair) or _make_link(repair)
    url = link_url(link)
    assert url is not None  # noqa: S101  # public_url was looked at above
    return url


def _make_link(repair: Repair) -> StatusLink:
    now, id = timezone.now(), new_id()
    return StatusLink.objects.create(
        id=id,
        repair=repair,
        token_sha256=token_sha256(derive_token(id)),
        created_at=now,
        expires_at=now + timedelta(days=the_shop().status_link_days),
    )


def revoke_status_links(*, repair: Repair) -> int:
    """Every link of the repair stops working. Returns how many did work."""
    return repair.status_links.filter(revoked_at=None).update(revoked_at=timezone.now())
