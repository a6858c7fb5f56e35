"""Stored charge: how long to wait, through what to discharge, and what comes back.

Safe to touch here is 50 V d.c., stricter than the 60 V of the standards; above 60 V counts as
live.
"""

from shop.calc.discharge import dead_working, plug_pins, stored_charge
from shop.calc.discharge.arithmetic import (
    charge,
    energy,
    most_ohm,
    returning,
    seconds_to,
    volts_after,
)
from shop.calc.discharge.by_resistor import ResistorIn, resistor
from shop.calc.discharge.shared import (
    LIVE_VOLT,
    RECHECK_SECONDS,
    SAFE_VOLT,
    Bleeder,
    cautions,
)
from shop.calc.discharge.waiting import WaitIn, wait

__all__ = [
    "LIVE_VOLT",
    "RECHECK_SECONDS",
    "SAFE_VOLT",
    "Bleeder",
    "ResistorIn",
    "WaitIn",
    "cautions",
    "charge",
    "dead_working",
    "energy",
    "most_ohm",
    "plug_pins",
    "resistor",
    "returning",
    "seconds_to",
    "stored_charge",
    "volts_after",
    "wait",
]
