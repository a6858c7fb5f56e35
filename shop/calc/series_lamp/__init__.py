"""First power-up through a series lamp: operating point, lamp, limits of the ramp, reading back."""

from shop.calc.series_lamp import answers, choose, gate, ramp, read_back

__all__ = ["answers", "choose", "gate", "ramp", "read_back"]
