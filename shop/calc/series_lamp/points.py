"""The operating point: where lamp and unit share the supply.

In phase: Vs = VL + VU and the lamp's current is the unit's. A load with m >= 0 (constant current
to resistor) has at most one point. With m < 0 (towards constant power) the power the lamp can pass
has a maximum, at VL* = a Vs / (a + |m|): below it two points, above it none. The point with the
lower lamp voltage is the stable one (VL < a VU / |m|); the other is the starved state.
With a reactance: Vs = I math.sqrt((VL/I + R)^2 + X^2), always one point.
Real units draw a distorted current: rms figures from sinusoidal formulas are estimates.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import msgspec

from shop.calc.roots import root_between
from shop.calc.series_lamp.lamp import (
    Glow,
    Lamp,
    cold_corner,
    current_at,
    glow_at,
    light_share,
    slope_at,
    volt_at,
)
from shop.calc.series_lamp.loads import Impedance, Load, Mixed, Resistance, as_mixed, unit_current
from shop.calc.series_lamp.thermal import turn

# Nearer to constant current counts as constant: the starved unit's volts would leave the doubles.
LEAST_EXPONENT = 0.05
SHORT_OHM = 1e-6


class Point(msgspec.Struct, frozen=True):
    """One operating point. Volts and amperes are rms; `unit_watt` is real power."""

    lamp_volt: float
    unit_volt: float
    current_a: float
    lamp_watt: float
    unit_watt: float
    power_factor: float
    light_share: float
    glow: Glow
    is_stable: bool


def operating_points(lamp: Lamp, load: Load, supply_volt: float) -> list[Point]:
    """All operating points, the stable one first; an empty list if there is none.

    Units: V, A, W, ohm. `supply_volt` above 0.
    """
    if isinstance(load, Impedance):
        return [_reactive(lamp, load, supply_volt)]
    if isinstance(load, Resistance) and load.ohm < SHORT_OHM:
        return [_point(lamp, supply_volt, 0.0, current_at(lamp, supply_volt))]
    mixed = as_mixed(load)
    if abs(mixed.exponent) < LEAST_EXPONENT:
        return _constant_current(lamp, mixed, supply_volt)
    find = _falling if mixed.exponent < 0 else _rising
    return [_in_phase(lamp, mixed, supply_volt, *pair) for pair in find(lamp, mixed, supply_volt)]


def _constant_current(lamp: Lamp, load: Mixed, supply_volt: float) -> list[Point]:
    current = load.watt / load.volt
    if current > current_at(lamp, supply_volt):
        return []  # more than this lamp can pass even into a short
    drop = min(volt_at(lamp, current), supply_volt)
    return [_point(lamp, drop, supply_volt - drop, current)]


Pair = tuple[float, float]


def _split(spare: Callable[[float, float], float], supply_volt: float, a: Pair, b: Pair) -> Pair:
    """(lamp V, unit V) where `spare` is nothing, between two such pairs.

    The smaller of the two voltages is the unknown: the difference of two large ones loses digits.
    """
    half = supply_volt / 2
    if a[1] <= half and b[1] <= half:
        unit = root_between(lambda volt: spare(supply_volt - volt, volt), a[1], b[1])
        return supply_volt - unit, unit
    if a[0] <= half and b[0] <= half:
        drop = root_between(lambda volt: spare(volt, supply_volt - volt), a[0], b[0])
        return drop, supply_volt - drop
    middle = (half, half)
    at_middle, at_a = spare(half, half), spare(*a)
    if at_middle == 0:
        return middle
    other = b if (at_middle > 0) == (at_a > 0) else a
    return _split(spare, supply_volt, middle, other)


def _rising(lamp: Lamp, load: Mixed, supply_volt: float) -> list[Pair]:
    """m > 0: what the unit takes falls as the lamp takes more, so there is one crossing."""

    def spare(drop: float, volt: float) -> float:
        return current_at(lamp, drop) - unit_current(load, volt)

    return [_split(spare, supply_volt, (0.0, supply_volt), (supply_volt, 0.0))]


def _falling(lamp: Lamp, load: Mixed, supply_volt: float) -> list[Pair]:
    """m < 0: below the most the lamp can pass there are two crossings, above it none."""
    steep, wanted = -load.exponent, load.watt / load.volt

    def spare(lamp_volt: float, volt: float) -> float:
        return current_at(lamp, lamp_volt) * math.pow(volt / load.volt, steep) - wanted

    drop = drop_of_most_power(lamp, steep, supply_volt)
    top = (drop, supply_volt - drop)
    if math.isclose(spare(*top) + wanted, wanted, rel_tol=1e-12):
        return [top]
    if spare(*top) < 0:
        return []
    ends = ((0.0, supply_volt), (supply_volt, 0.0))
    return [_split(spare, supply_volt, end, top) for end in ends]


def drop_of_most_power(lamp: Lamp, steep: float, supply_volt: float) -> float:
    """Lamp V where I VU^|m| is greatest; a cold filament is a resistor, with 1 in place of a."""
    if lamp.conduction_share is not None:
        return lamp.volt * turn(lamp.conduction_share, supply_volt / lamp.volt, steep)
    law = lamp.exponent * supply_volt / (lamp.exponent + steep)
    cold = supply_volt / (1.0 + steep)
    corner = lamp.volt * cold_corner(lamp)
    return law if law >= corner else min(cold, corner)


def _in_phase(lamp: Lamp, load: Mixed, supply_volt: float, drop: float, volt: float) -> Point:
    is_stable = load.exponent >= 0 or -load.exponent * drop < slope_at(lamp, drop) * volt
    return _point(lamp, drop, volt, current_at(lamp, drop), is_stable=is_stable)


def _reactive(lamp: Lamp, load: Impedance, supply_volt: float) -> Point:
    def over(current: float) -> float:
        real = volt_at(lamp, current) + current * load.resistance_ohm
        return math.hypot(real, current * load.reactance_ohm) - supply_volt

    current = root_between(over, 0.0, current_at(lamp, supply_volt) * 1.000001)
    size = math.hypot(load.resistance_ohm, load.reactance_ohm)
    power_factor = load.resistance_ohm / size if size else 1.0
    return _point(lamp, volt_at(lamp, current), current * size, current, power_factor)


def _point(
    lamp: Lamp,
    lamp_volt: float,
    unit_volt: float,
    current: float,
    power_factor: float = 1.0,
    is_stable: bool = True,
) -> Point:
    return Point(
        lamp_volt=lamp_volt,
        unit_volt=unit_volt,
        current_a=current,
        lamp_watt=lamp_volt * current,
        unit_watt=unit_volt * current * power_factor,
        power_factor=power_factor,
        light_share=light_share(lamp, lamp_volt),
        glow=glow_at(lamp, lamp_volt),
        is_stable=is_stable,
    )
