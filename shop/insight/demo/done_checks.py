"""Jobs of the demo on rails, valves, controls and channels, and a soak, with their readings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from shop.insight.demo.plan import Done


def _cells(table: str, **columns: Sequence[str]) -> dict[str, str]:
    """Readings of a table, each column from its first row down."""
    return dict(_named(table, columns))


def _named(table: str, columns: dict[str, Sequence[str]]) -> Iterator[tuple[str, str]]:
    for key, typed in columns.items():
        for row, text in enumerate(typed, 1):
            yield f"{table}/r{row}/{key}", text


# A mixer that hums: one reservoir is tired, its regulator drops out between the crests.
RAILS: Final = Done(
    "supply-rails",
    facts={"line_volt": "229"},
    answers={
        "dead-plug_pins": "0.6",
        "dead-prove_before": "30.2",
        "dead-res_found.1": "1.9",
        "dead-res_dead.1": "1.8",
        "dead-res_found.2": "2.4",
        "dead-res_dead.2": "2.2",
        "dead-res_found.3": "38.5",
        "dead-res_dead.3": "3.4",
        "dead-res_again.3": "5.1",
        "dead-prove_after": "30.2",
        "line": "229.1",
        "use": "first",
        **_cells("found", volt=("17.2", "-18.05", "47.6"), ripple=("310m", "2m1", "3m4")),
        **_cells("rails", volt=("18.03", "-18.05", "47.7"), ripple=("2m4", "2m2", "3m3")),
        "regulators": "some",
        **_cells("before", volt=("26.9", "-27.2", "64.8")),
        "res_after.1": "6.2",
        "res_after.2": "5.8",
        "res_after.3": "31.2",
        "remarks": "C1 measured 1900 of 4700 µF: replaced, read again, the +18 V is quiet.",
    },
    meter="Bench meter",
)

_LEVELS: Final = (
    "4.1", "3.9", "4.0", "4.2", "4.0", "3.8", "4.1", "4.0", "3.7", "4.0", "4.1", "3.9", "4.3", "4.2"
)  # fmt: skip
_NOISE: Final = (
    "-87.5", "-87.1", "-87.8", "-87.4", "-86.9", "-87.6", "-87.3", "-87.7", "-84.6", "-87.2",
    "-87.5", "-87.0", "-83.1", "-83.3",
)  # fmt: skip
_HUM: Final = (
    "-92.4", "-93.1", "-93.0", "-93.6", "-92.8", "-94.0", "-93.3", "-92.9", "-93.5", "-93.2",
    "-91.8", "-91.2", "-88.4", "-88.9",
)  # fmt: skip
_CROSSTALK: Final = (
    "-67", "-66", "-68", "-67", "-69", "-66", "-68", "-67", "-66", "-68", "-67", "-70", "-61", "-62"
)  # fmt: skip
CHANNELS: Final = Done(
    "channel-check",
    facts={"source": "600"},
    answers={
        **_cells("level", out=_LEVELS),
        **_cells("response", low=("-0.4",) * 12 + ("-0.6", "-0.6")),
        **_cells("response", high=("-0.3",) * 8 + ("-0.9",) + ("-0.3",) * 3 + ("-0.5", "-0.5")),
        **_cells("noise", noise=_NOISE),
        **_cells("noise", hum=_HUM),
        **_cells("crosstalk", crosstalk=_CROSSTALK),
        "functions": "some",
        "remarks": "Gain at the mark, faders at nought, equalisers out. Channel 9: noisier, its "
        "input transistor will go next. Pad of channel 3 needs two tries.",
    },
    at_stage="on_test",
    meter="Level meter",
)

# One output valve draws too much until its bias is set.
VALVES: Final = Done(
    "valve-check",
    answers={
        "dead-plug_pins": "0.3",
        "dead-prove_before": "30.1",
        "dead-res_found.1": "71",
        "dead-res_dead.1": "4.8",
        "dead-res_found.2": "64",
        "dead-res_dead.2": "4.1",
        "dead-res_found.3": "9.6",
        "dead-res_dead.3": "0.8",
        "dead-res_again.1": "11.3",
        "dead-res_again.2": "9.9",
        "dead-res_again.3": "1.1",
        "dead-prove_after": "30.1",
        "cathode_ohm.1": "1560",
        "cathode_ohm.3": "10.1",
        "cathode_ohm.4": "9.9",
        "line": "231.4",
        **{f"heater_ac.{turn}": "6.41" for turn in (1, 2)},
        **{f"heater_ac.{turn}": "6.38" for turn in (3, 4)},
        "heater_ac.5": "5.08",
        "plate.1": "214",
        "cathode.1": "1.56",
        "plate_alone.2": "247",
        "plate.3": "428",
        "cathode.3": ["0.41", "0.34"],
        "plate.4": "429",
        "cathode.4": "0.33",
        "glow.3": "haze",
        "glow.4": "haze",
        "quiet": "quiet",
        "res_after.1": "38",
        "res_after.2": "33",
        "res_after.3": "6.4",
        "remarks": "Bias of V3 had crept: potentiometer cleaned and set, both valves alike now.",
    },
    meter="Bench meter",
)

# A data wheel that jumps is replaced, a fader crackles from d.c. and not from its track.
CONTROLS: Final = Done(
    "controls-service",
    answers={
        "settings": "noted",
        "front": "Front, knobs and faders as they came",
        "detents.1": "30",
        **_cells("found.1", counted=("64", "71", "88", "79")),
        "crackle.2": "crackles",
        "crackle.4": "crackles",
        "dc_wanted": "yes",
        "dc.2": "-187m",
        "dc.4": "1m8",
        "done.1": "replaced",
        "ends.2": "48.6k",
        "stop.2": "85",
        "done.2": "before_it",
        "ends.3": "51.2k",
        "stop.3": "90",
        "ends.4": "9.4k",
        "stop.4": "22",
        "done.4": "cleaned",
        "touched.1": "yes",
        **_cells("left.1", counted=("30",) * 4),
        "dc_again": "yes",
        "touched.2": "source",
        "dc_left.2": "2m4",
        "touched.3": "no",
        "touched.4": "yes",
        "touched.5": "no",
        "remarks": "Cutoff: C118 before it leaked, replaced. The fader itself is sound.",
    },
    meter="Bench meter",
)

# Four hours closed up, after a repair of a unit that stopped when warm.
SOAK: Final = Done(
    "soak-test",
    facts={"room": "21", "how_long": "4h", "winding_class": "not_known"},
    answers={
        "pins_cold": "0.4",
        "cold_ohm": "386.5",
        "load": "idle",
        "line": "230.2",
        "start_power": "8.7",
        **_cells("readings", room=("21.2", "21.4", "21.9", "22.3", "22.4", "22.6", "22.6", "22.7")),
        **_cells("readings", case=("28.4", "32.1", "34.6", "36.0", "36.8", "37.2", "37.4", "37.4")),
        **_cells("readings", power=("8.8", "8.9", "8.9", "9.0", "9.0", "9.0", "9.1", "9.0")),
        "end_power": "9.0",
        "pins_hot": "0.7",
        "hot_ohm": "430.2",
        "looks": "sound",
        "memory": "kept",
        "remarks": "Hall and delay ran for four hours, nothing stopped. Winding 50 °C on the mean.",
    },
    at_stage="on_test",
    meter="Bench meter",
)
