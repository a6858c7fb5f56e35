"""The receipt: what the customer left here, in which state, and what may be done."""

from __future__ import annotations

from django.utils.translation import gettext as _

from shop.billing.amounts import money_text
from shop.core.selectors import public_url, the_shop, why_no_public_url
from shop.documents.marks import photo_picture, qr, signature_picture
from shop.documents.models import Document
from shop.documents.papers.common import (
    Context,
    country_name,
    heading,
    local_time,
    supply_text,
)
from shop.repairs.models import Repair


def context(document: Document) -> Context:
    repair = document.repair
    assert repair is not None  # noqa: S101  # the kinds of a repair are issued with one
    return {
        **heading(document),
        "customer": repair.customer,
        "unit": repair.unit,
        "complaint": repair.complaint,
        "damage": repair.damage,
        "supplies": _supplies(repair),
        "allowed": _allowed(repair),
        **_photos(repair),
        "pieces": list(repair.unit.pieces.filter(state="here").order_by("name")),
        "terms": the_shop().terms,
        "signature": signature_picture(repair.signature),
        "signed_by": (repair.signature or {}).get("name") or repair.customer.name,
        "name_typed": (repair.signature or {}).get("name", ""),
        "booked_in_by": str(repair.booked_in_by),
        "booked_in_at": local_time(repair.booked_in_at),
        "status": _status(repair),
    }


def _supplies(repair: Repair) -> list[tuple[str, str]]:
    use_at = supply_text(repair.use_at_volt, repair.use_at_hz)
    return [
        (_("Last worked"), repair.last_worked or _("not known")),
        (_("Last connected to"), repair.last_supply or _("not known")),
        (_("Set for, as found"), supply_text(repair.set_for_volt, repair.set_for_hz)),
        (_("To be used at"), f"{use_at} ({country_name(repair.use_at_country)})"),
    ]


def _allowed(repair: Repair) -> list[tuple[str, str]]:
    currency = the_shop().currency
    limit = repair.spending_limit_minor
    fee = money_text(repair.diagnosis_fee_minor, currency)
    return [
        (_("Fee for looking it over"), _("%(amount)s incl. tax") % {"amount": fee}),
        (
            _("Spend without asking"),
            _("up to %(amount)s incl. tax") % {"amount": money_text(limit, currency)}
            if limit
            else _("nothing: ask first"),
        ),
        (_("Visible changes"), str(repair.get_visible_changes_display())),
        (_("Stored sounds"), str(repair.get_sounds_display())),
    ]


def _photos(repair: Repair) -> Context:
    rows = repair.photos.filter(taken_at__lte=repair.booked_in_at).order_by("taken_at", "id")
    found = [(row, photo_picture(row.sha256)) for row in rows]
    shown = [
        {"picture": picture, "caption": row.caption, "alt": row.caption or _("Photo of the unit")}
        for row, picture in found
        if picture
    ]
    return {"photos": shown, "photos_on_their_way": len(found) - len(shown)}


def _status(repair: Repair) -> Context:
    if not public_url():
        return {"url": None, "missing": why_no_public_url()}
    from shop.repairs.services import issue_status_link

    url = issue_status_link(repair=repair)
    return {"url": url, "qr": qr(url)}


def title(number: int) -> str:
    return _("Receipt for repair %(number)s") % {"number": number}
