"""Candidates for a memory, best first, each with its span and what speaks for and against it."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.cells.inputs import CellName, Drain, Fitted
from shop.calc.cells.retention import Retention, check_given, in_years, working_for, years_for
from shop.calc.cells.table import CELLS, Cell, cell_named
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Working


class CompareIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The memory, whether its board charges, and the cells to compare (all, if none named)."""

    drain: Annotated[Drain, Meta(title="Drain")]
    board_charges: Annotated[
        bool,
        Meta(
            title="Board charges",
            description="it has a charge path that is not opened or blocked",
        ),
    ]
    on: Fitted = None
    cells: Annotated[
        Annotated[list[CellName], Meta(max_length=20)] | None,
        Meta(title="Cells", description="names in the cell table; all, if left out"),
    ] = None


class Candidate(msgspec.Struct, frozen=True):
    """One cell: its span of years (None: its volts do not reach) and what to know about it."""

    cell: str
    title: str
    retention: Retention | None
    is_blocked: bool
    reasons: list[str]
    nominal_volt: float = 0.0
    size: str = ""


class Comparison(msgspec.Struct, frozen=True):
    """Candidates: those that may be fitted first, by their lowest years, then their highest."""

    candidates: list[Candidate]


@calculator(
    "cells.compare",
    "Compare cells for a memory",
    question="Which cells would do for this memory, and what speaks for and against each?",
    example={
        "drain": {"low_ua": 1, "high_ua": 20},
        "board_charges": False,
        "cells": ["CR2025", "CR2032", "CR2430", "CR2450", "CR14250", "ER14250", "2xLR6", "2xFR6"],
    },
)
def compare(given: CompareIn) -> Answer[Comparison]:
    """Compare by retention. Raises BadInput for an unknown cell or a drain the wrong way round.

    Units: µA, V, ohm, years.
    Source: exponential self-discharge as in `cells.years`; shelf lives of the table of cells.
    """
    given = fit(given)
    check_given(given.drain, given.on)
    if given.cells is not None and not given.cells:
        raise BadInput("cells", _("Name at least one cell, or leave the list out."), "empty")
    cells = CELLS if given.cells is None else [
        cell_named(name, f"cells[{index}]") for index, name in enumerate(given.cells)
    ]  # fmt: skip
    candidates = sorted((_candidate(cell, given) for cell in cells), key=_rank)
    best = candidates[0]
    working = _working(list(cells), candidates)
    value = Comparison(candidates)
    if best.is_blocked or best.retention is None:
        return Answer(Outcome.WARN, _("None of these can be fitted as things are."), value, working)
    text = _("Longest: {cell}, {years}.", cell=best.title, years=in_years(best.retention))
    if given.board_charges:
        text = _("Longest between charges: {cell}, {years}.", cell=best.title,
                 years=in_years(best.retention))  # fmt: skip
    return Answer(Outcome.OK, text, value, working)


def _candidate(cell: Cell, given: CompareIn) -> Candidate:
    found = years_for(cell, given.drain, given.on)
    # A primary cell must not be charged, and a pack that nothing charges is soon empty.
    is_blocked = given.board_charges != cell.is_rechargeable
    reasons = [_(note) for note in cell.notes]
    if is_blocked and given.board_charges:
        reasons.insert(0, _("Blocked: the board would charge a primary cell."))
    if cell.is_rechargeable and not given.board_charges:
        reasons.insert(0, _("Blocked: the board does not charge it, it is empty within months."))
    if found is None:
        reasons.insert(0, _("Its volts do not reach for this memory and diode."))
    elif found.low_decided_by == "shelf":
        reasons.append(_("The shelf limit decides, not its capacity."))
    elif found.high_decided_by == "shelf":
        reasons.append(_("At the lowest drain the shelf limit decides, not its capacity."))
    return Candidate(
        cell.name, _(cell.title), found, is_blocked, reasons, cell.nominal_volt, cell.size_mm
    )


def _rank(candidate: Candidate) -> tuple[bool, float, float, str]:
    found = candidate.retention
    low, high = (found.low_years, found.high_years) if found else (0.0, 0.0)
    return candidate.is_blocked or found is None, -low, -high, candidate.cell


def _working(cells: list[Cell], candidates: list[Candidate]) -> Working:
    lines = [
        Line(c.title, "min(F3, shelf)",
             in_years(c.retention) if c.retention else _("its volts do not reach"))
        for c in candidates
    ]  # fmt: skip
    each = [working_for(cell, []) for cell in cells]
    sources: list[Source] = list(dict.fromkeys(s for working in each for s in working.sources))
    disagreements = list(dict.fromkeys(d for working in each for d in working.disagreements))
    cautions = [
        _("Back up the memory and read the backup back first; mind the polarity."),
        _("Never heat a cell: solder to its tabs only, unit unplugged, eyes protected."),
    ]
    return Working(lines, sources, cautions, disagreements)
