"""Electrical safety check after repair: what is measured, and the limits of one scheme."""

from shop.calc.safety import limits

__all__ = ["limits"]
