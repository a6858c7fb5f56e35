"""What a meter can read: each quantity with its unit, the prefixes that make sense, its range."""

from __future__ import annotations

from enum import StrEnum

import msgspec


class Quantity(StrEnum):
    """The quantities a step can ask for."""

    VOLTAGE_DC = "voltage_dc"
    VOLTAGE_AC = "voltage_ac"
    CURRENT_DC = "current_dc"
    CURRENT_AC = "current_ac"
    RESISTANCE = "resistance"
    CAPACITANCE = "capacitance"
    FREQUENCY = "frequency"
    POWER = "power"
    TEMPERATURE = "temperature"
    TIME = "time"
    PERCENT = "percent"
    COUNT = "count"
    INDUCTANCE = "inductance"
    LEVEL = "level"
    RATIO = "ratio"
    SOUND_LEVEL = "sound_level"
    AIR_SPEED = "air_speed"
    AIRFLOW = "airflow"
    ROTATION = "rotation"
    LENGTH = "length"


class QuantityRule(msgspec.Struct, frozen=True):
    """How one quantity is written.

    `unit` is the code kept with a reading, `symbol` what a person sees. `words` are the unit words
    a tech may type (lower case) and the power of ten or the factor they stand for; `marks` are
    letters that may stand in place of the decimal point. `lowest`, `highest` are in `unit`: the SI
    unit, or the trade's own where the way to SI is no exact decimal (dBu, dB, dB(A), m³/h, 1/min).
    """

    unit: str
    symbol: str
    prefixes: str
    words: dict[str, int]
    lowest: float
    highest: float
    marks: dict[str, int] = {}


PREFIX_POWER = {"p": -12, "n": -9, "u": -6, "m": -3, "k": 3, "M": 6, "G": 9}

_VOLT = {"v": 1, "volt": 1, "volts": 1}
_AMPERE = {"a": 1, "amp": 1, "amps": 1}

RULES: dict[Quantity, QuantityRule] = {
    Quantity.VOLTAGE_DC: QuantityRule(
        "V", "V", "numk", _VOLT | {"vdc": 1}, -100_000, 100_000, {"V": 0, "v": 0}
    ),
    Quantity.VOLTAGE_AC: QuantityRule(
        "V", "V", "numk", _VOLT | {"vac": 1}, 0, 100_000, {"V": 0, "v": 0}
    ),
    Quantity.CURRENT_DC: QuantityRule(
        "A", "A", "pnumk", _AMPERE | {"adc": 1}, -10_000, 10_000, {"A": 0, "a": 0}
    ),
    Quantity.CURRENT_AC: QuantityRule(
        "A", "A", "pnumk", _AMPERE | {"aac": 1}, 0, 10_000, {"A": 0, "a": 0}
    ),
    # L for milliohm is the mark of IEC 60062; the lower-case letter looks like a one.
    Quantity.RESISTANCE: QuantityRule(
        "ohm", "Ω", "mkMG", {"ohm": 1, "ohms": 1}, 0, 10**15, {"R": 0, "r": 0, "L": -3}
    ),
    Quantity.CAPACITANCE: QuantityRule(
        "F", "F", "pnum", {"f": 1, "farad": 1}, 0, 10_000, {"F": 0, "f": 0}
    ),
    Quantity.FREQUENCY: QuantityRule("Hz", "Hz", "mkMG", {"hz": 1}, 0, 10**12),
    Quantity.POWER: QuantityRule("W", "W", "numk", {"w": 1, "watt": 1, "watts": 1}, 0, 10**6),
    Quantity.TEMPERATURE: QuantityRule(
        "degC", "°C", "", {"c": 1, "degc": 1, "°c": 1}, -273.15, 4000
    ),
    Quantity.TIME: QuantityRule(
        "s", "s", "num", {"s": 1, "sec": 1, "min": 60, "h": 3600}, 0, 10**9
    ),
    Quantity.PERCENT: QuantityRule("%", "%", "", {"%": 1, "percent": 1}, -1000, 100_000),
    Quantity.COUNT: QuantityRule("1", "", "", {}, 0, 10**9),
    Quantity.INDUCTANCE: QuantityRule(
        "H", "H", "pnum", {"h": 1, "henry": 1}, 0, 10**6, {"H": 0, "h": 0}
    ),
    Quantity.LEVEL: QuantityRule("dBu", "dBu", "", {"dbu": 1}, -200, 100),
    Quantity.RATIO: QuantityRule("dB", "dB", "", {"db": 1}, -300, 300),
    Quantity.SOUND_LEVEL: QuantityRule("dB(A)", "dB(A)", "", {"db(a)": 1, "dba": 1}, -20, 200),
    Quantity.AIR_SPEED: QuantityRule("m/s", "m/s", "", {"m/s": 1}, 0, 500),
    Quantity.AIRFLOW: QuantityRule("m3/h", "m³/h", "", {"m3/h": 1, "m³/h": 1}, 0, 10**6),
    Quantity.ROTATION: QuantityRule("1/min", "1/min", "", {"1/min": 1, "rpm": 1}, 0, 10**6),
    # A bare m is the metre here, and so it is in place of the point: 1m5.
    Quantity.LENGTH: QuantityRule(
        "m", "m", "numk", {"m": 1, "metre": 1, "metres": 1}, 0, 10**6, {"m": 0}
    ),
}
