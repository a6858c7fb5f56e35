"""Cells that keep a memory: what each holds, loses and stands, and how well that is known.

Capacity is a low-drain figure with the range seen. Self-discharge is a rate per year of what is
left; published figures differ so much that a span is kept, never one number. `shelf` is the span
of years after which the cell is to be changed however little it gave.
"""

from __future__ import annotations

from enum import StrEnum
from math import log
from typing import Final

import msgspec

from shop.calc.words import _, gettext_noop
from shop.calc.working import BadInput, Source, Status


class Chemistry(StrEnum):
    """Families that behave alike."""

    LITHIUM_MANGANESE = "lithium_manganese"
    LITHIUM_THIONYL = "lithium_thionyl"
    LITHIUM_IRON = "lithium_iron"
    ALKALINE = "alkaline"
    NICKEL_CADMIUM = "nickel_cadmium"


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
    most_reverse_ma: float | None = None  # abnormal charging current allowed, None: not known
    notes: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def is_rechargeable(self) -> bool:
        """Whether it may be charged at all."""
        return self.chemistry is Chemistry.NICKEL_CADMIUM


def _monthly(share: float) -> float:
    """A loss per month as a rate per year."""
    return -12.0 * log(1.0 - share)


# Highest open-circuit volts of one fresh cell, IEC 60086-1 (from memory); nickel cadmium: proposed.
OPEN_VOLT: Final = {
    Chemistry.LITHIUM_MANGANESE: 3.7,
    Chemistry.LITHIUM_THIONYL: 3.9,
    Chemistry.LITHIUM_IRON: 1.83,
    Chemistry.ALKALINE: 1.68,
    Chemistry.NICKEL_CADMIUM: 1.5,
}

_SEEN = Status.SECOND_HAND
_UL = Source(
    "abnormal charging current 25 mA for CR20xx, CR2430, CR2450N",
    _SEEN,
    "UL-recognition table reprinted in a cell maker's guide, azmanual.top/manuals/258307 p. 53",
)
_COIN_LOSS = Source(
    "coin cell loses 1 % a year; limits of up to 5 % in 12 months are printed too",
    _SEEN,
    "cell makers' sheets (m.maimaib2b.com/Product/1257943.html) and a controller blog",
)
_COIN_SHELF = Source(
    "10 years is the most to expect from a coin cell",
    _SEEN,
    "embedded.com/electronics-blogs/break-points/4429960 (42 cells discharged)",
)
_COIN_LIFE: Final = (10.0, 10.0)
_COIN_RATE: Final = (0.01, 0.05)


def _coin(name: str, title: str, capacity: tuple[float, float, float], size: str, at: str) -> Cell:
    return Cell(
        name=name,
        title=title,
        chemistry=Chemistry.LITHIUM_MANGANESE,
        nominal_volt=3.0,
        capacity_mah=capacity,
        end_volt=2.0,
        self_discharge=_COIN_RATE,
        shelf_years=_COIN_LIFE,
        size_mm=size,
        most_reverse_ma=25.0,
        notes=(gettext_noop("Swallowed coin cells burn within two hours: keep from children."),),
        sources=(Source(f"capacity and size of {name}", _SEEN, at), _COIN_LOSS, _COIN_SHELF, _UL),
    )


CELLS: Final = (
    _coin(
        "CR2025",
        gettext_noop("CR2025 lithium coin cell"),
        (160, 165, 165),
        "20 x 2.5",
        "what-when-how.com Topic-1055jk35 p. 971",
    ),
    _coin(
        "CR2032",
        gettext_noop("CR2032 lithium coin cell"),
        (220, 225, 235),
        "20 x 3.2",
        "en.wikipedia.org/wiki/CR2032_battery",
    ),
    _coin(
        "CR2430",
        gettext_noop("CR2430 lithium coin cell"),
        (270, 280, 320),
        "24.5 x 3.0",
        "a battery page on CR2430",
    ),
    _coin(
        "CR2450",
        gettext_noop("CR2450 lithium coin cell"),
        (550, 600, 700),
        "24.5 x 5.0",
        "four pages, all differ; components101.com",
    ),
    Cell(
        name="CR14250",
        title=gettext_noop("CR 1/2 AA lithium cell"),
        chemistry=Chemistry.LITHIUM_MANGANESE,
        nominal_volt=3.0,
        capacity_mah=(800, 900, 1000),
        end_volt=2.0,
        self_discharge=_COIN_RATE,
        shelf_years=(10.0, 10.0),
        size_mm="14.5 x 25.4",
        notes=(gettext_noop("Tabs are welded by its maker; never solder to the cell itself."),),
        sources=(
            Source("capacity and 10 years of shelf life", _SEEN, "batteryequivalents.com"),
            Source("self-discharge as the coin cells of the same kind", Status.PROPOSED),
            Source("end at 2.0 V", Status.FROM_MEMORY),
        ),
    ),
    Cell(
        name="ER14250",
        title=gettext_noop("ER 1/2 AA lithium thionyl chloride cell"),
        chemistry=Chemistry.LITHIUM_THIONYL,
        nominal_volt=3.6,
        capacity_mah=(1100, 1200, 1200),
        end_volt=2.0,
        self_discharge=(0.005, 0.01),
        shelf_years=(10.0, 10.0),
        size_mm="14.5 x 25.0",
        notes=(
            gettext_noop("3.6 V, 3.67 V open: can upset a low-battery comparator set for 3 V."),
            gettext_noop("Its voltage dips when first loaded after a long rest."),
        ),
        sources=(
            Source("3.6 V, 1200 mAh", _SEEN, "lr44batteryequivalents.com, 14250 page"),
            Source("at most 1 % a year", _SEEN, "makers' sheets, manualsbrain.com 132979 p. 5"),
            Source("reverse current below 10 uA", _SEEN, "a cell maker's page on protection"),
            Source("lower ends of the spans", Status.PROPOSED),
        ),
    ),
    Cell(
        name="2xLR6",
        title=gettext_noop("two alkaline AA cells in series"),
        chemistry=Chemistry.ALKALINE,
        series=2,
        nominal_volt=3.0,
        capacity_mah=(1800, 2500, 3200),
        end_volt=0.9,
        self_discharge=(0.02, 0.06),
        shelf_years=(5.0, 7.0),
        size_mm="holder for two 14.5 x 50.5",
        notes=(gettext_noop("Alkaline cells leak: the holder sits off the board."),),
        sources=(
            Source("1800 to 3200 mAh at low drain", _SEEN, "aussiebattery.com; makers' sheets"),
            Source("shelf life 5 years", _SEEN, "diracdelta.co.uk, self discharge"),
            Source("shelf life 7 years, printed by one maker", _SEEN, "manualshelf.com, LR6 p. 3"),
            Source("2 to 3 % a year", Status.FROM_MEMORY),
            Source("0.5 % a month", _SEEN, "J. Renew. Energy 2024, 2329261, table 3"),
            Source("usable share against end voltage", Status.FROM_MEMORY),
        ),
    ),
    Cell(
        name="2xFR6",
        title=gettext_noop("two lithium iron disulphide AA cells in series"),
        chemistry=Chemistry.LITHIUM_IRON,
        series=2,
        nominal_volt=3.0,
        capacity_mah=(2900, 3000, 3000),
        end_volt=0.9,
        self_discharge=(0.005, 0.01),
        shelf_years=(15.0, 20.0),
        size_mm="holder for two 14.5 x 50.5",
        notes=(gettext_noop("Up to 3.7 V fresh: check what the memory's pin stands."),),
        sources=(Source("3000 mAh, below 1 % a year, 15 to 20 years", Status.FROM_MEMORY),),
    ),
    Cell(
        name="NiCd3",
        title=gettext_noop("three-cell nickel cadmium pack"),
        chemistry=Chemistry.NICKEL_CADMIUM,
        series=3,
        nominal_volt=3.6,
        capacity_mah=(60, 60, 150),
        end_volt=1.0,
        self_discharge=(_monthly(0.15), _monthly(0.20)),
        shelf_years=(4.0, 10.0),
        size_mm="about 16 x 18",
        notes=(gettext_noop("Needs the board's charge path. Its leak eats copper."),),
        sources=(
            Source("60 to 150 mAh", _SEEN, "classiccmp.org cctech 2016-February/015022"),
            Source("15 to 20 % a month", _SEEN, "J. Renew. Energy 2024, 2329261, table 3"),
            Source("service life", Status.PROPOSED),
        ),
    ),
)
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
}


def cell_named(name: str, field: str = "cell") -> Cell:
    """A cell of the table. Raises BadInput (unknown_cell)."""
    if name not in BY_NAME:
        known = ", ".join(BY_NAME)
        reason = _("“{name}” is not in the cell table. Known: {known}.", name=name, known=known)
        raise BadInput(field, reason, "unknown_cell")
    return BY_NAME[name]
