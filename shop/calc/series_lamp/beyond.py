"""A supply that is above what the unit or the lamp is made for, and loads no lamp suits.

A dark lamp drops next to nothing: whatever the supply gives, a lightly loaded unit gets.
"""

from __future__ import annotations

from typing import Final

from shop.calc.words import _
from shop.calc.working import Source, Status

# The upper limit of 230 V mains is 10 % above it; a proposal for units and lamps of other volts.
MOST_ABOVE: Final = 1.1
SOURCE: Final = Source("a supply above 110 % of the volts of unit or lamp", Status.PROPOSED)


def above_unit(supply_volt: float, unit_volt: float) -> list[str]:
    """What to say of a supply (V) far above what the unit (V) is set for; nothing if it is not."""
    if supply_volt <= MOST_ABOVE * unit_volt:
        return []
    return [
        _(
            "{supply:g} V is far above the {unit:g} V the unit is set for, and a lamp does not "
            "hold it back: never turn the variable transformer above {unit:g} V.",
            supply=supply_volt,
            unit=unit_volt,
        )
    ]


def above_lamp(supply_volt: float, lamp_volt: float) -> list[str]:
    """What to say of a lamp (V) that a short would leave on far too high a supply (V)."""
    if supply_volt <= MOST_ABOVE * lamp_volt:
        return []
    return [
        _(
            "A short would put {supply:g} V on a {lamp:g} V lamp, which then burns out or bursts: "
            "take lamps for the supply, or alike ones in series.",
            supply=supply_volt,
            lamp=lamp_volt,
        )
    ]


def like_switch_mode(exponent: float) -> list[str]:
    """What to say of a load that takes more current as the voltage falls (m below 0)."""
    if exponent >= 0:
        return []
    return [
        _(
            "A load that takes more current from less voltage is a switch-mode supply: do not "
            "bring it up behind a lamp."
        )
    ]
