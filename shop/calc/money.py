"""Amounts in whole minor units: tax per rate, halves away from zero."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

import msgspec


class TaxGroup(msgspec.Struct, frozen=True):
    """All lines of one rate together. Amounts in minor units, the rate in percent."""

    percent: Fraction
    net_minor: int
    tax_minor: int


class Totals(msgspec.Struct, frozen=True):
    """The end of a bill, in minor units."""

    net_minor: int
    tax_minor: int
    total_minor: int
    groups: list[TaxGroup]


def round_half_away(value: Fraction) -> int:
    """The nearest whole number; a half goes away from zero.

    Source: EN 16931-1:2017, business rules BR-CO-17 and BR-S-09 ask for two decimals; the official
    samples (github.com/ConnectingEurope/eInvoicing-EN16931) fit halves away from zero, and at
    least one does not fit halves to even.
    """
    magnitude = (abs(value) * 2 + 1) // 2
    return int(magnitude) if value >= 0 else -int(magnitude)


def share_of(amount_minor: int, percent: Fraction) -> int:
    """A percentage of an amount, in whole minor units."""
    return round_half_away(Fraction(amount_minor) * percent / 100)


def net_within(gross_minor: int, percent: Fraction) -> int:
    """The largest net whose gross does not exceed an amount that was said with tax included.

    Units: minor units in and out, the rate in percent, neither below zero.
    Formula: the largest whole n with n + round(n * rate / 100) <= gross, halves away from zero,
    which is ceil((gross + 1/2) / (1 + rate / 100)) - 1. The bill may end one minor unit below what
    was said (83.33 and 20 % give 100.00, so 99.99 becomes 83.32 and 99.98), never above it.
    Raises: ValueError below zero.
    Source: the tax is that of EN 16931-1:2017, BR-CO-17; the formula is worked out from it.
    """
    if gross_minor < 0 or percent < 0:
        raise ValueError(f"neither may be below 0: {gross_minor} at {percent} %")
    return ceil((gross_minor + Fraction(1, 2)) / (1 + percent / 100)) - 1


def totals(lines: Iterable[tuple[int, Fraction]]) -> Totals:
    """Net, tax and total of lines given as (net in minor units, rate in percent).

    Formula: tax = sum over rates of round(sum of the lines of this rate * rate / 100); tax is not
    rounded per line. Raises nothing; negative lines are returns.
    Source: EN 16931-1:2017, BR-S-08 (basis per rate), BR-CO-17 (tax per rate), BR-CO-14 (sum of
    taxes), BR-CO-15 (total).
    """
    nets: dict[Fraction, int] = {}
    for net_minor, percent in lines:
        nets[percent] = nets.get(percent, 0) + net_minor
    groups = [
        TaxGroup(percent, net_minor, share_of(net_minor, percent))
        for percent, net_minor in sorted(nets.items())
    ]
    net = sum(group.net_minor for group in groups)
    tax = sum(group.tax_minor for group in groups)
    return Totals(net, tax, net + tax, groups)


def price_of_time(minutes: int, hour_price_minor: int) -> int:
    """What so many minutes cost, in minor units, at a price per hour."""
    return round_half_away(Fraction(minutes * hour_price_minor, 60))
