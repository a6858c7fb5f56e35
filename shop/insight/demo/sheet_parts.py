"""Pieces from which the demo's model sheets are put together, in the shapes calculators take."""

from __future__ import annotations

from typing import Any

Facts = dict[str, Any]


def two_halves(volt: float, ohm: float, *, ampere: float | None = None) -> Facts:
    """A primary of two equal sections: 1-2 and 3-4, dots at 1 and 3."""
    names = (("A", "1", "2"), ("B", "3", "4"))
    return {
        "sections": [
            {"name": n, "start": s, "finish": f, "rated_volt": volt, "rated_ampere": ampere}
            for n, s, f in names
        ],
        "plate_volt": 2 * volt,
        "plate_hz": [50, 60],
        "resistances": [
            {"name": f"section {n}", "from": s, "to": f, "ohm": ohm} for n, s, f in names
        ],
    }


def tapped(taps: list[tuple[str, float]], volt: float, ohm: float) -> Facts:
    """A primary of one section from 1 to 9 with taps."""
    return {
        "sections": [
            {
                "name": "A",
                "start": "1",
                "finish": "9",
                "rated_volt": volt,
                "taps": [{"terminal": terminal, "volt": at} for terminal, at in taps],
            }
        ],
        "plate_volt": volt,
        "plate_hz": [50, 60],
        "resistances": [{"name": "whole primary", "from": "1", "to": "9", "ohm": ohm}],
    }


def in_series(volt: int, fuse: str | None, source: str = "rating plate") -> Facts:
    """The maker's setting of two halves for the higher supply."""
    return _supply(volt, [["2", "3"]], ["1", "4"], fuse, source)


def in_parallel(volt: int, fuse: str | None, source: str = "rating plate") -> Facts:
    """The maker's setting of two halves for the lower supply."""
    return _supply(volt, [["1", "3"], ["2", "4"]], ["1", "2"], fuse, source)


def at_tap(volt: int, terminal: str, fuse: str | None, source: str = "service sheet") -> Facts:
    return _supply(volt, [], ["1", terminal], fuse, source)


def _supply(
    volt: int, links: list[list[str]], line: list[str], fuse: str | None, source: str
) -> Facts:
    return {
        "volt": volt,
        "name": f"{volt} V",
        "links": links,
        "line_terminals": line,
        "fuse": fuse,
        "fuse_source": source if fuse else "",
    }


def winding(name: str, volt: float, *, heater: bool = False, regulation: float = 12) -> Facts:
    return {
        "name": name, "rated_volt": volt, "is_heater": heater, "regulation_percent": regulation,
    }  # fmt: skip


def rail(name: str, volt: float, *, percent: float = 5, ripple: float = 10) -> Facts:
    low, high = sorted((volt * (1 - percent / 100), volt * (1 + percent / 100)))
    return {
        "name": name,
        "volt": volt,
        "low": round(low, 3),
        "high": round(high, 3),
        "ripple_millivolt": ripple,
    }


def reservoir(name: str, volt: float, microfarad: float, bleeder_ohm: float | None) -> Facts:
    return {
        "name": name,
        "volt": volt,
        "farad": round(microfarad * 1e-6, 9),
        "bleeder_ohm": bleeder_ohm,
    }


def electrolytic(name: str, microfarad: float, volt: float, **more: Any) -> Facts:
    """An aluminium electrolytic unless `kind` says otherwise."""
    farad = round(microfarad * 1e-6, 9)
    return {"name": name, "farad": farad, "volt": volt, "kind": "aluminium", **more}


def channel(name: str, level: float, *, noise: float = -80, **more: float) -> Facts:
    """A channel with the same level in dBu at its input and its output."""
    return {"name": name, "input_dbu": level, "output_dbu": level, "noise_dbu": noise, **more}


def control(name: str, kind: str, **more: float) -> Facts:
    return {"name": name, "kind": kind, **more}


def cell(fitted: str, replacement: str, low_ua: float, high_ua: float, **more: Any) -> Facts:
    """A backup cell; by default a primary one behind a diode that the board does not charge."""
    usual = {
        "rechargeable": False,
        "charged_by_board": False,
        "memory_volt": 2.0,
        "hold_volt": 2.0,
        "diode_volt": 0.3,
        "resistor_ohm": 1000,
        "supply_pin": "pin 28 of the memory",
    }
    own = {"fitted": fitted, "replacement": replacement, "low_ua": low_ua, "high_ua": high_ua}
    return {**own, **usual, **more}


def varistor(volt: int) -> Facts:
    return {"kind": "varistor", "name": f"varistor {volt} V", "rated_volt": volt}


def x_capacitor(nanofarad: float, volt: int) -> Facts:
    return {
        "kind": "x_capacitor",
        "name": "capacitor across the line",
        "rated_volt": volt,
        "capacitance_farad": round(nanofarad * 1e-9, 12),
        "rating_class": "X2",
    }


def y_capacitor(nanofarad: float, volt: int) -> Facts:
    return {
        "kind": "y_capacitor",
        "name": "capacitor line to chassis",
        "rated_volt": volt,
        "capacitance_farad": round(nanofarad * 1e-9, 12),
        "rating_class": "Y2",
    }


def switch(volt: int, ampere: float) -> Facts:
    return {
        "kind": "switch", "name": "mains switch", "rated_volt": volt, "rated_ampere": ampere,
    }  # fmt: skip


THERMAL_LINK: Facts = {"kind": "thermal_link", "name": "thermal link in the primary"}
SELECTOR: Facts = {"kind": "selector", "name": "voltage selector"}
PLATE: Facts = {"kind": "rating_plate", "name": "rating plate"}
