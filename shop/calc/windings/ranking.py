"""How well an arrangement fits a supply, and which fits better."""

from __future__ import annotations

from collections.abc import Sequence
from math import log

import msgspec

from shop.calc.windings.verdicts import (
    FLUX_OK,
    LOW_LINE,
    flux_ratio,
    judge_flux,
    judge_volts,
    worst,
)
from shop.calc.working import Outcome


class Fit(msgspec.Struct, frozen=True):
    """A supply on an arrangement. `secondary_error_percent` is the same for every secondary.

    `lowest_volt` and `highest_volt` bound what it may be fed with at the supply's frequency without
    a warning; `highest_volt` falls with the frequency.
    """

    secondary_error_percent: float
    flux_ratio: float
    flux_verdict: Outcome
    voltage_verdict: Outcome
    lowest_volt: float
    highest_volt: float

    def verdict(self) -> Outcome:
        """The worse of flux and voltage."""
        return worst([self.flux_verdict, self.voltage_verdict])


def fit_for(rated_volt: float, plate_hz: Sequence[float], volt: float, hz: float) -> Fit:
    """Judge a supply of `volt` and `hz` on an arrangement rated for `rated_volt`.

    Formulas: error = V / V_rated - 1; flux r = (V / V_rated) (f_plate / f). Limits are proposed.
    """
    factor = volt / rated_volt
    ratio, lowest_hz = flux_ratio(rated_volt, plate_hz, volt, hz)
    return Fit(
        secondary_error_percent=(factor - 1) * 100,
        flux_ratio=ratio,
        flux_verdict=judge_flux(ratio),
        voltage_verdict=Outcome.REFUSE if factor < LOW_LINE - 1e-9 else judge_volts(factor),
        lowest_volt=LOW_LINE * rated_volt,
        highest_volt=FLUX_OK * rated_volt * min(1.0, hz / lowest_hz),
    )


def preference(fit: Fit, uses_all: bool) -> tuple[int, bool, float, float]:
    """Sorts the better first: verdict, then all copper in use, then secondary error, then flux."""
    grade = [Outcome.OK, Outcome.WARN, Outcome.REFUSE].index(fit.verdict())
    error = abs(log(1 + fit.secondary_error_percent / 100))
    return (grade, not uses_all, round(error, 9), fit.flux_ratio)
