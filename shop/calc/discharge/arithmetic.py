"""The arithmetic of a charged capacitor.

t = R C ln(V0 / Vs), R_max = t / (C ln(V0 / Vs)), E = C V0^2 / 2, Q = C V0, V = V0 exp(-t / RC).
Units: ohm, farad, volt, second, joule, coulomb.
"""

from __future__ import annotations

from math import exp, inf, log
from typing import Final

# Wet aluminium parts give back 10 to 15 % of the volts they had.
ABSORPTION: Final = (0.10, 0.15)


def seconds_to(ohm: float, farad: float, from_volt: float, to_volt: float) -> float:
    """t = R C ln(V0 / Vs); nothing if it is there already."""
    return ohm * farad * log(from_volt / to_volt) if from_volt > to_volt else 0.0


def most_ohm(seconds: float, farad: float, from_volt: float, to_volt: float) -> float:
    """R_max = t / (C ln(V0 / Vs)); without bound if it is there already."""
    return seconds / (farad * log(from_volt / to_volt)) if from_volt > to_volt else inf


def volts_after(seconds: float, ohm: float, farad: float, from_volt: float) -> float:
    """V = V0 exp(-t / RC). An infinite resistance leaves it as it was."""
    return from_volt * exp(-seconds / (ohm * farad))


def energy(farad: float, volt: float) -> float:
    """E = C V^2 / 2, joule."""
    return 0.5 * farad * volt**2


def charge(farad: float, volt: float) -> float:
    """Q = C V, coulomb."""
    return farad * volt


def returning(volt: float) -> tuple[float, float]:
    """Volts that may come back by dielectric absorption after a short discharge."""
    return volt * ABSORPTION[0], volt * ABSORPTION[1]
