"""Parts across the mains whose rating belongs to one supply voltage."""

from shop.calc.voltage_parts import (
    capacitor,
    check,
    neon,
    rating_plate,
    rear_outlet,
    switch,
    thermal_link,
    varistor,
)

__all__ = [
    "capacitor",
    "check",
    "neon",
    "rating_plate",
    "rear_outlet",
    "switch",
    "thermal_link",
    "varistor",
]
