"""What one row of the invented shop's repairs says; the rows are in `rows_open`, `rows_closed`."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final, NamedTuple

from shop.insight.demo.sheet_parts import Facts
from shop.insight.demo.worked import Answer

CUSTOMERS: Final = (
    "Adele Amsel", "Bruno Birke", "Cosima Clasen", "Detlef Distel", "Elif Efeu", "Frieda Fichte",
    "Gregor Ginster", "Henni Holunder", "Ivo Iltis", "Jette Jasmin", "Kasimir Kiesel",
    "Lotte Linde", "Momo Malve", "Nuria Nelke", "Oskar Otter", "Paula Pappel", "Quirin Quitte",
    "Rosa Raps", "Sami Salbei", "Tilda Tanne", "Ulli Ulme", "Veit Veilchen", "Wanda Weide",
    "Xenia Xylo", "Yusuf Ysop", "Zora Zeder",
)  # fmt: skip

_TO_BENCH: Final = ("looking_over", "awaiting_go_ahead", "on_the_bench")
PATHS: Final[dict[str, tuple[str, ...]]] = {
    "booked_in": (),
    "looking_over": ("looking_over",),
    "awaiting_go_ahead": ("looking_over", "awaiting_go_ahead"),
    "on_the_bench": _TO_BENCH,
    "awaiting_parts": (*_TO_BENCH, "awaiting_parts"),
    "awaiting_other": (*_TO_BENCH, "awaiting_other"),
    "on_test": (*_TO_BENCH, "on_test"),
    "ready": (*_TO_BENCH, "on_test", "ready"),
    "handed_back": (*_TO_BENCH, "on_test", "ready", "handed_back"),
    "waited_for_parts": (
        *_TO_BENCH, "awaiting_parts", "on_the_bench", "on_test", "ready", "handed_back",
    ),
    "declined": ("looking_over", "awaiting_go_ahead", "declined"),
    "left_declined": ("looking_over", "awaiting_go_ahead", "declined", "handed_back"),
    "beyond_repair": ("looking_over", "beyond_repair"),
    "unclaimed": (*_TO_BENCH, "on_test", "ready", "unclaimed"),
}  # fmt: skip


class Done(NamedTuple):
    """A job template that was worked to its end; `facts` and `answers` as `work_through` takes.

    It begins `minutes` after the repair came to `at_stage`, or after the one before it ended.
    """

    template: str
    facts: Mapping[str, Any] = MappingProxyType({})
    answers: Mapping[str, Answer] = MappingProxyType({})
    at_stage: str = "on_the_bench"
    minutes: int = 20
    meter: str = ""  # the one that was taken where it can read it


class Plan(NamedTuple):
    """One repair. `booked` and `since` are days ago: booked in, and in its last stage."""

    path: str
    booked: float
    since: float
    sheet: Facts
    complaint: str
    serial: str = ""
    tech: str = "anna"
    set_for: int = 230
    use_at: tuple[str, int, int] = ("DE", 230, 50)
    sounds: str = "none"
    reason: str = ""  # of the last change of stage
    uses: tuple[tuple[str, int, str], ...] = ()  # order code, pieces, template
    short: str = ""  # order code of a part the wall did not hold
    worksheets: tuple[str, ...] = ()  # job templates begun at the bench
    done: tuple[Done, ...] = ()  # job templates worked to their end
    due_in: int | None = 10  # days from now
    # This morning: to whom it was handed, or whom a note names; with what was said.
    handed: tuple[str, str] | None = None
    noted: tuple[str, str] | None = None


CONVERSION, CELL, LAMP = "mains-conversion", "backup-cell-swap", "series-lamp-power-up"
