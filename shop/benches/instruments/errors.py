"""What can go wrong between a PC and an instrument. Each carries one sentence for the tech."""

from __future__ import annotations


class InstrumentTrouble(Exception):
    """No reading could be had. The text is for people."""


class LibraryMissing(InstrumentTrouble):
    """What talks to instruments is not installed on this PC."""


class CannotOpen(InstrumentTrouble):
    """Nothing is there, or the PC may not open it."""


class NoAnswer(InstrumentTrouble):
    """Silence, or a line that was cut off."""


class Garbage(InstrumentTrouble):
    """An answer that is none."""


class WrongFunction(InstrumentTrouble):
    """The instrument is set to something else, or cannot read what was asked for."""


class InstrumentRefused(InstrumentTrouble):
    """The instrument put an error of its own into its queue."""
