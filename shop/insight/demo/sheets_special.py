"""Model sheets of invented units that need more care: valves, live chassis, switch-mode."""

from __future__ import annotations

from typing import Final

from shop.insight.demo.sheet_parts import (
    PLATE,
    SELECTOR,
    Facts,
    at_tap,
    cell,
    channel,
    control,
    electrolytic,
    in_parallel,
    in_series,
    rail,
    reservoir,
    switch,
    tapped,
    two_halves,
    varistor,
    winding,
    x_capacitor,
    y_capacitor,
)  # fmt: skip

SWITCH_MODE: Final[Facts] = {
    "make": "Tarnwick",
    "model": "Schaltecho S1",
    "kind": "digital delay",
    "year_from": 1996,
    "supply_kind": "switch_mode",
    "rated_watt": 30,
    "idle_watt": 21,
    "idle_watt_source": "measured here on a sound unit",
    "features": ["battery_logic"],
    "supplies": [
        {"volt": 230, "name": "100 to 240 V", "links": [], "line_terminals": ["L", "N"],
         "fuse": "T1AL250V", "fuse_source": "rating plate"},
    ],
    "rails": [rail("+5 V", 5), rail("+12 V", 12), rail("-12 V", -12)],
    "reservoirs": [reservoir("C2 primary", 325, 68, 220000)],
    "cell": cell("CR2032", "CR2032", 0.8, 3),
    "mains_parts": [varistor(275), x_capacitor(220, 275), y_capacitor(2.2, 250)],
    "channels": [channel("left", 4, noise=-86), channel("right", 4, noise=-86)],
    "electrolytics": [
        electrolytic("C2", 68, 400, place="primary side"), electrolytic("C14", 1000, 10),
        electrolytic("C15", 470, 25), electrolytic("C16", 470, 25),
    ],
    "controls": [
        control("time", "encoder", detents=24), control("mix", "potentiometer", ohm=10000),
    ],
    "hazards": ["high_voltage"],
    "serial_rule": "{year2}{digits}",
}  # fmt: skip

VALVE_AMPLIFIER: Final[Facts] = {
    "make": "Brindlow",
    "model": "Glutkasten 50",
    "kind": "valve amplifier",
    "year_from": 1964,
    "year_to": 1971,
    "supply_kind": "linear",
    "rated_watt": 150,
    "idle_watt": 95,
    "idle_watt_source": "service sheet",
    "features": ["valve_rectifier"],
    "hazards": ["high_voltage", "asbestos"],
    "primary": tapped([("3", 110), ("5", 130), ("7", 220)], 240, 6.5),
    "supplies": [
        at_tap(110, "3", "T2AL250V"), at_tap(220, "7", "T1AL250V"), at_tap(240, "9", "T1AL250V"),
    ],
    "secondaries": [
        winding("heaters", 6.3, heater=True), winding("rectifier heater", 5, heater=True),
        winding("high voltage", 350, regulation=8),
    ],
    "rails": [rail("anode supply", 440, percent=8, ripple=2000), rail("bias", -45, percent=8)],
    "reservoirs": [
        reservoir("C1 anode", 460, 47, 220000), reservoir("C2 screen", 440, 47, 220000),
        reservoir("C7 bias", 60, 100, 47000),
    ],
    "channels": [channel("speaker output", 30, noise=-50, hum_dbu=-46)],
    "electrolytics": [
        electrolytic("C1", 47, 500), electrolytic("C2", 47, 500),
        electrolytic("C7", 100, 100, place="bias supply"),
        electrolytic("C12", 25, 25, place="cathode of V1"),
    ],
    "valves": [
        {"name": "V1", "type": "double triode", "heater_volt": 6.3, "heater_ampere": 0.3,
         "heater_supply": "ac", "plate_volt": 220, "plate_max_watt": 1, "cathode_ohm": 1500,
         "cathode_low_volt": 1.2, "cathode_high_volt": 1.9},
        {"name": "V2", "type": "double triode", "heater_volt": 6.3, "heater_ampere": 0.3,
         "heater_supply": "ac", "plate_volt": 250, "plate_max_watt": 1},
        *({"name": name, "type": "beam tetrode", "heater_volt": 6.3, "heater_ampere": 0.9,
           "heater_supply": "ac", "plate_volt": 430, "plate_max_watt": 19, "cathode_ohm": 10,
           "cathode_low_volt": 0.28, "cathode_high_volt": 0.38} for name in ("V3", "V4")),
        {"name": "V5", "type": "rectifier", "heater_volt": 5, "heater_ampere": 2,
         "heater_supply": "ac"},
    ],
    "controls": [
        control("volume", "potentiometer", ohm=1_000_000), control("standby", "switch"),
        *(control(name, "potentiometer", ohm=500_000) for name in ("bass", "treble")),
    ],
    "mains_parts": [y_capacitor(10, 250), switch(250, 3), SELECTOR, PLATE],
}  # fmt: skip

LIVE_CHASSIS: Final[Facts] = {
    "make": "Ombrell",
    "model": "Tischradio T4",
    "kind": "table radio",
    "year_from": 1955,
    "year_to": 1960,
    "supply_kind": "linear",
    "protection_class": "0",
    "two_wire": True,
    "rated_watt": 45,
    "features": ["valve_rectifier"],
    "hazards": ["live_chassis", "high_voltage", "tube_high_voltage"],
    "rails": [rail("anode supply", 200, percent=10, ripple=3000)],
    "reservoirs": [reservoir("C1 anode", 250, 50, None)],
    "electrolytics": [electrolytic("C1", 50, 350), electrolytic("C9", 25, 25)],
    "valves": [
        {"name": "V4", "type": "triode pentode", "heater_volt": 16, "heater_ampere": 0.3,
         "heater_supply": "ac", "plate_volt": 190, "plate_max_watt": 7, "cathode_ohm": 270,
         "cathode_low_volt": 9, "cathode_high_volt": 13},
        {"name": "V5", "type": "rectifier", "heater_volt": 19, "heater_ampere": 0.3,
         "heater_supply": "ac"},
    ],
    "mains_parts": [switch(250, 1)],
    "cord_length_m": 1.5,
    "note": "One side of the mains is on the chassis. Work on it behind an isolating transformer.",
}  # fmt: skip

DRUM_MACHINE: Final[Facts] = {
    "make": "Fennimar",
    "model": "Rhythmus R2",
    "kind": "drum machine",
    "year_from": 1986,
    "supply_kind": "external",
    "protection_class": "III",
    "rated_watt": 6,
    "features": ["battery_logic"],
    "rails": [rail("+5 V", 5), rail("+9 V", 9, percent=10)],
    "cell": cell("2xLR6", "2xLR6", 6, 20, diode_volt=0.6),
    "electrolytics": [electrolytic("C3", 470, 16), electrolytic("C8", 10, 16)],
    "controls": [control("tempo", "encoder", detents=24), control("level", "fader", ohm=20000)],
    "reset_procedure": "Hold CLEAR while plugging in the supply.",
    "known_faults": [
        {"fault": "Forgets its patterns: two AA cells.", "template": "backup-cell-swap"},
    ],
}  # fmt: skip

TAPE_ECHO: Final[Facts] = {
    "make": "Tarnwick",
    "model": "Bandecho B3",
    "kind": "tape echo",
    "year_from": 1972,
    "year_to": 1978,
    "supply_kind": "linear",
    "rated_watt": 38,
    "idle_watt": 30,
    "idle_watt_source": "service sheet",
    "features": ["motor"],
    "primary": two_halves(115, 34),
    "supplies": [in_series(230, "T200mAL250V"), in_parallel(115, "T400mAL250V")],
    "secondaries": [winding("audio", 22)],
    "rails": [rail("+24 V", 24)],
    "reservoirs": [reservoir("C1", 32, 2200, 4700)],
    "channels": [channel("output", -10, noise=-58, hum_dbu=-60)],
    "electrolytics": [
        electrolytic("C1", 2200, 40), electrolytic("C5", 4.7, 25, place="playback amplifier"),
    ],
    "mains_parts": [
        {"kind": "motor", "name": "tape motor"}, x_capacitor(100, 250), switch(250, 1), SELECTOR,
    ],
}  # fmt: skip

TUNER: Final[Facts] = {
    "make": "Brindlow",
    "model": "Empfänger E9",
    "kind": "tuner",
    "year_from": 1981,
    "year_to": 1987,
    "supply_kind": "linear",
    "protection_class": "II",
    "two_wire": True,
    "rated_watt": 12,
    "idle_watt": 10,
    "idle_watt_source": "measured here on a sound unit",
    "features": ["battery_logic"],
    "primary": two_halves(110, 210),
    "supplies": [in_series(220, "T100mAL250V"), in_parallel(110, "T200mAL250V")],
    "secondaries": [winding("supply", 14)],
    "rails": [rail("+12 V", 12), rail("+5 V", 5)],
    "reservoirs": [reservoir("C1", 20, 2200, 4700)],
    "channels": [channel("left", -8, crosstalk_db=-34), channel("right", -8, crosstalk_db=-34)],
    "electrolytics": [electrolytic("C1", 2200, 25), electrolytic("C17", 4.7, 50)],
    "controls": [control("tuning", "encoder", detents=50)],
    "cell": cell("CR2032", "CR2032", 0.3, 1.5),
    "mains_parts": [switch(250, 1), PLATE],
}  # fmt: skip

SHEETS: Final = (SWITCH_MODE, VALVE_AMPLIFIER, LIVE_CHASSIS, DRUM_MACHINE, TAPE_ECHO, TUNER)
