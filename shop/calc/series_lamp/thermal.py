"""The filament by its heat: what the lamp law leaves out below a fifth of the lamp's voltage.

In the steady state the power is lost by radiation and by conduction to leads and gas:
P = e A (T^4 - Ta^4) + k (T - Ta), with R(T) of tungsten. The share f of the rated power that is
lost by conduction is not printed on a lamp, so results are shown for f from 0.06 (large vacuum
lamp) to 0.20 (small gas-filled one). Temperatures in kelvin, the rest as shares of rated values.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from functools import lru_cache
from itertools import pairwise
from typing import Final

import msgspec

from shop.calc.working import Source, Status

# Resistivity of tungsten, microohm centimetre, at kelvin.
RESISTIVITY: Final[dict[int, float]] = {
    300: 5.65, 400: 8.06, 500: 10.56, 600: 13.23, 700: 16.09, 800: 19.00, 900: 21.94,
    1000: 24.93, 1100: 27.94, 1200: 30.98, 1300: 34.08, 1400: 37.19, 1500: 40.36, 1600: 43.55,
    1700: 46.78, 1800: 50.05, 1900: 53.35, 2000: 56.67, 2100: 60.06, 2200: 63.48, 2300: 66.91,
    2400: 70.39, 2500: 73.91, 2600: 77.49, 2700: 81.04, 2800: 84.70, 2900: 88.33, 3000: 92.04,
    3200: 99.54, 3600: 115.0,
}  # fmt: skip
ROOM_KELVIN: Final = 300.0
RATED_KELVIN: Final = 2800.0
CONDUCTION_SPAN: Final = (0.06, 0.20)
# Below this nobody sees a filament glow (the Draper point).
GLOW_KELVIN: Final = 798.0

SOURCES: Final = [
    Source(
        "resistivity of tungsten, 300 to 3600 K",
        Status.SECOND_HAND,
        "table of 1925 as in the CRC Handbook of Chemistry and Physics",
    ),
    Source("power lost by radiation and conduction, 2800 K when rated", Status.COMPUTED),
    Source(
        "share lost to the gas: 20 % of a 40 W lamp, 6 % of a 1000 W lamp",
        Status.SECOND_HAND,
        "IES Lighting Handbook, 1st ed. 1947, p. 6-8, at scribd.com/document/236945058",
    ),
]


class Curve(msgspec.Struct, frozen=True):
    """Volts and amperes as shares of rated, at rising temperatures.

    Between two points the current follows a power of the voltage (`slopes`), so that it can be
    read both ways without losing a digit.
    """

    volts: list[float]
    amperes: list[float]
    slopes: list[float]
    kelvins: list[float]


def resistivity(kelvin: float) -> float:
    """Microohm centimetre, straight lines between the rows; 300 to 3600 K."""
    rows = list(RESISTIVITY.items())
    for (t0, rho0), (t1, rho1) in pairwise(rows):
        if kelvin <= t1:
            return rho0 + (rho1 - rho0) * (kelvin - t0) / (t1 - t0)
    return rows[-1][1]


def ratio_to_cold(kelvin: float) -> float:
    """Resistance over that at 300 K."""
    return resistivity(kelvin) / RESISTIVITY[300]


def kelvin_at_ratio(ratio: float) -> float:
    """Filament temperature at a hot to cold ratio; held to 300 and 3600 K."""
    rows = [(kelvin, rho / RESISTIVITY[300]) for kelvin, rho in RESISTIVITY.items()]
    for (t0, r0), (t1, r1) in pairwise(rows):
        if ratio <= r1:
            return max(t0 + (t1 - t0) * (ratio - r0) / (r1 - r0), ROOM_KELVIN)
    return float(rows[-1][0])


@lru_cache(maxsize=64)
def curve(conduction_share: float, rated_kelvin: float = RATED_KELVIN) -> Curve:
    """The lamp's curve for a share of conduction, every 20 K from 2 K above the room."""
    kelvins = [302.0, 310.0, *(float(kelvin) for kelvin in range(320, 3601, 20))]
    volts, amperes = [], []
    for kelvin in kelvins:
        power = _power(kelvin, conduction_share, rated_kelvin)
        ohm = resistivity(kelvin) / resistivity(rated_kelvin)
        volts.append(math.sqrt(power * ohm))
        amperes.append(math.sqrt(power / ohm))
    pairs = zip(pairwise(amperes), pairwise(volts), strict=True)
    slopes = [math.log(i1 / i0) / math.log(v1 / v0) for (i0, i1), (v0, v1) in pairs]
    return Curve(volts, amperes, slopes, kelvins)


def _power(kelvin: float, conduction_share: float, rated_kelvin: float) -> float:
    """Share of the rated power that holds the filament at a temperature."""
    radiated = (kelvin**4 - ROOM_KELVIN**4) / (rated_kelvin**4 - ROOM_KELVIN**4)
    conducted = (kelvin - ROOM_KELVIN) / (rated_kelvin - ROOM_KELVIN)
    return (1 - conduction_share) * radiated + conduction_share * conducted


def _stretch(points: list[float], at: float, slopes: list[float]) -> int:
    """Which stretch of the curve a value lies in; past its end the last one goes on."""
    return min(bisect_right(points, at) - 1, len(slopes) - 1)


def ampere_share(conduction_share: float, volt_share: float) -> float:
    """I/I0 at V/V0. At the very bottom the filament is cold, a plain resistor."""
    found = curve(conduction_share)
    index = _stretch(found.volts, volt_share, found.slopes)
    if index < 0:
        return found.amperes[0] * volt_share / found.volts[0]
    over = volt_share / found.volts[index]
    return found.amperes[index] * math.pow(over, found.slopes[index])


def volt_share(conduction_share: float, ampere: float) -> float:
    """V/V0 at I/I0: the same curve, read the other way."""
    found = curve(conduction_share)
    index = _stretch(found.amperes, ampere, found.slopes)
    if index < 0:
        return found.volts[0] * ampere / found.amperes[0]
    return found.volts[index] * math.pow(ampere / found.amperes[index], 1 / found.slopes[index])


def slope_at(conduction_share: float, volt: float) -> float:
    """The exponent by which the current follows the voltage there; 1 while cold."""
    found = curve(conduction_share)
    index = _stretch(found.volts, volt, found.slopes)
    return 1.0 if index < 0 else found.slopes[index]


def turn(conduction_share: float, supply_share: float, steep: float) -> float:
    """V/V0 at which I (Vs - V)^steep is greatest; on each stretch that is where the law has it."""
    found = curve(conduction_share)
    last = len(found.slopes) - 1

    def is_past(index: int) -> bool:
        volt = found.volts[index]
        return found.slopes[index] * (supply_share - volt) <= steep * volt

    index = bisect_left(range(last + 1), True, key=is_past) - 1
    if index < 0:
        return min(supply_share / (1.0 + steep), found.volts[0])
    best = found.slopes[index] * supply_share / (found.slopes[index] + steep)
    ends = found.volts[index], found.volts[index + 1] if index < last else math.inf
    return min(max(best, ends[0]), ends[1])


def kelvin_at(conduction_share: float, volt: float) -> float:
    """Temperature of the filament at V/V0, held to 300 and 3600 K."""
    found = curve(conduction_share)
    index = _stretch(found.volts, volt, found.slopes)
    if index < 0:
        return ROOM_KELVIN
    v0, v1 = found.volts[index], found.volts[index + 1]
    along = min((volt - v0) / (v1 - v0), 1.0)
    return found.kelvins[index] + (found.kelvins[index + 1] - found.kelvins[index]) * along
