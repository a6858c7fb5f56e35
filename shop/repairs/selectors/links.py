"""Reads of status links."""

from __future__ import annotations

from django.utils import timezone

from shop.core.selectors import public_url
from shop.repairs.models import Repair, StatusLink
from shop.repairs.tokens import TOKEN_LENGTH, derive_token, token_sha256


def live_link(repair: Repair) -> StatusLink | None:
    """The newest link of a repair that works now, or None.

    A link made under another SECRET_KEY cannot be printed again and is passed over.
    """
    links = repair.status_links.filter(revoked_at=None, expires_at__gt=timezone.now())
    for link in links.order_by("-created_at"):
        if token_sha256(derive_token(link.id)) == link.token_sha256:
            return link
    return None


def link_url(link: StatusLink) -> str | None:
    """The address of a link, or None while no PUBLIC_URL is set."""
    base = public_url()
    return f"{base}/s/{derive_token(link.id)}/" if base else None


def status_url(repair: Repair) -> str | None:
    """The address to print on papers and in messages, or None when there is none."""
    link = live_link(repair)
    return link_url(link) if link else None


def repair_by_token(token: str) -> Repair | None:
    """The repair a status link leads to, or None: unknown, revoked, expired. Changes nothing."""
    if len(token) != TOKEN_LENGTH:
        return None
    link = (
        StatusLink.objects.filter(
            token_sha256=token_sha256(token), revoked_at=None, expires_at__gt=timezone.now()
        )
        .select_related("repair__unit", "repair__customer")
        .first()
    )
    return link.repair if link else None
