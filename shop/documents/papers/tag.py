"""The tag of a unit, and one label for each loose piece that came with it."""

from __future__ import annotations

from django.utils.translation import gettext as _

from shop.documents.marks import data_matrix
from shop.documents.models import Document
from shop.documents.papers.common import Context, hazard_words, heading
from shop.units.models import Piece, Unit

# Ten dots of a 203 dpi label printer (8 dots per mm): its modules come out whole.
MODULE_MM = 1.25


def context(document: Document) -> Context:
    repair = document.repair
    assert repair is not None  # noqa: S101  # the kinds of a repair are issued with one
    unit = repair.unit
    here = unit.pieces.filter(state="here").order_by("name")
    labels = [_unit_label(unit, repair.number), *(_piece_label(piece, unit) for piece in here)]
    return {**heading(document), "labels": labels}


def _unit_label(unit: Unit, number: int) -> Context:
    sheet = unit.model_sheet
    volt = unit.set_for_volt
    return {
        **scan(unit.code),
        "name": f"{unit.make} {unit.model}",
        "second": _("No. %(number)s") % {"number": number}
        + (" · " + _("S/N %(serial)s") % {"serial": unit.serial} if unit.serial else ""),
        "hazards": ", ".join(hazard_words(sheet.hazards if sheet else [])),
        "set_for": _("SET FOR %(volt)s V") % {"volt": volt if volt is not None else "?"},
        "stop": unit.do_not_power,
    }


def _piece_label(piece: Piece, unit: Unit) -> Context:
    return {
        **scan(piece.code),
        "name": piece.name,
        "second": _("belongs to %(code)s") % {"code": unit.code},
    }


def scan(code: str) -> Context:
    """A code in print: its letters, its Data Matrix and how wide that stands on the label."""
    picture, modules = data_matrix(code)
    return {"code": code, "scan": picture, "width": f"{modules * MODULE_MM}mm"}


def title(number: int) -> str:
    return _("Tag for repair %(number)s") % {"number": number}
