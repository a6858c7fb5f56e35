"""The cell table: every cell that can be asked for by name, and where its sources part."""

from __future__ import annotations

from typing import Final

from shop.calc.cells.aqueous import AQUEOUS
from shop.calc.cells.cell import OPEN_VOLT, Cell, Chemistry
from shop.calc.cells.lithium import LITHIUM
from shop.calc.words import _, gettext_noop
from shop.calc.working import BadInput

__all__ = [
    "BY_NAME",
    "CELLS",
    "OPEN_VOLT",
    "Cell",
    "Chemistry",
    "cell_named",
    "disagreements_of",
    "is_lithium",
]

CELLS: Final = (*LITHIUM, *AQUEOUS)
BY_NAME: Final = {cell.name: cell for cell in CELLS}
DISAGREEMENTS: Final = {
    Chemistry.LITHIUM_MANGANESE: (
        gettext_noop(
            "Self-discharge: 1 % a year (blog), 1.5 % (a maker), at most 5 % (two makers' limits), "
            "6 % (J. Renew. Energy 2024, 2329261, table 3), at least 90 % left after 12 months "
            "(IEC 60086-3:2021, 5.4)."
        ),
        gettext_noop(
            "Common practice, no source: a coin cell should last at least a decade. The discharge "
            "tests cited say a decade is the most."
        ),
        gettext_noop(
            "Below about 3 µA a coin cell may give far less than rated, one project reports "
            "(thecavepearlproject.org, June 2023); no sheet seen says so."
        ),
        gettext_noop(
            "Older tables allow 5 or 10 mA of charging current for CR2032: the mark on the cell's "
            "own sheet decides."
        ),
    ),
    Chemistry.ALKALINE: (
        gettext_noop(
            "Common practice, no source: two AA cells in series have kept such a memory for about "
            "ten years. Printed shelf lives are 5 and 7 years, so the answer here is shorter."
        ),
        gettext_noop("Self-discharge: 2 to 3 % a year (from memory), 6 % (review, table 3)."),
    ),
    Chemistry.NICKEL_CADMIUM: (
        gettext_noop("Self-discharge of 15 and of 20 % a month are both printed."),
    ),
    Chemistry.NICKEL_METAL: (
        gettext_noop("Self-discharge: about 30 % a month; low-self-discharge kinds 0.25 to 4 %."),
    ),
    Chemistry.LITHIUM_CARBON: (
        gettext_noop("Nominal 2.8 V in an encyclopaedia, 3.0 V in the letter table."),
    ),
}


# Least average duration of IEC 60086-2 (from memory): ohm, hours to 2.0 V at a mean of 2.85 V.
STANDARD_TESTS: Final = {
    "CR2025": (15_000, 540),
    "CR2032": (15_000, 920),
    "CR2430": (15_000, 1300),
    "CR2450": (7500, 1200),
}
MEAN_TEST_VOLT: Final = 2.85


def standard_minimum_mah(name: str) -> float | None:
    """mAh that the standard's least duration stands for, None where no test is known."""
    if name not in STANDARD_TESTS:
        return None
    ohm, hours = STANDARD_TESTS[name]
    return MEAN_TEST_VOLT / ohm * hours * 1000


def disagreements_of(cell: Cell) -> list[str]:
    """What the sources do not agree on about a cell."""
    said = [_(text) for text in DISAGREEMENTS.get(cell.chemistry, ())]
    least = standard_minimum_mah(cell.name)
    if least is not None:
        said.append(
            _(
                "Capacity: {low:.0f} to {high:.0f} mAh are printed; the least duration of IEC "
                "60086-2 (from memory) stands for {least:.0f} mAh only.",
                low=cell.capacity_mah[0],
                high=cell.capacity_mah[2],
                least=least,
            )
        )
    return said


def is_lithium(cell: Cell) -> bool:
    """Whether it is a lithium cell, whatever it looks like: never charged, heated or opened."""
    return cell in LITHIUM


def cell_named(name: str, field: str = "cell") -> Cell:
    """A cell of the table. Raises BadInput (unknown_cell)."""
    if name not in BY_NAME:
        known = ", ".join(BY_NAME)
        reason = _("“{name}” is not in the cell table. Known: {known}.", name=name, known=known)
        raise BadInput(field, reason, "unknown_cell")
    return BY_NAME[name]
