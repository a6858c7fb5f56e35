"""The areas of the bench's arithmetic, in the order in which a tech meets them."""

from __future__ import annotations

from shop.calc.words import gettext_noop as _noop

# The first part of a calculator's name is its area.
AREAS: dict[str, str] = {
    "supplies": _noop("Supplies"),
    "cords": _noop("Cords and wires"),
    "windings": _noop("Windings"),
    "fuses": _noop("Fuses"),
    "voltage_parts": _noop("Parts across the mains"),
    "discharge": _noop("Stored charge"),
    "safety": _noop("Safety check"),
    "series_lamp": _noop("Series lamp"),
    "cells": _noop("Backup cells"),
    "capacitors": _noop("Capacitors"),
    "rails": _noop("Rails and heat"),
    "valves": _noop("Valves"),
    "levels": _noop("Levels"),
    "controls": _noop("Controls"),
    "readings": _noop("Readings"),
    "judging": _noop("Verdicts"),
    "date_codes": _noop("Date codes"),
    "marks": _noop("Marks on parts"),
    "codes": _noop("Codes on tags"),
    "turnaround": _noop("Turnaround"),
}


def key_of(name: str) -> str:
    """The key of a calculator's area: `fuses.scale` is of `fuses`."""
    return name.partition(".")[0]


def area_of(name: str) -> str:
    """The title of a calculator's area: `fuses.scale` is of "Fuses". Raises KeyError."""
    return AREAS[key_of(name)]
