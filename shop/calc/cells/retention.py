"""How long a cell keeps a memory: drain, self-discharge, and the shelf limit that cuts both off.

Formulas in `years`. Powered a share d of the time: I (1 - d). Stored t0 years before: C e^(-s t0),
and t0 is off the shelf limit too. A rechargeable pack holds for F3 between charges and is changed
by its shelf limit. End of one cell: (V of the memory + drop of the diode + I R) / cells in series.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.cells.inputs import CellName, Drain, Fitted
from shop.calc.cells.table import OPEN_VOLT, Cell, cell_named, disagreements_of
from shop.calc.cells.usable import usable_share
from shop.calc.cells.years import by_capacity, retention_years, with_linear_loss
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

PIN_MARGIN = 0.2
DAYS_PER_YEAR = 365.2425
# Below this a span is told in days.
SHORT_YEARS = 0.5


class RetentionIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One cell of the table on one memory; `on` gives a replace-by date."""

    cell: CellName
    drain: Annotated[Drain, Meta(title="Drain")]
    on: Fitted = None


class Retention(msgspec.Struct, frozen=True):
    """Years, lowest and highest, and what decides each; `by_capacity_years` shows the trap.

    `pin_volt` is what the memory's supply pin must show with the unit off: from 0.2 V above what
    the memory needs to the highest open-circuit volts of the cell.
    """

    cell: str
    low_years: float
    high_years: float
    low_decided_by: str
    high_decided_by: str
    by_capacity_years: float
    usable_mah: tuple[float, float]
    end_volt: float
    pin_volt: tuple[float, float]
    replace_by: date | None


def years_for(cell: Cell, drain: Drain, on: date | None) -> Retention | None:
    """The span for a cell, or None if its volts do not reach or nothing is known that high."""
    # A rechargeable pack is filled while powered: its span is the time it holds between charges.
    off_share = 1.0 if cell.is_rechargeable else 1.0 - drain.powered_share
    end_volt = _end_volt(cell, drain)
    share = usable_share(cell.chemistry, end_volt)
    if share is None or end_volt * cell.series >= cell.nominal_volt:
        return None
    usable = (cell.capacity_mah[0] * share[0], cell.capacity_mah[2] * share[1])
    low, low_by = _years(cell, usable[0], drain.high_ua * off_share, drain, worst=True)
    high, high_by = _years(cell, usable[1], drain.low_ua * off_share, drain, worst=False)
    return Retention(
        cell=cell.name,
        low_years=low,
        high_years=high,
        low_decided_by=low_by,
        high_decided_by=high_by,
        by_capacity_years=by_capacity(cell.capacity_mah[1], drain.low_ua),
        usable_mah=usable,
        end_volt=end_volt,
        pin_volt=(drain.memory_volt + PIN_MARGIN, OPEN_VOLT[cell.chemistry] * cell.series),
        replace_by=on and replace_by(on, cell.shelf_years[0] if cell.is_rechargeable else low),
    )


def _end_volt(cell: Cell, drain: Drain) -> float:
    needed = drain.memory_volt + drain.diode_volt + drain.high_ua * 1e-6 * drain.resistor_ohm
    return max(cell.end_volt, needed / cell.series)


def _years(
    cell: Cell, capacity: float, drain_ua: float, drain: Drain, *, worst: bool
) -> tuple[float, str]:
    rate = cell.self_discharge[1 if worst else 0]
    shelf = cell.shelf_years[0 if worst else 1]
    years = retention_years(capacity, drain_ua, rate, shelf, drain.stored_years)
    return years, "shelf" if years == max(shelf - drain.stored_years, 0.0) else "drain"


def replace_by(on: date, years: float) -> date:
    """The day by which to change a cell fitted `on`, rounded down to the day."""
    return on + timedelta(days=int(years * DAYS_PER_YEAR))


def check_given(drain: Drain, on: date | None) -> None:
    """Raises BadInput if the drain is the wrong way round or the day is no day of this trade."""
    if on is not None and not 1950 <= on.year <= 2200:
        raise BadInput("on", _("The day of fitting must lie from 1950 to 2200."), "out_of_range")
    if drain.low_ua > drain.high_ua:
        reason = _("The lowest drain is above the highest.")
        raise BadInput("drain.low_ua", reason, "limits_crossed")


# hackaday.io/project/11864/log/72554: 225 mAh at 1.15 uA, there 20.2 years with 1 % a year.
EXAMPLE = {"cell": "CR2032", "drain": {"low_ua": 1.15, "high_ua": 5}, "on": "2026-11-25"}


@calculator(
    "cells.retention",
    "How long a cell keeps the memory",
    question="How many years does this cell keep the memory, and when is it to be changed?",
    example=EXAMPLE,
)
def retention(given: RetentionIn) -> Answer[Retention]:
    """Years as a span, with what decides. Raises BadInput for an unknown cell.

    Units: µA, V, years. Source: exponential self-discharge with shelf cap, see `cells.years`.
    """
    given = fit(given)
    cell = cell_named(given.cell)
    check_given(given.drain, given.on)
    found = years_for(cell, given.drain, given.on)
    end_volt = _end_volt(cell, given.drain)
    if found is None:
        text = _(
            "{cell}: stopping at {volt:.2f} V per cell, the memory and its diode need more than "
            "can be counted on.",
            cell=_(cell.title),
            volt=end_volt,
        )
        return Answer(Outcome.NO_ANSWER, text, None, working_for(cell, []))
    text = in_years(found)
    if found.low_years == 0:
        text += "; " + _("this cell is past its shelf limit already: take a fresh one")
        return Answer(Outcome.WARN, text, found, working_for(cell, _lines(cell, found)))
    if found.low_decided_by == "shelf":
        text += "; " + _("the shelf limit decides, a larger cell of this kind buys nothing")
    elif found.high_decided_by == "shelf":
        text += "; " + _("at the lowest drain the shelf limit decides")
    return Answer(Outcome.OK, text, found, working_for(cell, _lines(cell, found)))


def _lines(cell: Cell, found: Retention) -> list[Line]:
    low, high = found.usable_mah
    s_low, s_high = cell.self_discharge
    linear = with_linear_loss(found.by_capacity_years, s_low)
    return [
        Line(_("end of one cell"), "(Vmem + Vdiode + I R) / n", f"{found.end_volt:.2f} V"),
        Line(
            _("usable capacity"), _("range seen x share to the end"), f"{low:.0f} – {high:.0f} mAh"
        ),
        Line(_("by capacity alone"), "1000 C / (8760 I)", years_words(found.by_capacity_years)),
        Line(_("with a loss of the initial capacity"), "F1 / (1 + s F1)", years_words(linear)),
        Line(_("self-discharge, per year"), "t = ln(1 + s F1) / s", f"{s_low:.3f} – {s_high:.3f}"),
        Line(_("shelf limit, years"), "min", "{:g} – {:g}".format(*cell.shelf_years)),
        Line(_("answer"), "min(F3, shelf)", in_years(found)),
        *_pin_and_heat(cell, found),
    ]


def _pin_and_heat(cell: Cell, found: Retention) -> list[Line]:
    low, high = found.pin_volt
    lines = [Line(_("at the memory's pin, unit off"), "Vmem + 0.2; n x Vopen",
                  f"{low:.2f} – {high:.2f} V")]  # fmt: skip
    if cell.celsius:
        lines.append(Line(_("works from, to"), _("sheets"), "{:g} – {:g} °C".format(*cell.celsius)))
    if found.replace_by:
        by = found.replace_by.isoformat()
        lines.append(Line(_("change it by"), _("day of fitting + lowest years"), by))
    return lines


def working_for(cell: Cell, lines: list[Line]) -> Working:
    """Working with the sources, cautions and disagreements of a cell."""
    sources = [
        *cell.sources,
        Source("dC/dt = -I - s C", Status.COMPUTED),
        Source("highest open-circuit volts", Status.FROM_MEMORY, "IEC 60086-1"),
        Source("0.2 V above what the memory needs at its pin", Status.PROPOSED),
        Source("the earlier of capacity and ageing counts", Status.SECOND_HAND,
               "a semiconductor vendor's page on non-volatile memories"),
    ]  # fmt: skip
    notes = [_(note) for note in cell.notes]
    return Working(lines, sources, notes, disagreements_of(cell))


def in_years(found: Retention) -> str:
    """The span in words: in days where years would hide it, one figure where both are the same."""
    if 0 < found.high_years < SHORT_YEARS:
        low, high = (int(years * DAYS_PER_YEAR) for years in (found.low_years, found.high_years))
        return _in_days(low, high)
    first, last = f"{found.low_years:.1f}", f"{found.high_years:.1f}"
    if first == last:
        return _("{years} years", years=first)
    return _("{low} to {high} years", low=first, high=last)


def _in_days(low: int, high: int) -> str:
    if high < 2:
        return _("less than 2 days")
    if low == high:
        return _("{days} days", days=low)
    return _("{low} to {high} days", low=low, high=high)


def years_words(years: float) -> str:
    """Years in words."""
    return _("{years:.1f} years", years=years)
