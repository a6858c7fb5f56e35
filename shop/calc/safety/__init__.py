"""Electrical safety check after repair: what is measured, and the limits of one scheme."""

from shop.calc.safety import first_power, limits

__all__ = ["first_power", "limits"]
