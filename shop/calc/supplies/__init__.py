"""Mains supplies: voltages, tolerance, frequency and plugs by country."""

from shop.calc.supplies import country

__all__ = ["country"]
