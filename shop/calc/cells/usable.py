"""How much of a cell's capacity is left to use when the memory needs more volts than its end."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from shop.calc.cells.cell import Chemistry

# (end V of one cell, usable share lowest, highest). Alkaline and the first two rows of lithium
# manganese are from memory; the others are proposals that want a measured curve.
_ALKALINE: Final = (
    (0.8, 1.0, 1.0),
    (0.9, 0.95, 0.95),
    (1.0, 0.85, 0.90),
    (1.1, 0.70, 0.75),
    (1.15, 0.60, 0.70),
    (1.2, 0.50, 0.60),
)
_SHARES: Final[dict[Chemistry, tuple[tuple[float, float, float], ...]]] = {
    Chemistry.ALKALINE: _ALKALINE,
    # Its curve slopes alike; no figures of its own were seen.
    Chemistry.ZINC_CARBON: _ALKALINE,
    Chemistry.LITHIUM_MANGANESE: ((2.0, 1.0, 1.0), (2.3, 0.92, 0.97), (2.6, 0.70, 0.90)),
    Chemistry.LITHIUM_THIONYL: ((2.0, 1.0, 1.0), (3.0, 0.90, 1.0)),
    Chemistry.LITHIUM_IRON: ((0.9, 1.0, 1.0), (1.2, 0.85, 0.95)),
    Chemistry.LITHIUM_CARBON: ((2.25, 1.0, 1.0), (2.5, 0.90, 0.97)),
    Chemistry.SILVER: ((1.2, 1.0, 1.0), (1.4, 0.85, 0.95)),
    Chemistry.NICKEL_CADMIUM: ((1.0, 1.0, 1.0), (1.1, 0.80, 0.95)),
    Chemistry.NICKEL_METAL: ((1.0, 1.0, 1.0), (1.1, 0.80, 0.95)),
}


def usable_share(chemistry: Chemistry, end_volt: float) -> tuple[float, float] | None:
    """Share of the capacity down to `end_volt` of one cell, lowest and highest.

    None above the last row: nothing is known there, and it is little.
    """
    rows = _SHARES[chemistry]
    if end_volt <= rows[0][0]:
        return rows[0][1], rows[0][2]
    for (volt0, low0, high0), (volt1, low1, high1) in pairwise(rows):
        if end_volt <= volt1:
            t = (end_volt - volt0) / (volt1 - volt0)
            return low0 + (low1 - low0) * t, high0 + (high1 - high0) * t
    return None
