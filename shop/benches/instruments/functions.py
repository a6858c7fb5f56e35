"""What an instrument can read: the words of SCPI beside the quantities of a reading.

Source of the headers: SCPI-1999 volume 2, MEASure and SENSe:FUNCtion; of the units: its volume 1,
7.4: answers come in base units (V, A, OHM, HZ, S, F), temperatures in the unit of UNIT:TEMPerature.
"""

from __future__ import annotations

from typing import Final

import msgspec

from shop.calc.quantities import Quantity


class Function(msgspec.Struct, frozen=True):
    """One thing an instrument reads. `key` is its name on the command line."""

    key: str
    header: str  # short form, after MEASure: and in answers of SENSe:FUNCtion?
    quantity: Quantity
    long_header: str

    @property
    def asked(self) -> str:
        """The query that sets the instrument to this function and reads it once."""
        return f"MEAS:{self.header}?"


def _same(quantity: Quantity, header: str, long_header: str) -> Function:
    return Function(quantity.value, header, quantity, long_header)


FUNCTIONS: Final = (
    _same(Quantity.VOLTAGE_DC, "VOLT:DC", "VOLTAGE:DC"),
    _same(Quantity.VOLTAGE_AC, "VOLT:AC", "VOLTAGE:AC"),
    _same(Quantity.CURRENT_DC, "CURR:DC", "CURRENT:DC"),
    _same(Quantity.CURRENT_AC, "CURR:AC", "CURRENT:AC"),
    _same(Quantity.RESISTANCE, "RES", "RESISTANCE"),
    Function("resistance_four_wire", "FRES", Quantity.RESISTANCE, "FRESISTANCE"),
    _same(Quantity.FREQUENCY, "FREQ", "FREQUENCY"),
    Function("period", "PER", Quantity.TIME, "PERIOD"),
    _same(Quantity.CAPACITANCE, "CAP", "CAPACITANCE"),
    _same(Quantity.TEMPERATURE, "TEMP", "TEMPERATURE"),
    Function("diode", "DIOD", Quantity.VOLTAGE_DC, "DIODE"),
)
BY_KEY: Final = {function.key: function for function in FUNCTIONS}
# DC is the default node of VOLTage and CURRent and may be left out: SCPI-1999 volume 1, 6.2.
_DEFAULTS: Final = {
    "VOLT": "VOLT:DC",
    "CURR": "CURR:DC",
    "VOLTAGE": "VOLT:DC",
    "CURRENT": "CURR:DC",
}


def function_named(said: str) -> Function | None:
    """The function in an answer of SENSe:FUNCtion?, as `"VOLT:DC"` or `"SENS:VOLT 1"`."""
    word = said.strip().strip("\"'").upper().partition(" ")[0]
    word = word.removeprefix(":").removeprefix("SENSE:").removeprefix("SENS:")
    word = _DEFAULTS.get(word, word)
    return next((one for one in FUNCTIONS if word in (one.header, one.long_header)), None)
