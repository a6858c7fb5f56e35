"""Lithium cells that keep a memory. What the figures mean stands in `cell`."""

from __future__ import annotations

from typing import Final

from shop.calc.cells.cell import Cell, Chemistry
from shop.calc.words import gettext_noop
from shop.calc.working import Source, Status

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


def _coin(
    name: str,
    title: str,
    capacity: tuple[float, float, float],
    size: str,
    at: str,
    celsius: tuple[float, float] = (-20, 70),
) -> Cell:
    return Cell(
        name=name,
        title=title,
        chemistry=Chemistry.LITHIUM_MANGANESE,
        nominal_volt=3.0,
        capacity_mah=capacity,
        end_volt=2.0,
        self_discharge=_COIN_RATE,
        shelf_years=_COIN_LIFE,
        celsius=celsius,
        size_mm=size,
        most_reverse_ma=25.0,
        notes=(gettext_noop("Swallowed coin cells burn within two hours: keep from children."),),
        sources=(
            Source(f"capacity, size, temperature of {name}", _SEEN, at),
            _COIN_LOSS,
            _COIN_SHELF,
            _UL,
        ),
    )


LITHIUM: Final = (
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
        (-20, 60),
    ),
    Cell(
        name="BR2032",
        title=gettext_noop("BR2032 lithium coin cell"),
        chemistry=Chemistry.LITHIUM_CARBON,
        nominal_volt=3.0,
        capacity_mah=(180, 190, 190),
        end_volt=2.25,
        self_discharge=(0.005, 0.01),
        shelf_years=_COIN_LIFE,
        celsius=(-30, 85),
        size_mm="20 x 3.2",
        notes=(gettext_noop("Swallowed coin cells burn within two hours: keep from children."),),
        sources=(
            Source("180 to 190 mAh, 2.25 V, -30 to 85 °C", _SEEN, "encyc.org/wiki/CR2032"),
            Source("0.5 % a year", _SEEN, "a controller maker's blog on coin cells"),
            Source("upper end of its loss", Status.PROPOSED),
            _COIN_SHELF,
        ),
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
        celsius=(-20, 70),
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
        celsius=(-55, 85),
        size_mm="14.5 x 25.0",
        notes=(
            gettext_noop("3.6 V, 3.67 V open: can upset a low-battery comparator set for 3 V."),
            gettext_noop("Its voltage dips when first loaded after a long rest."),
        ),
        sources=(
            Source("3.6 V, 1200 mAh", _SEEN, "lr44batteryequivalents.com, 14250 page"),
            Source("at most 1 % a year", _SEEN, "makers' sheets, manualsbrain.com 132979 p. 5"),
            Source("reverse current below 10 µA", _SEEN, "a cell maker's page on protection"),
            Source("lower ends of the spans", Status.PROPOSED),
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
        celsius=(-40, 60),
        size_mm="holder for two 14.5 x 50.5",
        notes=(gettext_noop("Up to 3.7 V fresh: check what the memory's pin stands."),),
        sources=(Source("3000 mAh, below 1 % a year, 15 to 20 years", Status.FROM_MEMORY),),
    ),
)
