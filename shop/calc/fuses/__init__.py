"""Miniature fuses: series, marking, time gates, and the fuse for another supply or load."""

from shop.calc.fuses import bands, ceiling, gate_times, inrush, load, marking, scale, ul, writing

__all__ = [
    "bands", "ceiling", "gate_times", "inrush", "load", "marking", "scale", "ul", "writing",
]  # fmt: skip
