"""What stands between a primary cell and its rail: drop while it feeds, leakage while it rests.

Drop: V = n Vt ln(I / Is + 1) + I R. With the diode shorted R must hold the reverse current:
R >= (highest rail - empty cell) / Imax. What leaks into the cell over its life must stay within a
small share of its capacity: budget = share x C / hours powered.
"""

from __future__ import annotations

from math import ceil
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.cells.cell import Cell, Chemistry
from shop.calc.cells.diodes import DIODE_LABELS, SOURCES, Diode, drop_volt, leakage_ua_at
from shop.calc.cells.inputs import CellName, EmptyCellVolt, MostReverse
from shop.calc.cells.replacement import least_resistor
from shop.calc.cells.table import cell_named, disagreements_of, is_lithium
from shop.calc.cells.years import HOURS_PER_YEAR
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# Share of the nominal capacity that may be charged into a cell over its life (from memory).
CHARGE_SHARES: Final = {Chemistry.LITHIUM_MANGANESE: 0.01, Chemistry.LITHIUM_CARBON: 0.03}
# Thionyl chloride cells: reverse current that does not hurt them.
THIONYL_UA: Final = 10.0


class IsolationIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A primary cell, its diode, its rail, and how long the unit is powered in its life."""

    cell: CellName
    diode: Annotated[
        Diode,
        Meta(
            title="Diode",
            description="kind of the blocking diode",
            extra_json_schema={"x-labels": DIODE_LABELS},
        ),
    ]
    drain_ua: Annotated[
        float, Meta(ge=0.001, le=1e5, title="Drain", description="with the unit off")
    ]
    rail_volt: Annotated[
        float, Meta(ge=0.5, le=50, title="Rail", description="its highest volts, unit on")
    ] = 5.25
    empty_cell_volt: EmptyCellVolt = 2.0
    most_reverse_ma: MostReverse = None
    resistor_ohm: Annotated[
        Annotated[float, Meta(ge=0.1, le=1e6)] | None,
        Meta(title="Resistor", description="in series with the diode; left out: the least one"),
    ] = None
    powered_years: Annotated[
        float, Meta(ge=0.01, le=40, title="Time powered", description="in the life of the cell")
    ] = 5.0
    inside_celsius: Annotated[
        float, Meta(ge=-20, le=85, title="Temperature inside", description="unit on and warm")
    ] = 25.0


class Isolation(msgspec.Struct, frozen=True):
    """V lost while feeding; ohm; µA that may leak into the cell and µA to count on.

    None: not known for this cell.
    """

    diode_volt: float
    resistor_volt: float | None
    least_resistor_ohm: float | None
    leakage_ua: float
    budget_ua: float | None


@calculator(
    "cells.isolation",
    "Diode and resistor before a cell",
    question="Which resistor goes with the diode, what do they drop, and does the diode leak back?",
    example={"cell": "CR2032", "diode": "silicon", "drain_ua": 10, "most_reverse_ma": 10},
)
def isolation(given: IsolationIn) -> Answer[Isolation]:
    """Drop, least resistor, leakage against its budget. Units: µA, V, ohm, mA, years, °C.

    Raises BadInput for an unknown or rechargeable cell, which needs its charge path.
    Source: UL recommendations as two makers reprint them; Ohm's law.
    """
    given = fit(given)
    cell = cell_named(given.cell)
    if cell.is_rechargeable:
        reason = _("A rechargeable pack is not to be isolated: it needs the board's charge path.")
        raise BadInput("cell", reason, "rechargeable")
    value = _value(given, cell)
    doubts = _doubts(given, value)
    text = _("{drop:.2f} V lost at the drain.", drop=value.diode_volt + (value.resistor_volt or 0))
    outcome = Outcome.WARN if doubts else Outcome.OK
    return Answer(outcome, " ".join([text, *doubts]), value, _working(cell, value, given))


def charge_budget_ua(capacity_mah: float, share: float, years: float) -> float:
    """uA that may flow into a cell on average while powered."""
    return 1000.0 * share * capacity_mah / (years * HOURS_PER_YEAR)


def _value(given: IsolationIn, cell: Cell) -> Isolation:
    limit = given.most_reverse_ma or cell.most_reverse_ma
    least = limit and least_resistor(given.rail_volt, given.empty_cell_volt, limit)
    ohm = given.resistor_ohm if given.resistor_ohm is not None else least
    return Isolation(
        diode_volt=drop_volt(given.diode, given.drain_ua * 1e-6),
        resistor_volt=None if ohm is None else ohm * given.drain_ua * 1e-6,
        least_resistor_ohm=least,
        leakage_ua=leakage_ua_at(given.diode, given.inside_celsius),
        budget_ua=_budget_ua(cell, given.powered_years),
    )


def _budget_ua(cell: Cell, powered_years: float) -> float | None:
    if cell.chemistry is Chemistry.LITHIUM_THIONYL:
        return THIONYL_UA
    share = CHARGE_SHARES.get(cell.chemistry)
    return share and charge_budget_ua(cell.capacity_mah[1], share, powered_years)


def _doubts(given: IsolationIn, value: Isolation) -> list[str]:
    doubts = []
    least, ohm = value.least_resistor_ohm, given.resistor_ohm
    if least is None:
        doubts.append(_("The cell's largest reverse current is not known: see its own sheet."))
    elif ohm is not None and ohm < least:
        up = ceil(round(least, 6))
        doubts.append(_("The resistor must be at least {least:d} ohm.", least=up))
    if value.budget_ua is not None and value.leakage_ua > value.budget_ua:
        doubts.append(
            _(
                "The diode may leak {leak:.3g} µA into the cell, {budget:.2g} µA are allowed: "
                "measure it warm, or take one that leaks less.",
                leak=value.leakage_ua,
                budget=value.budget_ua,
            )
        )
    return doubts


def _working(cell: Cell, value: Isolation, given: IsolationIn) -> Working:
    lines = [Line(_("diode"), "n Vt ln(I/Is + 1)", f"{value.diode_volt * 1000:.0f} mV")]
    if value.least_resistor_ohm is not None:
        ohm = f"{ceil(round(value.least_resistor_ohm, 6))} ohm"
        lines.append(Line(_("least resistor, diode shorted"), "(Vrail - Vcell) / Imax", ohm))
    if value.resistor_volt is not None:
        lines.append(Line(_("resistor"), "I R", f"{value.resistor_volt * 1000:.2g} mV"))
    leak = _("at {celsius:g} °C", celsius=given.inside_celsius)
    lines.append(Line(_("leaks back"), leak, f"{value.leakage_ua:.3g} µA"))
    if value.budget_ua is not None:
        budget = f"{value.budget_ua:.3g} µA"
        lines.append(Line(_("may leak back"), _("share x C / hours powered"), budget))
    sources = [
        *SOURCES,
        Source("two diodes, or diode and resistor", Status.SECOND_HAND,
               "UL recommendations reprinted by cell makers, azmanual.top/manuals/258307 p. 53"),
        Source("charge put in over life: 1 % (CR), 3 % (BR) of nominal", Status.FROM_MEMORY,
               "cell makers' handbooks"),
        Source("below 10 µA does not hurt thionyl chloride cells", Status.SECOND_HAND,
               "a cell maker's page on protection"),
    ]  # fmt: skip
    cautions = [_("Measure the current into the cell with the unit on and warm, to be sure.")]
    if is_lithium(cell):
        cautions.append(_("A lithium cell that is charged leaks, bursts or burns."))
    return Working(lines, sources, cautions, disagreements_of(cell))
