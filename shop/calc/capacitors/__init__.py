"""Capacitors: whether an old one may stay, what may replace it, how to bring it back."""

from shop.calc.capacitors import esr, leakage, life, limits, preferred, reform, replacement, verdict

__all__ = ["esr", "leakage", "life", "limits", "preferred", "reform", "replacement", "verdict"]
