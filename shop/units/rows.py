"""Rows of a model sheet, in the shapes that the calculators take.

Units are the last word of a name. A level is in dBu; noise, hum and crosstalk are the highest that
a sound unit shows.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from shop.calc.cells.table import CELLS
from shop.calc.fields import MainsVolt, Name, Terminal, WindingVolt
from shop.calc.fuses.marking import MarkText
from shop.calc.windings.flux import PlateHertz
from shop.calc.windings.sections import Link, Sections
from shop.calc.words import gettext_noop as _noop

Volt = Annotated[float, Meta(ge=-5000, le=5000)]
Ohm = Annotated[float, Meta(ge=0.001, le=1e9)]
Farad = Annotated[float, Meta(ge=1e-12, le=10, examples=[4.7e-6])]
Dbu = Annotated[float, Meta(ge=-160, le=60)]
Decibel = Annotated[float, Meta(ge=-160, le=20)]
MicroAmpere = Annotated[float, Meta(ge=0.001, le=1e6)]
Source = Annotated[str, Meta(max_length=120)]
VOLT: dict[str, Any] = {"x-unit": "V"}


class Resistance(msgspec.Struct, frozen=True, forbid_unknown_fields=True, rename={"from_": "from"}):
    """What a sound winding shows, cold and disconnected."""

    name: Annotated[Name, Meta(title="Winding")]
    from_: Annotated[Terminal, Meta(title="From")]
    to: Annotated[Terminal, Meta(title="To")]
    ohm: Annotated[
        Annotated[float, Meta(ge=1e-3, le=1e6)], Meta(title="Resistance", description="cold")
    ]


class Primary(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The primary of the mains transformer."""

    sections: Annotated[Sections, Meta(title="Sections")]
    plate_hz: Annotated[PlateHertz, Meta(title="Frequencies on the plate")]
    plate_volt: Annotated[
        WindingVolt | None,
        Meta(title="Volts on the plate", description="for all sections in series"),
    ] = None
    resistances: Annotated[
        list[Resistance], Meta(max_length=16, title="Resistances of a sound one")
    ] = []
    links_now: Annotated[list[Link], Meta(max_length=24, title="Links as delivered")] = []


class Supply(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One of the maker's own settings."""

    volt: Annotated[MainsVolt, Meta(title="Supply")]
    name: Annotated[Name, Meta(title="Name", description="as on the plate: 110 to 127 V")]
    links: Annotated[list[Link], Meta(max_length=24, title="Links")] = []
    line_terminals: Annotated[
        list[Terminal],
        Meta(max_length=2, title="Mains on", description="two terminals, or none known"),
    ] = []
    fuse: Annotated[
        MarkText | None,
        Meta(title="Fuse", description="as the maker marks it", examples=["T160mAL250V"]),
    ] = None
    fuse_source: Annotated[Source, Meta(title="Seen on")] = ""


class Rail(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A supply rail under its usual load."""

    name: Annotated[Name, Meta(title="Rail", examples=["+15 V"])]
    volt: Annotated[Volt, Meta(title="Nominal")]
    low: Annotated[Volt, Meta(title="At least", extra_json_schema=VOLT)]
    high: Annotated[Volt, Meta(title="At most", extra_json_schema=VOLT)]
    ripple_millivolt: Annotated[
        Annotated[float, Meta(ge=0, le=50_000)] | None,
        Meta(title="Ripple at most", description="r.m.s."),
    ] = None


class Reservoir(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A capacitor that keeps a charge after switching off."""

    name: Annotated[Name, Meta(title="Reservoir", examples=["C1"])]
    volt: Annotated[
        Annotated[float, Meta(ge=0.5, le=50_000)],
        Meta(title="Volts on it", description="at most, in use; not what is printed on it"),
    ]
    farad: Annotated[Farad, Meta(title="Capacitance")]
    bleeder_ohm: Annotated[
        Ohm | None, Meta(title="Bleeder", description="none if there is none")
    ] = None


class Electrolytic(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An electrolytic capacitor, as printed on it."""

    name: Annotated[Name, Meta(title="Capacitor", examples=["C12"])]
    farad: Annotated[Farad, Meta(title="Capacitance")]
    volt: Annotated[
        Annotated[float, Meta(ge=1, le=1000)], Meta(title="Rated", description="as printed")
    ]
    kind: Annotated[
        Literal["aluminium", "bipolar", "tantalum"],
        Meta(title="Kind", extra_json_schema={"x-labels": {
            "aluminium": _noop("aluminium"), "bipolar": _noop("bipolar"),
            "tantalum": _noop("tantalum"),
        }}),
    ] = "aluminium"  # fmt: skip
    place: Annotated[str, Meta(max_length=80, title="Where")] = ""


class Valve(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A valve and what a sound one shows."""

    name: Annotated[Name, Meta(title="Valve", examples=["V1"])]
    type: Annotated[Name, Meta(title="Type")]
    heater_volt: Annotated[WindingVolt, Meta(title="Heater")]
    heater_ampere: Annotated[
        Annotated[float, Meta(ge=0.001, le=100)] | None, Meta(title="Heater current")
    ] = None
    heater_supply: Annotated[
        Literal["ac", "dc"] | None,
        Meta(title="Heated with", extra_json_schema={
            "x-labels": {"ac": _noop("a.c."), "dc": _noop("d.c.")},
        }),
    ] = None  # fmt: skip
    plate_volt: Annotated[
        Annotated[float, Meta(ge=1, le=5000)] | None, Meta(title="Plate", description="to chassis")
    ] = None
    plate_max_watt: Annotated[
        Annotated[float, Meta(ge=0.01, le=2000)] | None, Meta(title="Plate at most")
    ] = None
    cathode_ohm: Annotated[
        Annotated[float, Meta(ge=0.1, le=1e6)] | None, Meta(title="Cathode resistor")
    ] = None
    cathode_low_volt: Annotated[
        Annotated[float, Meta(ge=0, le=500)] | None, Meta(title="Cathode at least")
    ] = None
    cathode_high_volt: Annotated[
        Annotated[float, Meta(ge=0, le=500)] | None, Meta(title="Cathode at most")
    ] = None


class Channel(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A path of the signal with its levels."""

    name: Annotated[Name, Meta(title="Channel", examples=["left"])]
    input_dbu: Annotated[Dbu | None, Meta(title="Input")] = None
    output_dbu: Annotated[Dbu | None, Meta(title="Output")] = None
    noise_dbu: Annotated[Dbu | None, Meta(title="Noise at most")] = None
    hum_dbu: Annotated[Dbu | None, Meta(title="Hum at most")] = None
    crosstalk_db: Annotated[Decibel | None, Meta(title="Crosstalk at most")] = None


class Control(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A knob, a fader or a switch that is tried."""

    name: Annotated[Name, Meta(title="Control", examples=["volume"])]
    kind: Annotated[
        Literal["encoder", "potentiometer", "fader", "switch"],
        Meta(title="Kind", extra_json_schema={"x-labels": {
            "encoder": _noop("encoder"), "potentiometer": _noop("potentiometer"),
            "fader": _noop("fader"), "switch": _noop("switch"),
        }}),
    ]  # fmt: skip
    detents: Annotated[
        Annotated[int, Meta(ge=1, le=500)] | None,
        Meta(title="Detents", description="in one turn of an encoder"),
    ] = None
    ohm: Annotated[Ohm | None, Meta(title="Resistance")] = None


CellOfTable = Annotated[
    str,
    Meta(
        extra_json_schema={
            "enum": [cell.name for cell in CELLS],
            "x-labels": {cell.name: f"{cell.name}: {cell.title}" for cell in CELLS},
        }
    ),
]


class Cell(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The cell that keeps the memory, and what the memory takes."""

    fitted: Annotated[CellOfTable, Meta(title="Cell as delivered")]
    replacement: Annotated[CellOfTable, Meta(title="Cell to fit now")]
    rechargeable: Annotated[bool, Meta(title="The one delivered is rechargeable")]
    charged_by_board: Annotated[bool, Meta(title="The board charges it")]
    low_ua: Annotated[
        MicroAmpere | None, Meta(title="Lowest drain", description="with the unit off")
    ] = None
    high_ua: Annotated[
        MicroAmpere | None, Meta(title="Highest drain", description="with the unit off, warm")
    ] = None
    memory_volt: Annotated[
        Annotated[float, Meta(ge=0.5, le=6)] | None,
        Meta(title="Memory keeps down to", examples=[2.0]),
    ] = None
    hold_volt: Annotated[
        Annotated[float, Meta(ge=0.5, le=6)] | None,
        Meta(title="Volts while the cell is out", description="that hold the memory"),
    ] = None
    diode_volt: Annotated[
        Annotated[float, Meta(ge=0, le=1.5)] | None,
        Meta(title="Drop of the diode", description="0 for none"),
    ] = None
    resistor_ohm: Annotated[
        Annotated[float, Meta(ge=0, le=1e6)] | None, Meta(title="Series resistor")
    ] = None
    supply_pin: Annotated[
        str, Meta(max_length=80, title="Memory supplied at", description="where to measure")
    ] = ""


class KnownFault(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A fault that this model is known for, and the job that mends it."""

    fault: Annotated[
        str, Meta(min_length=1, max_length=300, pattern=r"\S", title="Fault and its cause")
    ]
    template: Annotated[
        Annotated[str, Meta(min_length=1, max_length=60)] | None, Meta(title="Job that mends it")
    ] = None


class Picture(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A picture in the photo store."""

    sha256: Annotated[str, Meta(pattern="^[0-9a-f]{64}$", max_length=64, title="Picture")]
    caption: Annotated[str, Meta(max_length=200, title="What it shows")] = ""
