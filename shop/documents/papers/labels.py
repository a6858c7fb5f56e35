"""A sheet of small labels for the shop's own things: bins, parts, meters, shelves; units too."""

from __future__ import annotations

from shop.core.selectors import public_url
from shop.documents.marks import data_matrix, qr
from shop.documents.models import Document
from shop.documents.papers.common import Context, heading
from shop.documents.selectors import names_of

# 4 by 10 labels of 48.5 by 25.4 mm on A4: a sheet that every stationer has.
ACROSS, A_SHEET = 4, 40
WIDE_MM, HIGH_MM = 48.5, 25.4
LEFT_MM, TOP_MM = 8, 21.5
MODULE_MM = 1.0  # eight dots of a 203 dpi printer
ADDRESS_MM = 21


def context(document: Document) -> Context:
    """Labels in the order they were asked for, a name beside each code."""
    wanted = document.holds
    names = names_of(wanted["codes"])
    labels = [
        {**_scan(code, address=wanted["address"]), "name": names[code], **_place(number % A_SHEET)}
        for number, code in enumerate(wanted["codes"])
    ]
    sheets = [labels[first : first + A_SHEET] for first in range(0, len(labels), A_SHEET)]
    return {**heading(document), "sheets": sheets}


def _scan(code: str, *, address: bool) -> Context:
    """The code as a Data Matrix; or the address of its page, for any phone's own camera."""
    if address:
        return {
            "code": code,
            "scan": qr(f"{public_url()}/app/t/{code}"),
            "width": f"{ADDRESS_MM}mm",
        }
    picture, modules = data_matrix(code)
    return {"code": code, "scan": picture, "width": f"{modules * MODULE_MM}mm"}


def _place(number: int) -> Context:
    row, column = divmod(number, ACROSS)
    return {
        "left": f"{LEFT_MM + column * WIDE_MM}mm",
        "top": f"{TOP_MM + row * HIGH_MM:.1f}mm",
    }
