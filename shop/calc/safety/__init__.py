"""Electrical safety check after repair: what is measured, and the limits of one scheme."""

from shop.calc.safety import (
    distances,
    earth_limit,
    first_power,
    insulation_limit,
    limits,
    protection_class,
    touch_current,
    touch_voltage,
)

__all__ = [
    "distances",
    "earth_limit",
    "first_power",
    "insulation_limit",
    "limits",
    "protection_class",
    "touch_current",
    "touch_voltage",
]
