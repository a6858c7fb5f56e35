"""What is kept about a kind of cell.

Capacity is a low-drain figure with the range seen. Self-discharge is a rate per year of what is
left; published figures differ so much that a span is kept, never one number. `shelf` is the span
of years after which the cell is to be changed however little it gave.
"""

from __future__ import annotations

from enum import StrEnum
from math import log
from typing import Final

import msgspec

from shop.calc.cells.systems import SYSTEMS
from shop.calc.working import Source


class Chemistry(StrEnum):
    """Families that behave alike."""

    LITHIUM_MANGANESE = "lithium_manganese"
    LITHIUM_THIONYL = "lithium_thionyl"
    LITHIUM_IRON = "lithium_iron"
    LITHIUM_CARBON = "lithium_carbon"
    ALKALINE = "alkaline"
    ZINC_CARBON = "zinc_carbon"
    SILVER = "silver"
    NICKEL_CADMIUM = "nickel_cadmium"
    NICKEL_METAL = "nickel_metal"


RECHARGEABLE: Final = (Chemistry.NICKEL_CADMIUM, Chemistry.NICKEL_METAL)


class Cell(msgspec.Struct, frozen=True, kw_only=True):
    """One kind of cell or pack. mAh, V, years; `series` cells in a row."""

    name: str
    title: str
    chemistry: Chemistry
    series: int = 1
    nominal_volt: float  # of the whole pack
    capacity_mah: tuple[float, float, float]  # lowest seen, typical, highest seen
    end_volt: float  # of one cell
    self_discharge: tuple[float, float]  # rate per year, of what is left
    shelf_years: tuple[float, float]
    size_mm: str
    celsius: tuple[float, float] | None = None  # range it works in
    most_reverse_ma: float | None = None  # abnormal charging current allowed, None: not known
    notes: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def is_rechargeable(self) -> bool:
        """Whether it may be charged at all."""
        return self.chemistry in RECHARGEABLE


def monthly(share: float) -> float:
    """A loss per month as a rate per year."""
    return -12.0 * log(1.0 - share)


_LETTERS: Final = {
    Chemistry.LITHIUM_MANGANESE: "C",
    Chemistry.LITHIUM_THIONYL: "E",
    Chemistry.LITHIUM_IRON: "F",
    Chemistry.LITHIUM_CARBON: "B",
    Chemistry.ALKALINE: "L",
    Chemistry.ZINC_CARBON: "",
    Chemistry.SILVER: "S",
    Chemistry.NICKEL_CADMIUM: "K",
    Chemistry.NICKEL_METAL: "H",
}
# Nickel cells have none in the letter table; a proposal.
_NICKEL_OPEN: Final = 1.5
# Highest open-circuit volts of one fresh cell.
OPEN_VOLT: Final = {
    chemistry: SYSTEMS[letter].open_volt or _NICKEL_OPEN for chemistry, letter in _LETTERS.items()
}
