"""The sticker beside the rating plate after a conversion, from the computed values."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from shop.core.selectors import the_shop
from shop.documents.errors import DocumentError
from shop.documents.models import Document
from shop.documents.papers.common import Context, day, heading
from shop.documents.papers.report.work import pack_of
from shop.repairs.models import Repair


def context(document: Document) -> Context:
    """Raises DocumentError while no worksheet of the repair holds a worked-out fuse."""
    repair = document.repair
    assert repair is not None  # noqa: S101  # the kinds of a repair are issued with one
    supply, fuse = converted(repair)
    return {
        **heading(document),
        "unit": repair.unit,
        "number": repair.number,
        "volt": supply["volt"],
        "hz": supply["hz"],
        "fuse": fuse["mark"],
        "fuse_words": _in_words(fuse),
        "from_maker": fuse["from_maker"],
        "on": day(document.requested_at),
        "shop": the_shop(),
    }


def _in_words(fuse: dict[str, Any]) -> str:
    """The marking for whoever cannot read it: value, character, rated voltage."""
    speeds = {"T": _("time-lag"), "F": _("quick")}
    volt = fuse.get("rated_volt")
    parts = [fuse.get("current_text"), speeds.get(fuse.get("characteristic") or "")]
    return ", ".join(filter(None, [*parts, f"{volt}\u00a0V" if volt else None]))


def converted(repair: Repair) -> tuple[dict[str, Any], dict[str, Any]]:
    """The target supply and the fuse for it, from the newest worksheet that worked one out.

    Raises DocumentError if none has.
    """
    for sheet in repair.worksheets.order_by("-opened_at"):
        pack = pack_of(sheet)
        for fuse in _fuses(pack):
            return pack["supplies"]["use_at"], fuse
    raise DocumentError(
        _("No worksheet of this repair has worked out a fuse: start the mains conversion first.")
    )


def _fuses(pack: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Answers that are a fuse: known by their shape, whatever the template called them."""
    for answer in pack.get("work", {}).values():
        value = answer.get("value")
        usable = answer.get("outcome") in {"ok", "warn"} and isinstance(value, dict)
        if usable and value.get("mark") and "from_maker" in value:
            yield value
