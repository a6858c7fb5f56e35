"""Backup cells: what they hold, how long they last, and what may go into which board."""

from shop.calc.cells import compare, hold_up, replacement, retention

__all__ = ["compare", "hold_up", "replacement", "retention"]
