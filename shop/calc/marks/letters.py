"""Letters and codes on parts: tolerance, rated voltage, and whether a value is a preferred one."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

import msgspec

from shop.calc.preferred_values import MEMBERS
from shop.calc.working import Source, Status


class Tolerance(msgspec.Struct, frozen=True):
    """Limits around a value: per cent of it, or a fixed capacitance below 10 pF."""

    low_percent: float | None
    high_percent: float | None
    plus_minus_farad: float | None = None


# Per cent either way.
EVEN_PERCENT: Final[dict[str, float]] = {
    "B": 0.1, "C": 0.25, "D": 0.5, "F": 1.0, "G": 2.0, "J": 5.0, "K": 10.0, "M": 20.0,
    "N": 30.0, "W": 0.05, "P": 0.02, "L": 0.01, "E": 0.005,
}  # fmt: skip
# Per cent down and up, for capacitors.
UNEVEN_PERCENT: Final[dict[str, tuple[float, float]]] = {
    "Q": (10.0, 30.0), "T": (10.0, 50.0), "S": (20.0, 50.0), "Z": (20.0, 80.0),
}  # fmt: skip
# Either way, for capacitors below 10 pF.
SMALL_FARAD: Final[dict[str, float]] = {"B": 1e-13, "C": 2.5e-13, "D": 5e-13, "F": 1e-12}
SMALL_BELOW_FARAD: Final = 1e-11
TOLERANCE_LETTERS: Final = "".join([*EVEN_PERCENT, *UNEVEN_PERCENT])
RATED_VOLT: Final[dict[str, float]] = {
    "0G": 4.0, "0J": 6.3, "1A": 10.0, "1C": 16.0, "1E": 25.0, "1V": 35.0, "1H": 50.0, "1J": 63.0,
    "1N": 75.0, "2A": 100.0, "2C": 160.0, "2D": 200.0, "2E": 250.0, "2V": 350.0, "2G": 400.0,
    "2W": 450.0, "2H": 500.0,
}  # fmt: skip


def tolerance_of_capacitor(letter: str | None, farad: float) -> Tolerance | None:
    """What a tolerance letter says about a capacitance; None without a letter."""
    if letter is None:
        return None
    if farad < SMALL_BELOW_FARAD and letter in SMALL_FARAD:
        return Tolerance(None, None, SMALL_FARAD[letter])
    if letter in UNEVEN_PERCENT:
        return Tolerance(*UNEVEN_PERCENT[letter])
    return Tolerance(EVEN_PERCENT[letter], EVEN_PERCENT[letter])


def is_preferred(text: str) -> bool:
    """Whether the digits of a canonical decimal are of E24 or of E192 (IEC 60063)."""
    digits = "".join(str(digit) for digit in Decimal(text).as_tuple().digits).strip("0")
    return int(f"{digits:0<3}"[:3]) in _PREFERRED if 0 < len(digits) <= 3 else False


_PREFERRED: Final = frozenset([*(10 * member for member in MEMBERS["E24"]), *MEMBERS["E192"]])

TOLERANCE_SOURCE: Final = Source(
    "tolerance letters B C D F G J K M, in picofarad below 10 pF", Status.SECOND_HAND,
    "IEC 60062 as used in a film resistor sheet (Metal_Film_Res_data.pdf) and a table of marks",
)  # fmt: skip
TOLERANCE_MEMORY: Final = Source(
    "tolerance letters W P L E N and Q T S Z", Status.FROM_MEMORY, "IEC 60062"
)
VOLTAGE_SOURCE: Final = Source(
    "voltage codes 0G 0J 1A 1C 1E 1V 1H 1N 2A 2D 2E 2H", Status.SECOND_HAND,
    "a table of marks for parts lists",
)  # fmt: skip
VOLTAGE_MEMORY: Final = Source("voltage codes 1J 2C 2V 2G 2W", Status.FROM_MEMORY)
