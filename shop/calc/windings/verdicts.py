"""Flux and heater limits, in one place."""

from __future__ import annotations

from collections.abc import Sequence

from shop.calc.working import Outcome, Source, Status

FLUX_OK, FLUX_WARN = 1.06, 1.10
HEATER_OK_PERCENT, HEATER_WARN_PERCENT = 5.0, 10.0
LOW_LINE = 0.90  # below this share of the rated voltage a unit is no longer within its ratings
_ROUNDING = 1e-9

FLUX_SOURCE = Source(
    "Flux follows V / f: E = 4.44 f N B A", Status.VERIFIED, "brainkart.com/article/12789"
)
FLUX_LIMITS = Source("Flux verdicts at 1.06 and 1.10 of the plate's flux", Status.PROPOSED)
HEATER_SOURCE = Source(
    "Oxide cathodes stand swings of about 10 %; 5 % for long life",
    Status.SECOND_HAND,
    "tubecad.com/october2000/page26.html",
)
THORIATED_SOURCE = Source(
    "Thoriated tungsten must be held to 5 %",
    Status.SECOND_HAND,
    "classiccmp.org/mailman3/hyperkitty/list/test-drb@ccmp.vtda.org/thread/"
    "JBY5GE6KHUUDXS4RWRI2HNLINHKPQNOL",
)
FIVE_PERCENT = Source("5 % recommended for long life", Status.FROM_MEMORY)
LINE_SOURCE = Source(
    "Line between 90 % and 110 % of the winding's rated voltage, a warning from 106 %",
    Status.PROPOSED,
)


def flux_ratio(
    plate_volt: float, plate_hz: Sequence[float], volt: float, hz: float
) -> tuple[float, float]:
    """Flux against the plate's own, and the plate frequency it is taken at.

    The lowest frequency on the plate counts, as the maker designed for it. Formula:
    r = (V / V_plate) (f_plate / f).
    """
    lowest = min(plate_hz)
    return volt / plate_volt * lowest / hz, lowest


def judge_flux(ratio: float) -> Outcome:
    """Up to 1.06 ok, up to 1.10 warn, above refuse (proposed limits)."""
    if ratio <= FLUX_OK + _ROUNDING:
        return Outcome.OK
    return Outcome.WARN if ratio <= FLUX_WARN + _ROUNDING else Outcome.REFUSE


def judge_volts(factor: float) -> Outcome:
    """Line over rated volts: up to 1.06 ok, up to 1.10 warn, above refuse (proposed limits).

    A higher frequency relieves the core but not what hangs on the secondaries.
    """
    return judge_flux(factor)


def judge_heater(deviation_percent: float, cathode: str = "oxide") -> Outcome:
    """Up to 5 % ok, up to 10 % warn, above refuse; either way from the rated voltage.

    Thoriated tungsten stands 5 % and no more.
    """
    off = abs(deviation_percent)
    if cathode == "thoriated":
        return Outcome.OK if off <= HEATER_OK_PERCENT + _ROUNDING else Outcome.REFUSE
    if off <= HEATER_OK_PERCENT + _ROUNDING:
        return Outcome.OK
    return Outcome.WARN if off <= HEATER_WARN_PERCENT + _ROUNDING else Outcome.REFUSE


_ORDER = [Outcome.OK, Outcome.WARN, Outcome.REFUSE]


def worst(outcomes: Sequence[Outcome]) -> Outcome:
    """The most serious of these; ok if there are none."""
    return max(outcomes, key=_ORDER.index, default=Outcome.OK)
