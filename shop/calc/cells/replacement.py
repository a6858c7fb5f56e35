"""May this cell go into that board: a primary cell must never be charged.

Where a primary cell is not the only source: two diodes in series, or a diode and a resistor that
holds the current below the cell's limit should the diode short (UL recommendations reprinted by
cell makers). R >= (highest rail - lowest cell V) / I_max, diode taken as shorted.
"""

from __future__ import annotations

from enum import StrEnum
from math import ceil
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.cells.diodes import DIODE_LABELS, Diode
from shop.calc.cells.inputs import CellName, EmptyCellVolt, MostReverse
from shop.calc.cells.retention import working_for
from shop.calc.cells.table import Cell, cell_named, is_lithium
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

MOST_MEASURED_UA = 10.0
WARN_MEASURED_UA = 0.1


class ChargePath(StrEnum):
    """What was done about the path by which the board charged its cell."""

    NONE_THERE = "none_there"
    UNTOUCHED = "untouched"
    OPENED = "opened"
    TWO_DIODES = "two_diodes"
    DIODE_AND_RESISTOR = "diode_and_resistor"


PATH_LABELS = {
    "none_there": gettext_noop("the board has none"),
    "untouched": gettext_noop("as it was"),
    "opened": gettext_noop("opened"),
    "two_diodes": gettext_noop("blocked by two diodes in series"),
    "diode_and_resistor": gettext_noop("blocked by a diode and a resistor"),
}


class ReplacementIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The cell to fit, what was fitted, and what was done about charging."""

    cell: CellName
    is_old_rechargeable: Annotated[
        bool,
        Meta(title="Old cell rechargeable", description="what was fitted before: then it charges"),
    ]
    charge_path: Annotated[
        ChargePath,
        Meta(
            title="Charge path",
            description="what was done about charging",
            extra_json_schema={"x-labels": PATH_LABELS},
        ),
    ]
    diode: Annotated[
        Diode | None,
        Meta(
            title="Diode",
            description="kind of the blocking diode, if one is fitted",
            extra_json_schema={"x-labels": DIODE_LABELS},
        ),
    ] = None
    resistor_ohm: Annotated[
        Annotated[float, Meta(ge=0.1, le=1e6)] | None,
        Meta(title="Resistor", description="fitted in series with the diode"),
    ] = None
    rail_volt: Annotated[
        float,
        Meta(ge=0.5, le=50, title="Rail", description="highest volts of the rail it hangs on"),
    ] = 5.25
    empty_cell_volt: EmptyCellVolt = 2.0
    most_reverse_ma: MostReverse = None
    measured_reverse_ua: Annotated[
        Annotated[float, Meta(ge=0, le=1e6)] | None,
        Meta(title="Measured into the cell", description="with the unit on"),
    ] = None


class Replacement(msgspec.Struct, frozen=True):
    """Whether it may be fitted, and the resistor it takes."""

    is_blocked: bool
    least_resistor_ohm: float | None
    worst_reverse_ma: float | None
    reasons: list[str]


def least_resistor(rail_volt: float, cell_volt: float, most_ma: float) -> float:
    """ohm that hold the reverse current at `most_ma` with the diode shorted."""
    return max(rail_volt - cell_volt, 0.0) / (most_ma / 1000.0)


def reverse_current_ma(rail_volt: float, diode_volt: float, cell_volt: float, ohm: float) -> float:
    """mA into a cell from a rail through a conducting diode and a resistor (ohm above 0)."""
    return max(rail_volt - diode_volt - cell_volt, 0.0) / ohm * 1000.0


@calculator(
    "cells.replacement",
    "May this cell go into that board",
    question="May I fit this cell, and what must stand between it and the rail?",
    example={
        "cell": "CR2032",
        "is_old_rechargeable": True,
        "charge_path": "diode_and_resistor",
        "diode": "silicon",
        "resistor_ohm": 1000,
        "measured_reverse_ua": 0,
    },
)
def replacement(given: ReplacementIn) -> Answer[Replacement]:
    """Block a primary cell until nothing can charge it. Raises BadInput for an unknown cell.

    Units: V, ohm, mA. Source: UL recommendations as two makers reprint them.
    """
    given = fit(given)
    cell = cell_named(given.cell)
    if given.charge_path is ChargePath.NONE_THERE and given.is_old_rechargeable:
        reason = _("A rechargeable cell was fitted, so the board charges: find its charge path.")
        raise BadInput("charge_path", reason, "contradiction")
    limit = given.most_reverse_ma or cell.most_reverse_ma
    least = limit and least_resistor(given.rail_volt, given.empty_cell_volt, limit)
    blocks, warnings = _primary(given, least) if not cell.is_rechargeable else _charged(given)
    measured_blocks, measured_warnings = _measured(given, cell)
    blocks, warnings = blocks + measured_blocks, warnings + measured_warnings
    worst = None
    if given.resistor_ohm is not None:
        worst = reverse_current_ma(given.rail_volt, 0.0, given.empty_cell_volt, given.resistor_ohm)
    value = Replacement(bool(blocks), least, worst, blocks + warnings)
    outcome = Outcome.REFUSE if blocks else Outcome.WARN if warnings else Outcome.OK
    text = (blocks + warnings or [_("{cell} may be fitted.", cell=_(cell.title))])[0]
    return Answer(outcome, text, value, _working(cell, given, value))


Found = tuple[list[str], list[str]]


def _primary(given: ReplacementIn, least: float | None) -> Found:
    """What stands against a primary cell: (blocks, warnings)."""
    path = given.charge_path
    if path is ChargePath.UNTOUCHED:
        return [
            _(
                "Blocked: a primary cell would be charged. Open the charge path, or fit a "
                "low-leakage diode and a resistor."
            )
        ], []
    if path in (ChargePath.NONE_THERE, ChargePath.OPENED):
        return [], []
    if given.diode is None:
        raise BadInput("diode", _("Say which kind of diode was fitted."), "missing")
    warnings = []
    if given.diode is Diode.SCHOTTKY:
        warnings.append(
            _(
                "A Schottky diode leaks microamperes backwards and may charge the cell: take a "
                "low-leakage silicon diode, or measure warm."
            )
        )
    if path is ChargePath.TWO_DIODES:
        return [], warnings
    return _resistor(given, least), warnings


def _resistor(given: ReplacementIn, least: float | None) -> list[str]:
    if least is None:
        return [_("Blocked: the cell's largest reverse current is not known: see its own sheet.")]
    if given.resistor_ohm is None or given.resistor_ohm < least:
        return [
            _(
                "Blocked: the resistor must be at least {ohm:d} ohm, should the diode short.",
                ohm=ceil(round(least, 6)),
            )
        ]
    return []


def _charged(given: ReplacementIn) -> Found:
    """What stands against a rechargeable cell."""
    if given.charge_path is not ChargePath.UNTOUCHED:
        return [_("Blocked: nothing charges this cell now, it would be empty within months.")], []
    if given.is_old_rechargeable:
        return [], []
    return [_("Blocked: the board was made for a primary cell and does not charge.")], []


def _measured(given: ReplacementIn, cell: Cell) -> Found:
    """The proof: current into a primary cell with the unit on."""
    if cell.is_rechargeable:
        return [], []
    current = given.measured_reverse_ua
    if current is None:
        return [], [_("Measure the current into the cell with the unit on before closing up.")]
    if current > MOST_MEASURED_UA:
        return [_("Blocked: {current:g} µA flow into a primary cell.", current=current)], []
    if current > WARN_MEASURED_UA:
        return [], [
            _(
                "{current:g} µA flow into the cell; 1 % of a coin cell in 5 powered years is "
                "0.05 µA.",
                current=current,
            )
        ]
    return [], []


def _working(cell: Cell, given: ReplacementIn, value: Replacement) -> Working:
    lines = []
    if value.least_resistor_ohm is not None:
        ohm = f"{ceil(round(value.least_resistor_ohm, 6))} ohm"
        lines.append(Line(_("least resistor, diode shorted"), "(Vrail - Vcell) / Imax", ohm))
    if value.worst_reverse_ma is not None:
        current = f"{value.worst_reverse_ma:.1f} mA"
        lines.append(Line(_("with the diode shorted"), "(Vrail - Vcell) / R", current))
    base = working_for(cell, lines)
    more = [
        Source("two diodes, or diode and resistor", Status.SECOND_HAND,
               "UL recommendations reprinted by cell makers, azmanual.top/manuals/258307 p. 53"),
        Source("charge put in over life within 1 % of nominal", Status.FROM_MEMORY),
        Source("above 10 µA measured is a block", Status.PROPOSED),
        Source("leaking nickel cadmium attacks copper and solder", Status.SECOND_HAND,
               "synthdiy.eu/pipermail/synth-diy/2002-December/056371.html"),
        Source("faulty lithium cells: no air transport", Status.SECOND_HAND,
               "a cell maker's sheet; lithium.batteriestransport.org/59"),
        Source("tape over the terminals, separate collection", Status.FROM_MEMORY,
               "Regulation (EU) 2023/1542"),
    ]  # fmt: skip
    return Working(
        lines, base.sources + more, [*_cautions(cell, given), *base.cautions], base.disagreements
    )


def _cautions(cell: Cell, given: ReplacementIn) -> list[str]:
    cautions = [
        _("Check the unit's low-battery threshold against the new cell's volts."),
        _("The old cell: tape over its terminals, separate collection; a faulty one does not fly."),
    ]
    if given.is_old_rechargeable:
        cautions.append(
            _(
                "Nickel cadmium leaks caustic and eats copper: gloves, weak acid, then scrape the "
                "joints, or they will not take solder."
            )
        )
    if is_lithium(cell):
        cautions.append(_("Never heat, open or short a lithium cell; solder to its tabs only."))
    return cautions
