"""Mains supplies: voltages, tolerance, frequency and plugs by country."""

from shop.calc.supplies import band, country, plug

__all__ = ["band", "country", "plug"]
