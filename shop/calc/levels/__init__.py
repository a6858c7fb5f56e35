"""Audio levels: volts, decibels, watts into a load, gain, noise."""

from shop.calc.levels import convert, gain, noise, power

__all__ = ["convert", "gain", "noise", "power"]
