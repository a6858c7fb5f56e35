"""Years out of capacity, drain and self-discharge.

F1: t = 1000 C / (8760 I), C in mAh, I in uA, t in years.
F2: 1000 C / (8760 I + 1000 s C), a loss of the initial capacity; shown, not used.
F3: dC/dt = -I - s C, so t = ln(1 + s F1) / s; s is the rate per year of what is left.
The answer is the earlier of F3 and the shelf limit: capacity alone gives absurd lives of decades
(semiconductor vendors' calculators say the same of their own parts).
"""

from __future__ import annotations

from math import exp, log1p

HOURS_PER_YEAR = 8760.0


def by_capacity(capacity_mah: float, drain_ua: float) -> float:
    """F1: years from capacity alone. Not an answer, see the head of this module."""
    return 1000.0 * capacity_mah / (HOURS_PER_YEAR * drain_ua)


def with_self_discharge(capacity_mah: float, drain_ua: float, rate: float) -> float:
    """F3: years with a rate of self-discharge per year (of what is left)."""
    plain = by_capacity(capacity_mah, drain_ua)
    return log1p(rate * plain) / rate if rate > 0 else plain


def with_linear_loss(by_capacity_years: float, rate: float) -> float:
    """F2: years with a yearly loss of the initial capacity: 1 / F2 = 1 / F1 + s."""
    return by_capacity_years / (1.0 + rate * by_capacity_years)


def retention_years(
    capacity_mah: float,
    drain_ua: float,
    rate: float,
    shelf_years: float,
    stored_years: float = 0.0,
) -> float:
    """Years until the memory is lost or the cell is to be changed, whichever is earlier.

    Units: mAh, uA, per year, years.
    """
    left = capacity_mah * exp(-rate * stored_years)
    on_shelf = max(shelf_years - stored_years, 0.0)
    return min(with_self_discharge(left, drain_ua, rate), on_shelf)
