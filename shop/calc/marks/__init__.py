"""What is marked on resistors and capacitors: colours, letters in place of the point, codes.

The same mark can mean more than one value; then every way to read it is told.
"""

from shop.calc.marks.capacitor import CapacitorMark, CapacitorMarkIn, capacitor
from shop.calc.marks.capacitor_ways import CapacitorWay
from shop.calc.marks.resistor import ResistorMark, ResistorMarkIn, ResistorWay, resistor
from shop.calc.marks.resistor_colours import (
    ColourBandsIn,
    ColourReading,
    ResistorColours,
    resistor_colours,
)

__all__ = [
    "CapacitorMark",
    "CapacitorMarkIn",
    "CapacitorWay",
    "ColourBandsIn",
    "ColourReading",
    "ResistorColours",
    "ResistorMark",
    "ResistorMarkIn",
    "ResistorWay",
    "capacitor",
    "resistor",
    "resistor_colours",
]
