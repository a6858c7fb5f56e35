"""One level on every scale: volts, dBu, dBV, watts, dBm.

0 dBu is sqrt(0.6) V = 0.7746 V, the volts of a milliwatt in 600 ohm; 0 dBV is 1 V; 0 dBm is a
milliwatt in the load that is there. L = 20 lg(V / V0), 10 lg(P / P0), P = V^2 / R.
Units: volt r.m.s. in the middle of it all, ohm, watt, decibel.
"""

from __future__ import annotations

from enum import StrEnum
from math import log10, sqrt
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import BadInput, Source, Status

ZERO_DBU_VOLT: Final = sqrt(0.6)
MILLIWATT: Final = 1e-3
LINE_OHM: Final = 600.0
SINE_CREST: Final = sqrt(2.0)
# Beyond these no bench has anything to measure; they keep every result finite.
LEAST_VOLT, MOST_VOLT = 1e-12, 1e6
MOST_DB: Final = 400.0


class Scale(StrEnum):
    """How a level is written."""

    VOLT_RMS = "volt_rms"
    VOLT_PEAK = "volt_peak"
    VOLT_PEAK_TO_PEAK = "volt_peak_to_peak"
    DBU = "dbu"
    DBV = "dbv"
    DBM = "dbm"
    WATT = "watt"


SCALE_WORDS: Final = {
    "volt_rms": _noop("V r.m.s."),
    "volt_peak": _noop("V peak"),
    "volt_peak_to_peak": _noop("V peak to peak"),
    "dbu": _noop("dBu (0 = 0.775 V)"),
    "dbv": _noop("dBV (0 = 1 V)"),
    "dbm": _noop("dBm (0 = 1 mW in the load)"),
    "watt": _noop("W in the load"),
}

Number = Annotated[
    float,
    Meta(ge=-400, le=1e6, title="Level", description="the number alone, on the scale chosen"),
]
ScaleKind = Annotated[
    Scale,
    Meta(
        title="Scale",
        description="what the number counts",
        extra_json_schema={"x-labels": SCALE_WORDS},
    ),
]
LoadOhm = Annotated[float, Meta(ge=0.01, le=1e9)]
CrestFactor = Annotated[
    float,
    Meta(
        ge=1,
        le=100,
        title="Crest factor",
        description="peak over r.m.s.: 1.414 for a sine, 1 for a square wave, 4 and more for music",
    ),
]


class Level(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A number with its scale; dBm and watts need the load."""

    number: Number
    scale: ScaleKind = Scale.DBU
    load_ohm: Annotated[
        LoadOhm | None,
        Meta(title="Load", description="ohm; needed for watts, 600 is taken for dBm if left out"),
    ] = None
    crest_factor: CrestFactor = SINE_CREST


def dbu_of(volt: float) -> float:
    """Volts r.m.s. as dBu."""
    return 20 * log10(volt / ZERO_DBU_VOLT)


def dbv_of(volt: float) -> float:
    """Volts r.m.s. as dBV."""
    return 20 * log10(volt)


def dbm_of(watt: float) -> float:
    """Watts as dBm."""
    return 10 * log10(watt / MILLIWATT)


def load_of(level: Level) -> float | None:
    """The load that counts: the one given, or 600 ohm for a level in dBm."""
    if level.load_ohm is None and level.scale is Scale.DBM:
        return LINE_OHM
    return level.load_ohm


def volts_of(level: Level, field: str = "") -> float:
    """Volts r.m.s. of a level on any scale. `field` is the path of the level in the input.

    Raises BadInput for a number no signal can have, or watts without a load.
    """
    number = level.number
    if level.scale in (Scale.DBU, Scale.DBV, Scale.DBM):
        return _within(_from_decibels(level, field), field)
    if number <= 0:
        reason = _("No signal at all has no level: this must be above zero.")
        raise BadInput(f"{field}number", reason, "not_positive")
    if level.scale is Scale.WATT:
        return _within(sqrt(number * _load(level, field)), field)
    divisor = {
        Scale.VOLT_RMS: 1.0,
        Scale.VOLT_PEAK: level.crest_factor,
        Scale.VOLT_PEAK_TO_PEAK: 2 * level.crest_factor,
    }[level.scale]
    return _within(number / divisor, field)


def _from_decibels(level: Level, field: str) -> float:
    if abs(level.number) > MOST_DB:
        reason = _("More than {most:.0f} dB is no level of a signal.", most=MOST_DB)
        raise BadInput(f"{field}number", reason, "out_of_range")
    if level.scale is Scale.DBM:
        watt = float(MILLIWATT * 10 ** (level.number / 10))
        return sqrt(watt * (load_of(level) or LINE_OHM))
    zero = ZERO_DBU_VOLT if level.scale is Scale.DBU else 1.0
    return float(zero * 10 ** (level.number / 20))


def _load(level: Level, field: str) -> float:
    if level.load_ohm is None:
        reason = _("Watts need the load they go into.")
        raise BadInput(f"{field}load_ohm", reason, "missing")
    return level.load_ohm


def _within(volt: float, field: str) -> float:
    if not LEAST_VOLT <= volt <= MOST_VOLT:
        reason = _("That is {volt:.3g} V: nothing on a bench has such a level.", volt=volt)
        raise BadInput(f"{field}number", reason, "out_of_range")
    return volt


SOURCES: Final = [
    Source(
        "0 dBu = 0.7746 V, whatever the load; equals dBm in 600 ohm only",
        Status.SECOND_HAND,
        "extract of an audio measurement handbook, "
        "mail-archive.com/emc-pstc@listserv.ieee.org/msg15011",
    ),
    Source(
        "0 dBV = 1 V; +4 dBu = 1.228 V; -10 dBV = 0.3162 V = -7.78 dBu",
        Status.SECOND_HAND,
        "sengpielaudio.com, page on levels",
    ),
    Source("reference 0.7746 V from 1 mW in 600 ohm: sqrt(0.6)", Status.COMPUTED),
    Source("levels by IEC 60268-3 and AES practice", Status.FROM_MEMORY),
]


def disagreements() -> list[str]:
    """What is written differently elsewhere."""
    return [
        _("0 dBu is also written 0.775 V: 0.005 dB, nothing a bench can see."),
        _("Old meters say dBm where they mean dBu: they measure volts, not watts."),
    ]
