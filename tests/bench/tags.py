"""`python -m tests.bench.tags`: how long 100 tags on one PDF take, drawn from one unit's pieces.

Prints the median of some rounds; the first, which loads the typefaces, stands apart. The floor is
the same number of empty pages of the same size.
"""

from __future__ import annotations

import os
import statistics
import tempfile
import time
from pathlib import Path

TAGS, ROUNDS = 100, 5


def main() -> None:
    with tempfile.TemporaryDirectory(prefix="lampledger-bench-") as folder:
        os.environ["DATABASE_URL"] = f"sqlite:///{Path(folder) / 'books.sqlite3'}"
        os.environ |= {"DATA_DIR": folder, "LOG_LEVEL": "CRITICAL"}
        os.environ["DJANGO_SETTINGS_MODULE"] = "shop.settings"
        for name in ("static", "queue/messages", "queue/control"):
            (Path(folder) / name).mkdir(parents=True)
        _measure()


def _measure() -> None:
    import django

    django.setup()
    from django.core.management import call_command
    from weasyprint import HTML

    call_command("migrate", verbosity=0)
    document = _document()
    from shop.documents.papers import draw_paper

    took = []
    for _round in range(ROUNDS + 1):
        before = time.perf_counter()
        pdf = draw_paper(document)
        took.append(time.perf_counter() - before)
    pages = "<style>@page{size:62mm 29mm}p{page-break-after:always}</style>" + "<p>.</p>" * TAGS
    before = time.perf_counter()
    HTML(string=pages).write_pdf()
    floor = time.perf_counter() - before
    each = statistics.median(took[1:])
    print(f"{TAGS} tags, {len(pdf) / 1000:.0f} kB: {each:.2f} s (first {took[0]:.2f} s), "
          f"floor {floor:.2f} s, ratio {each / floor:.1f}")  # fmt: skip


def _document():  # type: ignore[no-untyped-def]  # test code, shown to nobody
    from django.utils import timezone

    from shop.calc.codes import Kind
    from shop.core.codes import draw_code
    from shop.documents.models import Document
    from shop.units.models import Piece
    from tests.factories.core import ShopFactory
    from tests.factories.units import RepairFactory, UnitFactory

    ShopFactory()
    repair = RepairFactory(unit=UnitFactory(code=draw_code(Kind.UNIT)))
    Piece.objects.bulk_create(
        Piece(code=draw_code(Kind.PIECE), unit=repair.unit, name=f"Piece {n}")
        for n in range(TAGS - 1)
    )
    return Document.objects.create(
        kind="tag", title="Tags", repair=repair, requested_at=timezone.now()
    )


if __name__ == "__main__":
    main()
