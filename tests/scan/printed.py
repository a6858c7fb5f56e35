"""Labels as the shop prints them: through the very templates, styles and modules of its papers."""

from __future__ import annotations

from pathlib import Path

from shop.calc.codes import Kind, make_code
from shop.documents.papers.tag import scan
from shop.documents.pdf import draw
from tests.scan.labels import Label, labels_on

# One with a Q, whose tail reaches below the line, and others of as different shapes as can be.
CODES = [
    make_code(Kind.UNIT, "R7Q2K9"), make_code(Kind.PIECE, "4HB8Z0"), make_code(Kind.UNIT, "WMC63T"),
]  # fmt: skip
WORDS = {"name": "Stage piano, 73 keys", "second": "No. 104", "set_for": "SET FOR 230 V"}


def printed_labels(folder: Path) -> list[Label]:
    """A tag for each of CODES."""
    labels = [{**scan(code), **WORDS, "stop": code[0] == "P"} for code in CODES]
    pdf = draw("documents/tag.html", {"language": "en", "title": "Tags", "labels": labels})
    return labels_on(pdf, CODES, folder)
