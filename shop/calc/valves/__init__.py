"""Valves: what their plates and screens burn, their bias, their heaters."""

from shop.calc.valves import bias, dissipation, heater

__all__ = ["bias", "dissipation", "heater"]
