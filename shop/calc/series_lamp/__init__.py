"""First power-up through a series lamp: operating point, lamp, limits of the ramp, reading back."""

from shop.calc.series_lamp import (
    answers,
    choose,
    gate,
    inrush,
    ramp,
    read_back,
    schedule,
    seen,
)

__all__ = [
    "answers",
    "choose",
    "gate",
    "inrush",
    "ramp",
    "read_back",
    "schedule",
    "seen",
]
