"""Capacitor figures the way they stand on parts: µF up to any size, never mF."""

from __future__ import annotations

from shop.calc.decimals import canonical
from shop.calc.quantities import Quantity
from shop.calc.readings import format_reading


def farads(farad: float) -> str:
    """`4700 µF`, `220 nF`, `47 pF`; whole farads only for double-layer sizes."""
    for unit, size in (("F", 1.0), ("µF", 1e-6), ("nF", 1e-9)):
        if farad >= size * (1 - 1e-9):
            return f"{_plain(farad / size)} {unit}"
    return f"{_plain(farad / 1e-12)} pF"


def ohms(ohm: float) -> str:
    """`4.7 kΩ`, `0.32 Ω`, three digits: tables and meters of ESR write ohms, not milliohms."""
    if 0.001 <= ohm < 1:
        return f"{canonical(f'{ohm:.3g}')} Ω"
    return _shown(ohm, Quantity.RESISTANCE)


def amperes(ampere: float) -> str:
    """`1.1 mA`, `93 µA`, three digits."""
    return _shown(ampere, Quantity.CURRENT_DC)


def watts(watt: float) -> str:
    """`203 W`, `2.03 W`, three digits."""
    return _shown(watt, Quantity.POWER)


def volts(volt: float) -> str:
    """`450 V`, `33 mV`, three digits."""
    return _shown(volt, Quantity.VOLTAGE_DC)


def _plain(number: float) -> str:
    return canonical(f"{number:.4g}")


def _shown(value: float, quantity: Quantity) -> str:
    return format_reading(canonical(f"{value:.3g}"), quantity)
