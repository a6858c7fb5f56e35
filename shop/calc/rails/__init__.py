"""Supply rails and the heat they make: limits, ripple, regulators, ramps, windings, soaks."""

from shop.calc.rails import expected, limits, regulator, ripple, soak, winding_rise

__all__ = ["expected", "limits", "regulator", "ripple", "soak", "winding_rise"]
