"""Two kinds of blocking diode: the drop at a memory's small currents, and what leaks back."""

from __future__ import annotations

from enum import StrEnum
from math import expm1, log1p
from typing import Final

import msgspec

from shop.calc.words import gettext_noop
from shop.calc.working import Source, Status


class Diode(StrEnum):
    """Kind of blocking diode."""

    SILICON = "silicon"
    SCHOTTKY = "schottky"


DIODE_LABELS = {
    "silicon": gettext_noop("silicon, low leakage"),
    "schottky": gettext_noop("Schottky"),
}


class DiodeLaw(msgspec.Struct, frozen=True):
    """I = Is (e^(V / n Vt) - 1), and the leakage to count on (uA at 25 °C)."""

    saturation_ampere: float
    emission: float
    leakage_ua: float


THERMAL_VOLT: Final = 0.02585
# A Schottky signal diode has 240 mV at 0.1 mA.
_SCHOTTKY_N: Final = 1.35
_SCHOTTKY_IS: Final = 1e-4 / expm1(0.240 / (_SCHOTTKY_N * THERMAL_VOLT))
LAWS: Final = {
    Diode.SILICON: DiodeLaw(2.52e-9, 1.75, 0.025),
    Diode.SCHOTTKY: DiodeLaw(_SCHOTTKY_IS, _SCHOTTKY_N, 10.0),
}
SOURCES: Final = [
    Source("Schottky signal diode: 240 mV at 0.1 mA, 320 at 1 mA, 400 at 10 mA",
           Status.SECOND_HAND, "daycounter.com/LabBook/Minimizing-Diode-Voltage-Drop"),
    Source("its drop below that, with n = 1.35", Status.COMPUTED),
    Source("silicon signal diode: Is 2.52 nA, n 1.75, 25 nA backwards", Status.FROM_MEMORY,
           "textbook circuit model"),
    Source("Schottky leaks 10 µA at 3 V and 25 °C, 50 µA at 40 °C (a large type)",
           Status.SECOND_HAND, "discovercircuits.com/dc-mag/Issue_0311/pg-3.htm"),
]  # fmt: skip


def drop_volt(diode: Diode, ampere: float) -> float:
    """V = n Vt ln(I / Is + 1)."""
    law = LAWS[diode]
    return law.emission * THERMAL_VOLT * log1p(ampere / law.saturation_ampere)


def leakage_ua_at(diode: Diode, celsius: float) -> float:
    """uA backwards; a silicon junction doubles every 10 K, the Schottky goes by its two figures."""
    if diode is Diode.SCHOTTKY:
        return float(LAWS[diode].leakage_ua * 5.0 ** ((celsius - 25.0) / 15.0))
    return float(LAWS[diode].leakage_ua * 2.0 ** ((celsius - 25.0) / 10.0))
