"""The filament lamp in series with the unit: its current at a voltage, and what its glow says.

I(V) = I0 (V / V0)^a with I0 = P0 / V0; resistance R = R0 (V / V0)^(1 - a), never below the cold
filament. a = 0.55 by the handbook; results are shown for a from 0.45 to 0.60, because it is the
largest uncertainty. Below a fifth of the lamp's voltage measured lamps pass more than any of these.
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.words import _, gettext_noop
from shop.calc.working import Source, Status

EXPONENT: Final = 0.55
EXPONENT_SPAN: Final = (0.45, 0.55, 0.60)
# Fitted to a measured small lamp over all its points; counts only while the lamp is dark.
DARK_EXPONENT: Final = 0.38
HOT_TO_COLD: Final = 13.0
LIGHT_EXPONENT: Final = 3.4


class Lamp(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One filament lamp, or several alike in parallel."""

    watt: Annotated[float, Meta(ge=1, le=2000, description="rated W of one lamp", examples=[60])]
    volt: Annotated[float, Meta(ge=1, le=500, description="rated V", examples=[230])]
    count: Annotated[int, Meta(ge=1, le=10, description="alike, in parallel")] = 1
    exponent: Annotated[float, Meta(ge=0.3, le=0.9, description="a of I = I0 (V/V0)^a")] = EXPONENT

    @property
    def rated_current(self) -> float:
        """A, all lamps together."""
        return self.watt * self.count / self.volt

    @property
    def cold_ohm(self) -> float:
        """Resistance of the cold filament, all lamps together."""
        return self.volt / self.rated_current / HOT_TO_COLD

    def with_exponent(self, exponent: float) -> Lamp:
        """The same lamp by another lamp law."""
        return msgspec.structs.replace(self, exponent=exponent)


def current_at(lamp: Lamp, volt: float) -> float:
    """A through the lamp at a voltage across it (V)."""
    by_law = lamp.rated_current * math.pow(volt / lamp.volt, lamp.exponent)
    return min(by_law, volt / lamp.cold_ohm)


def volt_at(lamp: Lamp, current: float) -> float:
    """V across the lamp at a current (A): the same law, read the other way."""
    by_law = lamp.volt * math.pow(current / lamp.rated_current, 1 / lamp.exponent)
    return max(by_law, current * lamp.cold_ohm)


def inrush_peak(lamp: Lamp, supply_volt: float, source_ohm: float = 0.0) -> float:
    """Peak A into a short with the filament still cold, for some tens of milliseconds."""
    return math.sqrt(2.0) * supply_volt / (lamp.cold_ohm + source_ohm)


def light_share(lamp: Lamp, volt: float) -> float:
    """Light as a share of full light, by exponent 3.4."""
    return math.pow(volt / lamp.volt, LIGHT_EXPONENT)


class Glow(StrEnum):
    """What is seen."""

    DARK = "dark"
    DIM = "dim"
    HALF = "half"
    FULL = "full"


GLOW_WORDS: Final = {
    Glow.DARK: gettext_noop("dark"),
    Glow.DIM: gettext_noop("dim"),
    Glow.HALF: gettext_noop("half bright"),
    Glow.FULL: gettext_noop("full bright"),
}


def glow_at(lamp: Lamp, volt: float) -> Glow:
    """The word for a lamp voltage: dark below 0.1 of rated, dim to 0.4, half to 0.8, then full.

    0.1 and 0.4 follow from filament temperature (computed); 0.8 is a proposal: published tables
    leave 0.7 to 0.9 open, and the more worrying word is taken early.
    """
    share = volt / lamp.volt
    if share < 0.1:
        return Glow.DARK
    if share < 0.4:
        return Glow.DIM
    return Glow.HALF if share < 0.8 else Glow.FULL


SOURCES: Final = [
    Source(
        "lamp current follows V^0.55, light V^3.4",
        Status.SECOND_HAND,
        "Standard Handbook for Electrical Engineers, 11th ed., p. 22-8, "
        "at en.wikipedia.org/wiki/Lamp_rerating",
    ),
    Source("span of the exponent, 0.45 to 0.60", Status.PROPOSED),
    Source(
        "0.38 while the lamp is dark, fitted to a measured 2.5 V lamp",
        Status.COMPUTED,
        "data: New Phys. 2023;73:127",
    ),
    Source("hot to cold resistance 13, seen 10 to 15", Status.COMPUTED),
]


def disagreements() -> list[str]:
    """What the sources do not agree on."""
    return [
        _("The same handbook page gives 1.6 for power; 0.55 + 1 is 1.55."),
        _("Measured small lamps fit 0.38 over all points and 0.47 over the upper ones."),
    ]


def cautions() -> list[str]:
    """What belongs to every answer about the series lamp."""
    return [
        _(
            "The lamp gives no isolation and no protection from shock; neither does a variable "
            "transformer. Lamp and unit are both live to the touch."
        ),
        _("Stay with the unit while it is powered. Clip probes on dead, power, read, power down."),
        _("Local codes and licensed practice come first."),
    ]
