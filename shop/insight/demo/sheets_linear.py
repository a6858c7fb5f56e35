"""Model sheets of invented units with a mains transformer and a memory or a plain analogue path."""

from __future__ import annotations

from typing import Final

from shop.insight.demo.sheet_parts import (
    PLATE,
    SELECTOR,
    THERMAL_LINK,
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

HALL_92: Final[Facts] = {
    "make": "Ombrell",
    "model": "Hallkammer 92",
    "kind": "effects unit",
    "year_from": 1991,
    "year_to": 1994,
    "supply_kind": "linear",
    "protection_class": "I",
    "rated_watt": 14,
    "idle_watt": 9,
    "idle_watt_source": "measured here on a sound unit",
    "features": ["battery_logic"],
    "primary": two_halves(115, 190, ampere=0.06),
    "supplies": [in_series(230, "T80mAL250V"), in_parallel(115, None)],
    "secondaries": [winding("logic", 9), winding("audio", 16)],
    "rails": [rail("+5 V", 5), rail("+15 V", 15), rail("-15 V", -15)],
    "reservoirs": [
        reservoir("C1 logic", 13, 4700, 2200),
        reservoir("C5 audio +", 23, 1000, 10000),
        reservoir("C6 audio -", 23, 1000, 10000),
    ],
    "cell": cell("2xLR6", "2xLR6", 4, 12),
    "mains_parts": [varistor(275), x_capacitor(100, 275), switch(250, 2), THERMAL_LINK, PLATE],
    "reset_procedure": "Hold STORE and BYPASS while switching on, until the display shows INIT.",
    "serial_rule": "{year2}{digits}",
    "known_faults": [
        {"fault": "Forgets its programs: the two AA cells leak after ten years.",
         "template": "backup-cell-swap"},
        {"fault": "Dead after use on the wrong supply: fuse and varistor.",
         "template": "mains-conversion"},
    ],
    "channels": [channel("left", -10, noise=-74), channel("right", -10, noise=-74)],
    "electrolytics": [
        electrolytic("C1", 4700, 16, place="beside the transformer"),
        electrolytic("C5", 1000, 35), electrolytic("C6", 1000, 35),
        electrolytic("C31", 10, 25, kind="bipolar", place="left output"),
        electrolytic("C41", 10, 25, kind="bipolar", place="right output"),
    ],
    "controls": [
        control("program", "encoder", detents=24), control("input", "potentiometer", ohm=10000),
    ],
    "hazards": ["leaking_cell"],
}  # fmt: skip

PREAMP: Final[Facts] = {
    "make": "Kestrane",
    "model": "Vorstufe PX-7",
    "kind": "preamplifier",
    "year_from": 1988,
    "year_to": 1993,
    "supply_kind": "linear",
    "rated_watt": 18,
    "idle_watt": 13,
    "idle_watt_source": "measured here on a sound unit",
    "features": ["battery_logic", "relay"],
    "primary": two_halves(115, 120, ampere=0.1),
    "supplies": [in_parallel(115, "T160mAL250V"), in_series(230, None)],
    "secondaries": [winding("logic", 8), winding("audio", 17)],
    "rails": [rail("+5 V", 5), rail("+18 V", 18), rail("-18 V", -18)],
    "reservoirs": [
        reservoir("C11", 25, 2200, 4700), reservoir("C12", 25, 2200, 4700),
        reservoir("C20 logic", 12, 2200, None),
    ],
    "cell": cell("CR2032", "CR2032", 0.5, 2),
    "mains_parts": [varistor(150), x_capacitor(47, 250), switch(250, 1), PLATE],
    "reset_procedure": "Short the two pads beside the memory for a second, cell out, unplugged.",
    "serial_rule": "{year2}{digits}",
    "known_faults": [
        {"fault": "Loses its settings: coin cell soldered to the board.",
         "template": "backup-cell-swap"},
    ],
    "channels": [
        channel("left", 4, noise=-88, hum_dbu=-92, crosstalk_db=-70),
        channel("right", 4, noise=-88, hum_dbu=-92, crosstalk_db=-70),
    ],
    "electrolytics": [
        electrolytic("C11", 2200, 35), electrolytic("C12", 2200, 35), electrolytic("C20", 2200, 16),
        electrolytic("C33", 47, 50, place="left output"),
        electrolytic("C43", 47, 50, place="right output"),
    ],
    "controls": [
        control("volume", "encoder", detents=32), control("balance", "potentiometer", ohm=22000),
    ],
}  # fmt: skip

SYNTHESISER: Final[Facts] = {
    "make": "Fennimar",
    "model": "Polygon 8",
    "kind": "synthesiser",
    "year_from": 1983,
    "year_to": 1986,
    "supply_kind": "linear",
    "rated_watt": 35,
    "idle_watt": 27,
    "idle_watt_source": "service sheet",
    "features": ["battery_logic"],
    "hazards": ["leaking_cell"],
    "primary": two_halves(110, 42),
    "supplies": [in_series(220, "T315mAL250V"), in_parallel(110, "T630mAL250V")],
    "secondaries": [winding("logic", 9), winding("audio", 18)],
    "rails": [rail("+5 V", 5), rail("+15 V", 15), rail("-15 V", -15)],
    "reservoirs": [
        reservoir("C101", 14, 10000, 1000), reservoir("C102", 26, 3300, None),
        reservoir("C103", 26, 3300, None),
    ],
    "cell": cell("NiCd3", "NiCd3", 3, 15, rechargeable=True, charged_by_board=True),
    "mains_parts": [x_capacitor(100, 250), switch(250, 2), SELECTOR, PLATE],
    "reset_procedure": "Load the factory tape after the pack was out for a minute.",
    "serial_rule": "{year1}{digits}",
    "known_faults": [
        {"fault": "The NiCd pack leaks onto the key scanner.", "template": "backup-cell-swap"},
    ],
    "channels": [channel("output", 0, noise=-72, hum_dbu=-76)],
    "electrolytics": [
        electrolytic("C101", 10000, 25), electrolytic("C102", 3300, 35),
        electrolytic("C103", 3300, 35), electrolytic("C118", 10, 35, kind="tantalum"),
        electrolytic("C119", 10, 35, kind="tantalum"),
    ],
    "controls": [
        control("data", "encoder", detents=30), control("cutoff", "fader", ohm=50000),
        control("resonance", "fader", ohm=50000), control("volume", "potentiometer", ohm=10000),
        control("octave", "switch"),
    ],
}  # fmt: skip

MIXER: Final[Facts] = {
    "make": "Kestrane",
    "model": "Mischpult M12",
    "kind": "mixer",
    "year_from": 1979,
    "year_to": 1985,
    "supply_kind": "linear",
    "rated_watt": 60,
    "idle_watt": 45,
    "idle_watt_source": "service sheet",
    "primary": tapped([("5", 120), ("7", 220)], 240, 18),
    "supplies": [
        at_tap(120, "5", "T1AL250V"), at_tap(220, "7", "T500mAL250V"),
        at_tap(240, "9", "T500mAL250V"),
    ],
    "secondaries": [winding("audio", 20), winding("phantom", 45)],
    "rails": [rail("+18 V", 18), rail("-18 V", -18), rail("+48 V", 48, percent=8)],
    "reservoirs": [
        reservoir("C1", 28, 4700, 4700), reservoir("C2", 28, 4700, 4700),
        reservoir("C3 phantom", 65, 470, 47000),
    ],
    "mains_parts": [y_capacitor(4.7, 250), switch(250, 4), SELECTOR, PLATE],
    "channels": [
        *(channel(f"channel {n}", 4, noise=-84, crosstalk_db=-60) for n in range(1, 13)),
        channel("master left", 4, noise=-80, hum_dbu=-86),
        channel("master right", 4, noise=-80, hum_dbu=-86),
    ],
    "electrolytics": [
        electrolytic("C1", 4700, 40), electrolytic("C2", 4700, 40),
        electrolytic("C3", 470, 80, place="phantom supply"),
        *(electrolytic(f"C{n}07", 22, 63, place=f"input of channel {n}") for n in range(1, 13)),
    ],
    "controls": [
        *(control(f"fader {n}", "fader", ohm=10000) for n in range(1, 13)),
        control("master", "fader", ohm=10000), control("monitor", "potentiometer", ohm=10000),
    ],
}  # fmt: skip

SPRING: Final[Facts] = {
    "make": "Ombrell",
    "model": "Federhall F1",
    "kind": "reverb",
    "year_from": 1968,
    "year_to": 1974,
    "supply_kind": "linear",
    "rated_watt": 20,
    "features": [],
    "hazards": ["selenium"],
    "primary": tapped([("4", 110), ("6", 127)], 220, 95),
    "supplies": [at_tap(110, "4", "T200mAL250V"), at_tap(220, "9", "T100mAL250V")],
    "secondaries": [winding("supply", 24)],
    "rails": [rail("+24 V", 24, percent=10, ripple=50)],
    "reservoirs": [reservoir("C1", 34, 1000, None)],
    "channels": [channel("output", -6, noise=-62)],
    "electrolytics": [electrolytic("C1", 1000, 40), electrolytic("C4", 25, 25)],
    "mains_parts": [y_capacitor(10, 250), switch(250, 1), SELECTOR],
    "note": "Idle power unknown: take the smallest lamp.",
}  # fmt: skip

ONE_VOLTAGE: Final[Facts] = {
    "make": "Kestrane",
    "model": "Verteiler V6",
    "kind": "line amplifier",
    "year_from": 1976,
    "supply_kind": "linear",
    "rated_watt": 25,
    "idle_watt": 16,
    "idle_watt_source": "service sheet",
    "primary": {**tapped([], 117, 28), "plate_hz": [60]},
    "supplies": [at_tap(117, "9", "T315mAL250V", "rating plate")],
    "secondaries": [winding("audio", 18)],
    "rails": [rail("+18 V", 18), rail("-18 V", -18)],
    "reservoirs": [reservoir("C1", 26, 2200, 4700), reservoir("C2", 26, 2200, 4700)],
    "channels": [channel(f"output {n}", 4, noise=-82) for n in range(1, 7)],
    "electrolytics": [
        electrolytic("C1", 2200, 35), electrolytic("C2", 2200, 35),
        *(electrolytic(f"C{n}1", 100, 25, place=f"output {n}") for n in range(1, 7)),
    ],
    "mains_parts": [x_capacitor(47, 250), switch(125, 3)],
    "note": "One winding for 117 V 60 Hz only: on other mains it needs a step-down transformer.",
}  # fmt: skip

SHEETS: Final = (HALL_92, PREAMP, SYNTHESISER, MIXER, SPRING, ONE_VOLTAGE)
