"""Reads of the core."""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.models import Person, Shop


def the_shop() -> Shop:
    """The one row of shop facts; defaults until the manager has filled them in."""
    return Shop.objects.filter(id=1).first() or Shop(id=1, name=_("Repair shop"))


def public_url() -> str | None:
    """Where customers reach this shop, or None when nobody has said so."""
    return settings.PUBLIC_URL or None


def why_no_public_url() -> str | None:
    """The sentence the screens show when no status link can be issued."""
    if public_url():
        return None
    return _(
        "No status link: the address at which customers reach this shop is not set (PUBLIC_URL)."
    )


def active_people() -> QuerySet[Person]:
    """Everybody who works here now, by name."""
    return Person.objects.filter(is_active=True).order_by("name", "id")


def shop_zone() -> ZoneInfo:
    """The time zone where the shop is: its days begin and end there."""
    return ZoneInfo(the_shop().time_zone)


def today_in_shop() -> date:
    """The calendar day where the shop is."""
    return timezone.localdate(timezone=shop_zone())


def day_begins(day: date) -> datetime:
    """The moment at which a day begins where the shop is."""
    return datetime.combine(day, time.min, shop_zone())
