"""Valves: what their plates and screens burn, their bias, their heaters, their limits."""

from shop.calc.valves import bias, dissipation, heater, limits

__all__ = ["bias", "dissipation", "heater", "limits"]
