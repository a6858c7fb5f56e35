"""Backup cells: what they hold, how long they last, and what may go into which board."""

from shop.calc.cells import (
    compare,
    designation,
    drain,
    hold_up,
    isolation,
    memory,
    proof,
    replacement,
    retention,
    storage,
)

__all__ = [
    "compare",
    "designation",
    "drain",
    "hold_up",
    "isolation",
    "memory",
    "proof",
    "replacement",
    "retention",
    "storage",
]
