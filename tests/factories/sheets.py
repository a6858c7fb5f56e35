"""A model sheet that knows everything the job templates ask for. Make and model are invented."""

from __future__ import annotations

from typing import Any

SECTIONS = [
    {"name": "A", "start": "1", "finish": "2", "rated_volt": 115, "rated_ampere": 0.08},
    {"name": "B", "start": "3", "finish": "4", "rated_volt": 115, "rated_ampere": 0.08},
]


def full_sheet(**changes: Any) -> dict[str, Any]:
    """An effects unit of 1992: dual primary, 80 mA on 230 V, a memory kept by two AA cells."""
    sheet: dict[str, Any] = {
        "make": "Nebelhorn",
        "model": "Echo 92",
        "kind": "effects unit",
        "year_from": 1991,
        "supply_kind": "linear",
        "protection_class": "I",
        "rated_watt": 14,
        "idle_watt": 9,
        "features": ["battery_logic"],
        "primary": {
            "sections": SECTIONS,
            "plate_volt": 230,
            "plate_hz": [50, 60],
            "resistances": [{"name": "section A", "from": "1", "to": "2", "ohm": 92}],
        },
        "supplies": [
            {
                "volt": 230, "name": "230 V", "links": [["2", "3"]], "line_terminals": ["1", "4"],
                "fuse": "T80mAL250V", "fuse_source": "rating plate",
            },
            {
                "volt": 115, "name": "115 V", "links": [["1", "3"], ["2", "4"]],
                "line_terminals": ["1", "2"], "fuse": None, "fuse_source": "",
            },
        ],
        "secondaries": [
            {"name": "9 V winding", "rated_volt": 9, "is_heater": False, "regulation_percent": 12}
        ],
        "rails": [{"name": "+5 V", "volt": 5, "low": 4.85, "high": 5.15, "ripple_millivolt": 20}],
        "reservoirs": [
            {"name": "C1", "volt": 16, "farad": 0.0022, "bleeder_ohm": 1000},
            {"name": "C2", "volt": 320, "farad": 0.000047, "bleeder_ohm": 220000},
        ],
        "cell": {
            "fitted": "2xLR6", "replacement": "2xLR6", "rechargeable": False,
            "charged_by_board": False, "low_ua": 1, "high_ua": 6, "memory_volt": 2.0,
            "diode_volt": 0.3, "resistor_ohm": 1000, "supply_pin": "pin 28 of the memory",
        },
        "mains_parts": [
            {"kind": "x_capacitor", "name": "C101", "rated_volt": 250, "capacitance_farad": 1e-7,
             "rating_class": "X2"},
            {"kind": "thermal_link", "name": "link in the transformer"},
        ],
        "channels": [
            {"name": "left", "input_dbu": 4, "output_dbu": 4, "noise_dbu": -80, "hum_dbu": -84,
             "crosstalk_db": -60},
            {"name": "right", "input_dbu": 4, "output_dbu": 4, "noise_dbu": -80},
        ],
        "electrolytics": [
            {"name": "C1", "farad": 0.0022, "volt": 25, "kind": "aluminium"},
            {"name": "C31", "farad": 0.00001, "volt": 25, "kind": "bipolar", "place": "output"},
        ],
        "valves": [
            {"name": "V1", "type": "double triode", "heater_volt": 6.3, "heater_ampere": 0.3,
             "heater_supply": "ac", "plate_volt": 220, "plate_max_watt": 1, "cathode_ohm": 1500,
             "cathode_low_volt": 1.2, "cathode_high_volt": 1.9},
        ],
        "controls": [
            {"name": "program", "kind": "encoder", "detents": 24},
            {"name": "level", "kind": "fader", "ohm": 10000},
            {"name": "bypass", "kind": "switch"},
        ],
        "reset_procedure": "Hold the two left buttons while switching on.",
        "serial_rule": "{year2}{any}",
    }  # fmt: skip
    return {**sheet, **changes}
