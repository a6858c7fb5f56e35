"""What every paper says about the shop, the time and the paper it replaces."""

from __future__ import annotations

import gettext as catalogues
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

import pycountry
from django.utils import formats, timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from shop.core.models import Shop
from shop.core.selectors import the_shop
from shop.documents.models import Document
from shop.units.models import Hazard

Context = dict[str, Any]


def local_time(at: datetime, shop: Shop | None = None) -> str:
    """A moment as the shop's clock showed it, with its zone, since a report must name it."""
    local = timezone.localtime(at, ZoneInfo((shop or the_shop()).time_zone))
    return f"{formats.date_format(local, 'DATE_FORMAT')}, {local:%H:%M} {local:%Z}"


def short_time(at: datetime) -> str:
    """The same for tables, where the head of the paper has named the zone."""
    return f"{day(at)} {_in_the_shop(at):%H:%M}"


def day(at: datetime) -> str:
    """The shop's own date of a moment, as the reader writes it."""
    return formats.date_format(_in_the_shop(at), "DATE_FORMAT")


def _in_the_shop(at: datetime) -> datetime:
    return timezone.localtime(at, ZoneInfo(the_shop().time_zone))


def heading(document: Document) -> Context:
    """Shop, title, time and the replaced paper, for the head and foot of a sheet."""
    shop = the_shop()
    replaced = document.replaces
    return {
        "shop": shop,
        "language": document.language,
        "title": document.title,
        "document_id": document.id,
        "issued_words": _("Issued %(at)s") % {"at": local_time(document.requested_at, shop)},
        "foot": f"{shop.name} · {document.title} · {document.id}",
        "replaces": replaced
        and {"title": replaced.title, "at": local_time(replaced.requested_at, shop)},
    }


def supply_text(volt: int | None, hz: int | None) -> str:
    """A supply as a person says it: `230 V, 50 Hz`."""
    if volt is None:
        return _("not known")
    return f"{volt}\u00a0V" + (f", {hz}\u00a0Hz" if hz else "")


def country_name(code: str) -> str:
    """A country by its name in the language now active; a code that is not known stands as it is.

    Source: ISO 3166-1 and its translations as packaged by pycountry.
    """
    country = pycountry.countries.get(alpha_2=code)
    if country is None:
        return code
    names = catalogues.translation(
        "iso3166-1", pycountry.LOCALES_DIR, [get_language() or "en"], fallback=True
    )
    return names.gettext(getattr(country, "common_name", country.name))


def hazard_words(keys: list[str]) -> list[str]:
    """The hazards of a model sheet in words; a key that is not known stands as it is."""
    return [str(Hazard(key).label) if key in Hazard.values else key for key in keys]
