"""Audio levels: volts, decibels, watts into a load, gain, noise, channels."""

from shop.calc.levels import channel, convert, gain, noise, power

__all__ = ["channel", "convert", "gain", "noise", "power"]
