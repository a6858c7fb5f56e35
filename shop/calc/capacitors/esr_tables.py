"""Two published guide tables of ESR, each kept as it was printed; they are never merged.

They differ by up to seven times for the same part, in both directions. Between rows of one column
a value is read off on log scales; across columns nothing is.
"""

from __future__ import annotations

from math import exp, log
from typing import Final

import msgspec

from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Source, Status

Column = tuple[float | None, ...]


class GuideTable(msgspec.Struct, frozen=True):
    """One table: `microfarads` down, a column of ohms for each rated voltage."""

    name: str
    source: Source
    microfarads: tuple[float, ...]
    columns: dict[int, Column]


class GuideValue(msgspec.Struct, frozen=True):
    """What one column says: ohm or None, printed or between rows, and whether it runs uneven."""

    ohm: float | None
    is_printed: bool
    is_uneven: bool


SIZES: Final = (4.7, 10.0, 22.0, 47.0, 100.0, 220.0, 470.0, 1000.0, 4700.0, 10_000.0)

CHART: Final = GuideTable(
    _noop("ESR chart"),
    Source("ESR chart, \"guide only\", be wary above double", Status.SECOND_HAND,
           "glodark.com/design/esrchart.htm"),
    SIZES,
    {
        10: (None, None, 5.4, 2.2, 1.2, 0.6, 0.24, 0.12, 0.23, 0.12),
        16: (None, 8.0, 3.6, 1.6, 0.7, 0.33, 0.18, 0.09, 0.20, 0.08),
        25: (15, 5.3, 2.1, 1.2, 0.32, 0.23, 0.12, 0.08, 0.12, 0.06),
        35: (7.5, 3.2, 1.5, 0.68, 0.32, 0.17, 0.09, 0.07, 0.08, 0.04),
        63: (4.2, 2.4, 1.5, 0.56, 0.3, 0.16, 0.09, 0.05, 0.04, None),
    },
)  # fmt: skip
# Its 4.7 uF at 10 V is printed as "more than 40", which is no value to read off.
METER_GUIDE: Final = GuideTable(
    _noop("ESR meter guide"),
    Source("typical ESR, guide of an ESR meter, page 9", Status.SECOND_HAND,
           "manuzoid.com/manuals/BKq4j"),
    SIZES,
    {
        10: (None, 20, 9.0, 4.2, 2.0, 0.90, 0.42, 0.20, 0.04, 0.02),
        16: (35, 16, 7.5, 3.5, 1.6, 0.75, 0.35, 0.16, 0.03, 0.02),
        25: (29, 14, 6.2, 2.9, 1.4, 0.62, 0.29, 0.14, 0.03, 0.01),
        35: (24, 11, 5.1, 2.4, 1.1, 0.51, 0.24, 0.11, 0.02, 0.01),
        63: (19, 9.3, 4.2, 2.0, 0.93, 0.42, 0.20, 0.09, 0.02, 0.01),
        160: (16, 7.7, 3.5, 1.6, 0.77, 0.35, 0.16, 0.08, 0.02, 0.01),
        250: (13, 6.3, 2.9, 1.4, 0.63, 0.29, 0.13, 0.06, 0.01, 0.01),
    },
)  # fmt: skip
TABLES: Final = (CHART, METER_GUIDE)


def columns_for(table: GuideTable, rated_volt: float) -> list[int]:
    """The column of this voltage, or the two around it; none outside of the table."""
    volts = sorted(table.columns)
    below = [volt for volt in volts if volt <= rated_volt * (1 + 1e-9)]
    above = [volt for volt in volts if volt >= rated_volt * (1 - 1e-9)]
    if not below or not above:
        return []
    return sorted({below[-1], above[0]})


def read_column(table: GuideTable, column: int, microfarad: float) -> GuideValue:
    """The guide value of a size in one column: printed, or between two rows on log scales."""
    ohms = table.columns[column]
    for place, size in enumerate(table.microfarads):
        if abs(size / microfarad - 1) < 1e-6:
            return GuideValue(ohms[place], is_printed=True, is_uneven=_is_uneven(ohms, place))
    place = sum(size < microfarad for size in table.microfarads)
    if not 0 < place < len(ohms):
        return GuideValue(None, is_printed=False, is_uneven=False)
    low, high = ohms[place - 1], ohms[place]
    if low is None or high is None:
        return GuideValue(None, is_printed=False, is_uneven=False)
    start, end = table.microfarads[place - 1], table.microfarads[place]
    share = log(microfarad / start) / log(end / start)
    ohm = exp(log(low) + share * log(high / low))
    return GuideValue(ohm, is_printed=False, is_uneven=high > low)


def _is_uneven(ohms: Column, place: int) -> bool:
    """Whether this row stands with a higher ESR than the next smaller size."""
    if place == 0:
        return False
    before, here = ohms[place - 1], ohms[place]
    return before is not None and here is not None and here > before
