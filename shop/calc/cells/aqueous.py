"""Alkaline, carbon-zinc, silver and nickel cells. What the figures mean stands in `cell`."""

from __future__ import annotations

from typing import Final

from shop.calc.cells.cell import Cell, Chemistry, monthly
from shop.calc.words import gettext_noop
from shop.calc.working import Source, Status

_SEEN = Status.SECOND_HAND

AQUEOUS: Final = (
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
        celsius=(-20, 54),
        size_mm="holder for two 14.5 x 50.5",
        notes=(gettext_noop("Alkaline cells leak: the holder sits off the board."),),
        sources=(
            Source("1800 to 3200 mAh at low drain", _SEEN, "aussiebattery.com; makers' sheets"),
            Source("shelf life 5 years", _SEEN, "diracdelta.co.uk, self discharge"),
            Source("shelf life 7 years, printed by one maker", _SEEN, "manualshelf.com, LR6 p. 3"),
            Source("2 to 3 % a year", Status.FROM_MEMORY),
            Source("0.5 % a month", _SEEN, "J. Renew. Energy 2024, 2329261, table 3"),
            Source("-20 to 54 °C", Status.FROM_MEMORY),
            Source("usable share against end voltage", Status.FROM_MEMORY),
        ),
    ),
    Cell(
        name="2xLR03",
        title=gettext_noop("two alkaline AAA cells in series"),
        chemistry=Chemistry.ALKALINE,
        series=2,
        nominal_volt=3.0,
        capacity_mah=(850, 1100, 1200),
        end_volt=0.9,
        self_discharge=(0.02, 0.06),
        shelf_years=(5.0, 7.0),
        celsius=(-20, 54),
        size_mm="holder for two 10.5 x 44.5",
        notes=(gettext_noop("Alkaline cells leak: the holder sits off the board."),),
        sources=(
            Source("850 to 1200 mAh, size", Status.FROM_MEMORY, "IEC 60086-2"),
            Source("loss and shelf life as LR6", Status.PROPOSED),
            Source("usable share against end voltage", Status.FROM_MEMORY),
        ),
    ),
    Cell(
        name="2xR6",
        title=gettext_noop("two carbon-zinc AA cells in series"),
        chemistry=Chemistry.ZINC_CARBON,
        series=2,
        nominal_volt=3.0,
        capacity_mah=(600, 1000, 1600),
        end_volt=0.9,
        self_discharge=(0.05, 0.10),
        shelf_years=(2.0, 3.0),
        celsius=(-10, 40),
        size_mm="holder for two 14.5 x 50.5",
        notes=(
            gettext_noop("Carbon-zinc cells leak sooner than any other: not on or near a board."),
        ),
        sources=(
            Source("600 to 1600 mAh", _SEEN, "aussiebattery.com/are-lr6-batteries-the-same-as-aa"),
            Source("at most 10 % a year, 2 to 3 years", _SEEN, "a cell maker's page"),
            Source("1000 mAh as typical, 5 % as least loss, usable share", Status.PROPOSED),
        ),
    ),
    Cell(
        name="2xLR44",
        title=gettext_noop("two alkaline LR44 button cells in series"),
        chemistry=Chemistry.ALKALINE,
        series=2,
        nominal_volt=3.0,
        capacity_mah=(110, 120, 160),
        end_volt=0.9,
        self_discharge=(0.02, 0.06),
        shelf_years=(2.0, 5.0),
        celsius=(0, 50),
        size_mm="two 11.6 x 5.4",
        notes=(gettext_noop("Alkaline button cells leak within a few years."),),
        sources=(
            Source("110 to 160 mAh, 2 to 5 years", _SEEN, "free.resolviendo.co/l44-battery"),
            Source(
                "end at 0.9 to 1.0 V in tables, 1.2 V in the standard's test",
                Status.FROM_MEMORY,
                "IEC 60086-2",
            ),
            Source("loss as LR6", Status.PROPOSED),
            Source("usable share against end voltage", Status.FROM_MEMORY),
        ),
    ),
    Cell(
        name="2xSR44",
        title=gettext_noop("two silver oxide SR44 button cells in series"),
        chemistry=Chemistry.SILVER,
        series=2,
        nominal_volt=3.1,
        capacity_mah=(150, 165, 200),
        end_volt=1.2,
        self_discharge=(0.03, 0.05),
        shelf_years=(3.0, 5.0),
        celsius=(-10, 60),
        size_mm="two 11.6 x 5.4",
        notes=(gettext_noop("Flat near 1.55 V, then it ends at once."),),
        sources=(
            Source(
                "150 to 200 mAh, 1.55 V", _SEEN, "wiki-gateway.eudic.net/wikipedia_en/SR44.html"
            ),
            Source("3 to 5 % a year", Status.FROM_MEMORY),
            Source("shelf life, usable share", Status.PROPOSED),
        ),
    ),
    Cell(
        name="NiCd3",
        title=gettext_noop("three-cell nickel cadmium pack"),
        chemistry=Chemistry.NICKEL_CADMIUM,
        series=3,
        nominal_volt=3.6,
        capacity_mah=(60, 60, 150),
        end_volt=1.0,
        self_discharge=(monthly(0.15), monthly(0.20)),
        shelf_years=(4.0, 10.0),
        celsius=(0, 45),
        size_mm="about 16 x 18",
        notes=(gettext_noop("Needs the board's charge path. Its leak eats copper."),),
        sources=(
            Source("60 to 150 mAh", _SEEN, "classiccmp.org cctech 2016-February/015022"),
            Source("15 to 20 % a month", _SEEN, "J. Renew. Energy 2024, 2329261, table 3"),
            Source("service life", Status.PROPOSED),
        ),
    ),
    Cell(
        name="NiMH3",
        title=gettext_noop("three-cell nickel metal hydride pack"),
        chemistry=Chemistry.NICKEL_METAL,
        series=3,
        nominal_volt=3.6,
        capacity_mah=(60, 100, 150),
        end_volt=1.0,
        self_discharge=(monthly(0.04), monthly(0.30)),
        shelf_years=(4.0, 10.0),
        celsius=(0, 45),
        size_mm="about 16 x 18",
        notes=(gettext_noop("Needs the board's charge path, and a current it stands for years."),),
        sources=(
            Source("60 to 150 mAh", _SEEN, "classiccmp.org cctech 2016-February/015022"),
            Source(
                "about 30 % a month, low self-discharge 0.25 to 4 %",
                _SEEN,
                "J. Renew. Energy 2024, 2329261, table 3; w.owiki.org/wiki/Self-discharge",
            ),
            Source("100 mAh as typical, service life", Status.PROPOSED),
        ),
    ),
)
