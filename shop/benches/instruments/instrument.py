"""One instrument that speaks SCPI: who it is, what it is set to, what it reads.

Each answer is checked against the standard it comes from; a line that was cut off spoils the
connection, since its other half would pass for part of the next answer.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from typing import Final

import msgspec

from shop.benches.instruments.errors import (
    CannotOpen,
    Garbage,
    InstrumentRefused,
    InstrumentTrouble,
    NoAnswer,
    WrongFunction,
)
from shop.benches.instruments.functions import Function, function_named
from shop.benches.instruments.visa import Line
from shop.calc.quantities import Quantity
from shop.calc.readings import Reading, reading_said
from shop.calc.words import _
from shop.calc.working import BadInput

MOST_ERRORS: Final = 20  # SCPI leaves the depth of the queue open; a broken one never ends
# <error number>,"<text>": SCPI-1999 volume 2, 21.8 (SYSTem:ERRor).
_ERROR = re.compile(r'\s*([+-]?[0-9]{1,5})\s*,\s*"(.*)"\s*', re.ASCII)


class Identity(msgspec.Struct, frozen=True):
    """The four fields of *IDN?: IEEE 488.2-1992, 10.14."""

    maker: str
    model: str
    serial: str
    firmware: str


class Said(msgspec.Struct, frozen=True):
    """One reading: the words of the instrument, and what they come to."""

    function: Function
    text: str
    reading: Reading


class Instrument:
    """Talks to one instrument; `connect` opens the line, again after it was spoiled."""

    def __init__(self, connect: Callable[[], Line]) -> None:
        self._connect = connect
        self._line: Line | None = None
        self._begun = False

    def identify(self) -> Identity:
        """Who it is. Raises InstrumentTrouble."""
        said = self._ask("*IDN?")
        fields = [field.strip() for field in said.split(",")]
        if len(fields) < 2 or not said.isprintable():
            raise Garbage(_("“{said}” does not say who the instrument is.", said=_short(said)))
        fields += ["0"] * (4 - len(fields))  # the standard's own word for a field that is unknown
        return Identity(fields[0], fields[1], fields[2], ",".join(fields[3:]))

    def measure(self, function: Function) -> Said:
        """Set the instrument to a function and read once. Raises InstrumentTrouble."""
        if function.quantity is Quantity.TEMPERATURE:
            self._use_celsius()
        return self._read(function.asked, function)

    def read_as_set(self) -> Said:
        """Read once, as somebody set it by its keys. Raises InstrumentTrouble."""
        said = self._ask("SENS:FUNC?")
        function = function_named(said)
        if function is None:
            raise WrongFunction(
                _("The instrument is set to {said}: no reading is made of that.", said=_short(said))
            )
        if function.quantity is Quantity.TEMPERATURE:
            self._use_celsius()
        return self._read("READ?", function)

    def close(self) -> None:
        """Leave the instrument alone. May be called more than once."""
        line, self._line = self._line, None
        if line is not None:
            with suppress(Exception):  # a line that broke cannot be closed in peace
                line.close()

    def _read(self, query: str, function: Function) -> Said:
        text = self._ask(query)
        try:
            reading = reading_said(text, function.quantity)
        except BadInput as bad:
            self.close()
            if refused := self._refusal():
                raise refused from bad
            raise Garbage(bad.reason) from bad
        self._require_no_error()
        return Said(function, text.strip(), reading)

    def _use_celsius(self) -> None:
        """SCPI-1999 volume 2, UNIT:TEMPerature: readings come in the unit that was set."""
        self._write("UNIT:TEMP CEL")
        self._require_no_error()

    def _ask(self, query: str) -> str:
        self._write(query)
        try:
            return self._open_line().read()
        except UnicodeDecodeError as error:
            self.close()
            raise Garbage(_("The instrument sent what is no text.")) from error
        except Exception as error:  # PyVISA's, or of the socket, port or plug below it
            self.close()
            raise self._refusal() or _no_answer(query) from error

    def _write(self, message: str) -> None:
        try:
            self._open_line().write(message)
        except InstrumentTrouble:
            raise
        except Exception as error:  # as above
            self.close()
            raise NoAnswer(_("The line to the instrument broke.")) from error

    def _open_line(self) -> Line:
        """The line. The first begins with an empty queue of errors (*CLS: IEEE 488.2-1992, 10.3);
        on a later one the queue tells why the line before broke."""
        if self._line is None:
            self._line = self._connect()
            if not self._begun:
                self._line.write("*CLS")
                self._begun = True
        return self._line

    def _require_no_error(self) -> None:
        """Raises the first error in the instrument's queue, and empties it."""
        first: InstrumentTrouble | None = None
        for _turn in range(MOST_ERRORS):
            number, text = self._next_error()
            if number == 0:
                break
            first = first or _refused(number, text)
        if first:
            raise first

    def _refusal(self) -> InstrumentTrouble | None:
        """Why it would not answer, if it says so on a fresh line."""
        try:
            self._require_no_error()
        except (InstrumentRefused, WrongFunction) as refused:
            return refused
        except (CannotOpen, NoAnswer, Garbage):
            self.close()
        return None

    def _next_error(self) -> tuple[int, str]:
        try:
            line = self._open_line()
            line.write("SYST:ERR?")
            said = line.read()
        except CannotOpen:
            raise
        except Exception as error:
            self.close()
            raise _no_answer("SYST:ERR?") from error
        found = _ERROR.fullmatch(said)
        if not found:
            self.close()
            raise Garbage(_("“{said}” is no entry of an error queue.", said=_short(said)))
        return int(found[1]), found[2]


def _refused(number: int, text: str) -> InstrumentTrouble:
    """-113 is an undefined header, all of -1xx command errors: SCPI-1999 volume 2, 21.8.9."""
    if -199 <= number <= -100:
        return WrongFunction(
            _("The instrument cannot do this ({number}, {text}).", number=number, text=_short(text))
        )
    return InstrumentRefused(
        _("The instrument reports {number}: {text}", number=number, text=_short(text))
    )


def _no_answer(query: str) -> NoAnswer:
    return NoAnswer(_("The instrument gave no whole answer to {query} in time.", query=query))


def _short(text: str) -> str:
    """What came over the line, fit to be printed."""
    return "".join(c if c.isprintable() else "?" for c in text.strip())[:60]
