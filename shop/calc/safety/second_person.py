"""When work with power on needs a second person: where a touch inside can kill."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from math import sqrt
from typing import Final

from shop.calc.safety.touch_voltage import ELV_DC_VOLT

# What a model sheet names that puts mains or high voltage within reach, whatever its volts.
DEADLY_HAZARDS: Final = frozenset({"live_chassis", "high_voltage", "tube_high_voltage"})


def can_kill(
    hazards: Collection[str], dc_volts: Iterable[float], winding_volts: Iterable[float]
) -> bool:
    """Whether a touch inside can kill with power on, by what is known of a unit.

    Units: volts d.c. of reservoirs, rails and plates, of either sign; volts r.m.s. of secondaries,
    which count with their crest, since that is what a rectifier makes of them.
    A hazard that nobody ticked does not make the volts beside it harmless.
    Source: IEC 61140, extra-low voltage ends at 120 V d.c. (see `touch_voltage`); that a second
    person is asked for beyond it is proposed here.
    """
    if DEADLY_HAZARDS.intersection(hazards):
        return True
    volts = [*dc_volts, *(volt * sqrt(2) for volt in winding_volts)]
    return any(abs(volt) > ELV_DC_VOLT for volt in volts)
