"""A rectifier and its reservoir: pulses, ripple, and the volts between crest and valley.

Ripple, peak to peak: Vpp = I / (n f C), n pulses for each period of the mains, 1 or 2. The
reservoir is taken to feed the load for the whole time between two crests, so the formula gives
the most there can be. The ripple is taken as a sawtooth: its r.m.s. is Vpp / (2 sqrt 3) and a
d.c. meter reads half of it below the crest.
Units: ampere, hertz, farad, volt.
"""

from __future__ import annotations

from enum import StrEnum
from math import sqrt
from typing import Annotated, Final

from msgspec import Meta

from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Source, Status

SAWTOOTH_RMS: Final = 1 / (2 * sqrt(3.0))
# Two silicon diodes of a bridge, some way above their threshold.
BRIDGE_DROP_VOLT: Final = 1.4
DROPOUT_VOLT: Final = 2.0


class Rectifier(StrEnum):
    """How often in a period the reservoir is filled."""

    FULL_WAVE = "full_wave"
    HALF_WAVE = "half_wave"


RECTIFIER_WORDS: Final = {
    "full_wave": _noop("full wave (bridge, or two diodes on a centre tap)"),
    "half_wave": _noop("half wave (one diode)"),
}

RectifierKind = Annotated[
    Rectifier,
    Meta(
        title="Rectifier",
        description="how often in a period the reservoir is filled",
        extra_json_schema={"x-labels": RECTIFIER_WORDS},
    ),
]
LoadAmpere = Annotated[
    float,
    Meta(ge=1e-6, le=100, title="Current", description="direct current of the rail, 1 µA to 100 A"),
]
ReservoirFarad = Annotated[
    float,
    Meta(ge=1e-8, le=1, title="Reservoir", description="capacitance after the rectifier, farad"),
]
DropVolt = Annotated[
    float,
    Meta(
        ge=0,
        le=50,
        title="Drop of the diodes",
        description="volts lost in the rectifier: 1.4 for a silicon bridge, 0.7 for one diode, "
        "tens for a valve",
    ),
]
DropoutVolt = Annotated[
    float,
    Meta(
        ge=0,
        le=100,
        title="Dropout",
        description="least volts across the regulator, from its sheet; 2 V fits old three-pin ones",
    ),
]

RIPPLE_SOURCE = Source(
    "ripple, peak to peak: I / (2 f C) full wave, I / (f C) half wave",
    Status.SECOND_HAND,
    "electrical-engineering.app/qa/7829",
)
SAWTOOTH_SOURCE = Source("r.m.s. of a sawtooth: peak to peak / (2 sqrt 3)", Status.COMPUTED)
DIODE_SOURCE = Source("1.4 V lost in a silicon bridge", Status.FROM_MEMORY)
DROPOUT_SOURCE = Source(
    "2 V dropout of old three-pin regulators",
    Status.SECOND_HAND,
    "ip331.com/physics-electronic/linear-regulator",
)


def pulses(rectifier: Rectifier) -> int:
    """How often the reservoir is filled in one period of the mains."""
    return 2 if rectifier is Rectifier.FULL_WAVE else 1


def ripple_volt(ampere: float, farad: float, hertz: float, rectifier: Rectifier) -> float:
    """Ripple, volt peak to peak: I / (n f C). `hertz` is the mains."""
    return ampere / (pulses(rectifier) * hertz * farad)


def scaled(volt: float, drop_volt: float, share: float) -> float:
    """A rectified rail when the mains stands at `share` of what it was.

    The winding follows the mains, the diodes keep their drop: (V + Vd) share - Vd, never below 0.
    """
    return max((volt + drop_volt) * share - drop_volt, 0.0)
