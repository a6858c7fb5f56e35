"""Letters of IEC 60086 designations: the system of a cell, its volts, and its size codes."""

from __future__ import annotations

from typing import Final

import msgspec

from shop.calc.words import gettext_noop
from shop.calc.working import Source, Status


class System(msgspec.Struct, frozen=True):
    """One electrochemical system. Volts of one cell; `open_volt` is the highest when fresh."""

    title: str
    nominal_volt: float
    open_volt: float | None
    is_rechargeable: bool = False
    is_lithium: bool = False


# The letter before the shape. Volts as in SOURCES; the two without open volts are withdrawn.
SYSTEMS: Final[dict[str, System]] = {
    "": System(gettext_noop("zinc and manganese dioxide (carbon-zinc)"), 1.5, 1.73),
    "B": System(gettext_noop("lithium and carbon monofluoride"), 3.0, 3.7, is_lithium=True),
    "C": System(gettext_noop("lithium and manganese dioxide"), 3.0, 3.7, is_lithium=True),
    "E": System(gettext_noop("lithium and thionyl chloride"), 3.6, 3.9, is_lithium=True),
    "F": System(gettext_noop("lithium and iron disulphide"), 1.5, 1.83, is_lithium=True),
    "L": System(gettext_noop("alkaline: zinc and manganese dioxide"), 1.5, 1.68),
    "P": System(gettext_noop("zinc and oxygen of the air"), 1.4, 1.68),
    "S": System(gettext_noop("zinc and silver oxide"), 1.55, 1.63),
    "M": System(gettext_noop("zinc and mercuric oxide, withdrawn"), 1.35, None),
    "N": System(gettext_noop("zinc and mercuric oxide with manganese, withdrawn"), 1.4, None),
    "H": System(gettext_noop("nickel metal hydride"), 1.2, None, is_rechargeable=True),
    "K": System(gettext_noop("nickel cadmium"), 1.2, None, is_rechargeable=True),
}
SHAPES: Final = {"R": gettext_noop("round"), "F": gettext_noop("flat"), "S": gettext_noop("square")}

# Diameter code: whole millimetres, rounded down. The real diameter comes from the standard's table.
DIAMETERS: Final = {
    4: 4.8, 5: 5.8, 6: 6.8, 7: 7.9, 9: 9.5, 10: 10.0, 11: 11.6, 12: 12.5, 14: 14.5, 16: 16.0,
    17: 17.0, 20: 20.0, 23: 23.0, 24: 24.5, 30: 30.0,
}  # fmt: skip
# Size numbers that do not tell the size: (diameter, height), highest, mm.
SIZES: Final = {
    "03": (10.5, 44.5), "1": (12.0, 30.2), "6": (14.5, 50.5), "14": (26.2, 50.0),
    "20": (34.2, 61.5), "41": (7.9, 3.6), "43": (11.6, 4.2), "44": (11.6, 5.4),
    "48": (7.9, 5.4), "54": (11.6, 3.05), "61": (7.8, 39.0),
}  # fmt: skip

_SEEN = Status.SECOND_HAND
SOURCES: Final = [
    Source("letters, highest open-circuit volts", Status.FROM_MEMORY, "IEC 60086-1"),
    Source("3.0 V of letter C, R for round", _SEEN, "en.wikipedia.org/wiki/CR2032_battery"),
    Source("1.35 V of letter M, 1.55 V of letter S", _SEEN,
           "wiki-gateway.eudic.net/wikipedia_en/SR44.html"),
    Source("1.2 V of nickel cells", _SEEN, "wikiwand.com/en/articles/21700_battery"),
    Source("diameter code rounded down, height in 0.1 mm; 9 is 9.5 mm", _SEEN,
           "business03.blogspot.com/2013/01/views-of-button-cell-battery.html"),
    Source("24 is 24.5 mm", _SEEN, "m.maimaib2b.com/Product/1257943.html; components101.com"),
    Source("the other diameters and size numbers", Status.FROM_MEMORY, "IEC 60086-2"),
]  # fmt: skip

# Names of the trade that are no designation, and what to look for.
TRADE_NAMES: Final = {
    "AA": "LR6, R6, FR6, HR6",
    "AAA": "LR03, R03, FR03, HR03",
    "C": "LR14, R14, HR14",
    "D": "LR20, R20, HR20",
    "N": "LR1, R1",
    "PP3": "6LR61, 6F22",
    "9V": "6LR61, 6F22",
    "1/2AA": "CR14250, ER14250",
    "CR1/2AA": "CR14250",
    "CR123A": "CR17345",
}
