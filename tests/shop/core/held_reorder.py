"""Loaded into a worker by its `--include`: the reorder handler, held at two points by files.

It does the real work; the test decides where it stands still, and kills it there.
"""

from __future__ import annotations

import os
import time
from pathlib import Path

from django.db import transaction

from shop.core import outbox
from shop.stock.services import check_reorder

FOLDER = Path(os.environ["CREW_FOLDER"])


def stand(point: str, part_id: str) -> None:
    """Leave a trace, then wait as long as the test holds this point."""
    (FOLDER / f"{point}.{part_id}.{os.getpid()}.begun").touch()
    while (FOLDER / f"{point}.hold").exists():
        time.sleep(0.05)


@outbox.handles("stock.check_reorder")
def held_check_reorder(*, part_id: str) -> None:
    with transaction.atomic():
        check_reorder(part_id=part_id)
        stand("before_commit", part_id)
    stand("after_commit", part_id)
