"""What memories draw and need by their sheets: typical and maximum lie decades apart."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.cells.drain import DOUBLING, at_celsius
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working


class MemoryKind(StrEnum):
    """Kinds of static memory that sheets were seen for."""

    CMOS_1K_BY_4 = "cmos_1k_by_4"
    CMOS_8K_BY_8 = "cmos_8k_by_8"
    CMOS_8K_BY_8_LOW_POWER = "cmos_8k_by_8_low_power"
    CMOS_512K_BY_8 = "cmos_512k_by_8"
    FAST = "fast"


class MemorySheet(msgspec.Struct, frozen=True):
    """uA of one chip, typical and maximum; the source of both."""

    low_ua: float
    high_ua: float
    source: Source


LABELS = {
    "cmos_1k_by_4": gettext_noop("1K x 4 CMOS, 1970s to 1980s"),
    "cmos_8k_by_8": gettext_noop("8K x 8 CMOS, standard"),
    "cmos_8k_by_8_low_power": gettext_noop("8K x 8 CMOS, very low power"),
    "cmos_512k_by_8": gettext_noop("512K x 8 CMOS"),
    "fast": gettext_noop("fast static memory"),
}
_SEEN = Status.SECOND_HAND
SHEETS: Final = {
    MemoryKind.CMOS_1K_BY_4: MemorySheet(0.01, 10, Source(
        "1K x 4: 0.01 µA typical, 10 µA maximum", _SEEN,
        "synth-diy.org/pipermail/synth-diy/2015-May/107987.html")),
    MemoryKind.CMOS_8K_BY_8: MemorySheet(1, 10, Source(
        "8K x 8: 1.0 µA typical, below 10 µA", _SEEN,
        "dtsheet.com/doc/654768; pdf.datasheet.live, an 8K x 8 sheet")),
    MemoryKind.CMOS_8K_BY_8_LOW_POWER: MemorySheet(0.05, 1, Source(
        "8K x 8, very low power: 50 nA typical, below 1 µA", _SEEN,
        "pdf.datasheet.live, an 8K x 8 sheet")),
    MemoryKind.CMOS_512K_BY_8: MemorySheet(4, 50, Source(
        "512K x 8: 4 µA typical, 50 µA maximum", _SEEN, "pdf.support, a 512K x 8 sheet")),
    MemoryKind.FAST: MemorySheet(250, 250, Source(
        "fast memory: up to 250 µA, no typical printed", _SEEN,
        "beike2008.cn/lh52258a_datasheet_15481370_3.html")),
}  # fmt: skip
RETENTION_VOLT: Final = 2.0


class MemoryIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Kind and number of chips on the cell, and how warm they are with the unit off."""

    kind: Annotated[
        MemoryKind,
        Meta(
            title="Kind of memory",
            description="by its organisation",
            extra_json_schema={"x-labels": LABELS},
        ),
    ]
    chips: Annotated[int, Meta(ge=1, le=64, title="Chips", description="how many on the cell")] = 1
    hottest_celsius: Annotated[
        float, Meta(ge=-20, le=85, title="Hottest", description="while the unit is off")
    ] = 25.0


class MemoryNeeds(msgspec.Struct, frozen=True):
    """uA of all chips, typical and maximum, and the volts they keep their content down to."""

    low_ua: float
    high_ua: float
    memory_volt: float


@calculator(
    "cells.memory",
    "What a memory draws and needs",
    question="What do memories of this kind draw from the cell, and down to which volts?",
    example={"kind": "cmos_8k_by_8", "chips": 2},
)
def memory(given: MemoryIn) -> Answer[MemoryNeeds]:
    """Typical and maximum drain by data sheets, doubled every 10 K above 25 °C.

    Units: µA, V, °C.
    Source: data sheets of CMOS memories; leakage doubles every 10 K (from memory).
    """
    given = fit(given)
    sheet = SHEETS[given.kind]
    factor = max(at_celsius(given.hottest_celsius), 1.0)
    value = MemoryNeeds(
        given.chips * sheet.low_ua, given.chips * sheet.high_ua * factor, RETENTION_VOLT
    )
    text = _(
        "{low:g} to {high:.3g} µA, down to {volt:g} V. Measure: it tells which.",
        low=value.low_ua,
        high=value.high_ua,
        volt=value.memory_volt,
    )
    return Answer(Outcome.OK, text, value, _working(given, sheet, value))


def _working(given: MemoryIn, sheet: MemorySheet, value: MemoryNeeds) -> Working:
    one = f"{sheet.low_ua:g} – {sheet.high_ua:g} µA"
    every = f"{value.low_ua:g} – {value.high_ua:.3g} µA"
    lines = [
        Line(_("one chip"), _("typical, maximum"), one),
        Line(_("all, at the hottest"), _("chips x maximum x 2^(dT / 10)"), every),
        Line(_("keeps down to"), _("chip deselected"), f"{value.memory_volt:g} V"),
    ]
    sources = [
        sheet.source,
        Source("5 V CMOS memories keep their content down to 2.0 V", Status.SECOND_HAND,
               "a memory vendor's FAQ; 8K x 8 sheets"),
        DOUBLING,
    ]  # fmt: skip
    disagreements = [
        _("Newer low-power parts keep down to 1.5 V (a 32K x 8 sheet)."),
        _("Cells with resistor loads draw more than six-transistor cells (a vendor's page)."),
    ]
    cautions = [_("Typical and maximum can lie three decades apart: work with both.")]
    return Working(lines, sources, cautions, disagreements)
