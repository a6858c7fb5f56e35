"""Supply rails and the heat they make: ripple, regulators, rails while ramping, windings."""

from shop.calc.rails import expected, regulator, ripple, winding_rise

__all__ = ["expected", "regulator", "ripple", "winding_rise"]
