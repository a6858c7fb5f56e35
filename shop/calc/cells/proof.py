"""What two readings must show once a cell is in: the memory's supply pin and the reverse current.

Pin: from 0.2 V above what the memory needs to the highest open-circuit volts of the cell.
Reverse current: into a primary cell none, by a meter at most 10 uA; out of it at most 1 mA, with
the unit on it should be less than the memory's drain. Units: volt, ampere.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.cells.inputs import CellName
from shop.calc.cells.replacement import MOST_MEASURED_UA
from shop.calc.cells.retention import PIN_MARGIN
from shop.calc.cells.table import OPEN_VOLT, cell_named
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

# Low-power memories keep their content down to here where the sheet says nothing.
MEMORY_VOLT: Final = 2.0
MOST_OUT_AMPERE: Final = 1e-3

EXAMPLE = {"cell": "CR2032"}


class ProofIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The cell that was fitted, and the memory it keeps."""

    cell: CellName
    memory_volt: Annotated[
        Annotated[float, Meta(ge=0.5, le=6)] | None,
        Meta(title="Memory holds from", description="V, from its sheet; left out: 2.0"),
    ] = None


class Proof(msgspec.Struct, frozen=True):
    """Limits of the two readings. A current into the cell counts as positive."""

    memory_volt: float
    pin_low_volt: float
    pin_high_volt: float
    most_into_cell_ampere: float
    most_out_of_cell_ampere: float


@calculator(
    "cells.proof",
    "Proving a cell swap",
    question="What must the memory's supply pin and the reverse current read after a cell swap?",
    example=EXAMPLE,
)
def proof(given: ProofIn) -> Answer[Proof]:
    """Limits for the readings that prove a swap. Raises BadInput for an unknown cell.

    Units: volt, ampere. Formula: pin from V_memory + 0.2 V to the cell's open-circuit volts.
    Source: a cell maker's page for 10 uA; IEC 60086-1 (from memory); the rest proposed.
    Warns for a rechargeable cell, which is charged on purpose: the reverse current is not for it.
    """
    given = fit(given)
    cell = cell_named(given.cell)
    memory = given.memory_volt or MEMORY_VOLT
    high = OPEN_VOLT[cell.chemistry] * cell.series
    value = Proof(
        memory_volt=memory,
        pin_low_volt=memory + PIN_MARGIN,
        pin_high_volt=high,
        most_into_cell_ampere=MOST_MEASURED_UA * 1e-6,
        most_out_of_cell_ampere=MOST_OUT_AMPERE,
    )
    outcome, text = _words(value, is_rechargeable=cell.is_rechargeable)
    return Answer(outcome, text, value, _working(value))


def _words(value: Proof, *, is_rechargeable: bool) -> tuple[Outcome, str]:
    if value.pin_high_volt <= value.pin_low_volt:
        text = _("This cell never reaches what the memory needs: take another.")
        return Outcome.REFUSE, text
    text = _(
        "The pin from {low:.2f} to {high:.2f} V, at most {current:g} µA into the cell.",
        low=value.pin_low_volt,
        high=value.pin_high_volt,
        current=MOST_MEASURED_UA,
    )
    if not is_rechargeable:
        return Outcome.OK, text
    return Outcome.WARN, text + " " + _("A rechargeable cell is charged: that limit is not for it.")


def _working(value: Proof) -> Working:
    lines = [
        Line(_("pin at least"), f"{value.memory_volt:g} + {PIN_MARGIN:g}",
             f"{value.pin_low_volt:.2f} V"),
        Line(_("pin at most"), _("open-circuit volts of the cell"), f"{value.pin_high_volt:.2f} V"),
        Line(_("into a primary cell at most"), _("by a meter"), f"{MOST_MEASURED_UA:g} µA"),
    ]  # fmt: skip
    sources = [
        Source("10 µA of reverse current at most for lithium thionyl chloride cells",
               Status.SECOND_HAND, "a cell maker's page on such cells"),
        Source("the same limit for every primary cell; 0.2 V above what the memory needs; 1 mA "
               "out of the cell", Status.PROPOSED),
        Source("memories hold from 2.0 V; open-circuit volts of IEC 60086-1", Status.FROM_MEMORY),
    ]  # fmt: skip
    cautions = [
        _("A primary cell that is charged leaks, bursts or burns: above the limit it comes out."),
        _("Clip on with the unit off, power it, read, power it down."),
    ]
    disagreements = [
        _(
            "Makers' handbooks allow 1 % of a lithium coin cell's capacity over its life (from "
            "memory): 0.05 µA on average in 5 powered years. 10 µA is when it must come out, "
            "not what is good; see the answer for fitting and for the diode."
        )
    ]
    return Working(lines, sources, cautions, disagreements)
