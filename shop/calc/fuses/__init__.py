"""Miniature fuses: series, marking, time gates, and the fuse for another supply or load."""

from shop.calc.fuses import bands, load, marking, scale, ul

__all__ = ["bands", "load", "marking", "scale", "ul"]
