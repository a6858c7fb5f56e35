"""The filament lamp in series with the unit: its current at a voltage, and what its glow says.

I(V) = I0 (V / V0)^a with I0 = P0 / V0; resistance R = R0 (V / V0)^(1 - a), never below the cold
filament. a = 0.55 by the handbook; results are shown for a from 0.45 to 0.60, because it is the
largest uncertainty. Below a fifth of the lamp's voltage most lamps pass more than any of these:
there the filament is taken by its heat as well (`thermal`).
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.series_lamp.thermal import ampere_share, volt_share
from shop.calc.series_lamp.thermal import slope_at as slope_by_heat
from shop.calc.words import _, gettext_noop
from shop.calc.working import Source, Status

EXPONENT: Final = 0.55
EXPONENT_SPAN: Final = (0.45, 0.55, 0.60)
# All laws meet at the rated volts and cross nowhere else, so the ends hold every operating point.
EXPONENT_ENDS: Final = (EXPONENT_SPAN[0], EXPONENT_SPAN[-1])
HOT_TO_COLD: Final = 13.0
LIGHT_EXPONENT: Final = 3.4


# Two lamps alike in series are one of twice the volts and twice the watts.
class Lamp(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One filament lamp, or several alike in parallel."""

    watt: Annotated[
        float,
        Meta(
            ge=1,
            le=2000,
            title="Watts of one lamp",
            description="as printed on it, 1 to 2000; unlike lamps in parallel: their sum",
            examples=[60],
        ),
    ]
    volt: Annotated[
        float,
        Meta(
            ge=1,
            le=500,
            title="Volts of the lamp",
            description="as printed on it, 1 to 500; it may differ from the bench's",
            examples=[230],
        ),
    ]
    count: Annotated[
        int, Meta(ge=1, le=10, title="Lamps", description="how many alike, in parallel")
    ] = 1
    exponent: Annotated[
        float,
        Meta(
            ge=0.3,
            le=0.9,
            title="Exponent of the lamp",
            description="a of I = I0 (V/V0)^a; 0.55 by the handbook",
        ),
    ] = EXPONENT
    conduction_share: Annotated[
        Annotated[float, Meta(ge=0.01, le=0.5)] | None,
        Meta(
            title="Share lost by conduction",
            description="take the filament by its heat, not by the law: share of the rated power "
            "lost to leads and gas, 0.06 to 0.20 are usual; left out: the law",
        ),
    ] = None

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
        return msgspec.structs.replace(self, exponent=exponent, conduction_share=None)

    def by_heat(self, conduction_share: float) -> Lamp:
        """The same lamp by the heat of its filament in place of the law."""
        return msgspec.structs.replace(self, conduction_share=conduction_share)


def current_at(lamp: Lamp, volt: float) -> float:
    """A through the lamp at a voltage across it (V)."""
    if lamp.conduction_share is not None:
        return lamp.rated_current * ampere_share(lamp.conduction_share, volt / lamp.volt)
    by_law = lamp.rated_current * math.pow(volt / lamp.volt, lamp.exponent)
    return min(by_law, volt / lamp.cold_ohm)


def volt_at(lamp: Lamp, current: float) -> float:
    """V across the lamp at a current (A): the same law, read the other way."""
    if lamp.conduction_share is not None:
        return lamp.volt * volt_share(lamp.conduction_share, current / lamp.rated_current)
    by_law = lamp.volt * math.pow(current / lamp.rated_current, 1 / lamp.exponent)
    return max(by_law, current * lamp.cold_ohm)


def slope_at(lamp: Lamp, volt: float) -> float:
    """The exponent by which the current follows the voltage just there; 1 while cold."""
    if lamp.conduction_share is not None:
        return slope_by_heat(lamp.conduction_share, volt / lamp.volt)
    return lamp.exponent if volt > lamp.volt * cold_corner(lamp) else 1.0


def cold_corner(lamp: Lamp) -> float:
    """V/V0 below which the law would have the filament below its cold resistance."""
    return math.pow(HOT_TO_COLD, -1.0 / (1.0 - lamp.exponent))


def inrush_peak(
    lamp: Lamp, supply_volt: float, source_ohm: float = 0.0, hot_to_cold: float = HOT_TO_COLD
) -> float:
    """Peak A into a short with the filament still cold, for some tens of milliseconds."""
    cold_ohm = lamp.volt / lamp.rated_current / hot_to_cold
    return math.sqrt(2.0) * supply_volt / (cold_ohm + source_ohm)


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


# V/V0 from which each word is used.
GLOW_FROM: Final = {Glow.DARK: 0.0, Glow.DIM: 0.1, Glow.HALF: 0.4, Glow.FULL: 0.8}


def glow_at(lamp: Lamp, volt: float) -> Glow:
    """The word for a lamp voltage: dark below 0.1 of rated, dim to 0.4, half to 0.8, then full.

    0.1 and 0.4 follow from filament temperature (computed); 0.8 is a proposal: published tables
    leave 0.7 to 0.9 open, and the more worrying word is taken early.
    """
    share = volt / lamp.volt
    words = reversed(GLOW_FROM.items())
    return next((glow for glow, edge in words if share >= edge), Glow.DARK)


SOURCES: Final = [
    Source(
        "lamp current follows V^0.55, light V^3.4",
        Status.SECOND_HAND,
        "Standard Handbook for Electrical Engineers, 11th ed., p. 22-8, "
        "at en.wikipedia.org/wiki/Lamp_rerating",
    ),
    Source("span of the exponent, 0.45 to 0.60", Status.PROPOSED),
    Source("hot to cold resistance 13, seen 10 to 15", Status.COMPUTED),
]


def disagreements() -> list[str]:
    """What the sources do not agree on."""
    return [
        _(
            "Lamp current: exponent 0.55 in the handbook quoted; 0.541 (gas-filled) and 0.58 "
            "(vacuum) in later lighting handbooks (from memory)."
        ),
        _("The same handbook page gives 1.6 for power; 0.55 + 1 is 1.55."),
        _(
            "A measured 2.5 V lamp fits 0.38 over all points and 0.47 over the upper ones (New "
            "Phys. 2023;73:127); a measured 28 V vacuum lamp keeps to 0.55 down to 2 % of its "
            "voltage."
        ),
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
