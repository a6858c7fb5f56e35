"""Input and output of the check of voltage-rated parts."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, Hertz, MainsVolt, Name, PlugLetter, VoltAmpere
from shop.calc.fuses.marking import MarkText
from shop.calc.working import Source

Kind = Literal[
    "fuse",
    "varistor",
    "x_capacitor",
    "y_capacitor",
    "line_to_chassis_capacitor",
    "neon",
    "pilot_lamp",
    "switch",
    "cord",
    "plug",
    "rear_outlet",
    "thermal_link",
    "motor",
    "selector",
    "internal_wiring",
    "rating_plate",
]
Verdict = Literal["keep", "replace", "check"]


class Part(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part across the mains. Only the fields its kind needs are read."""

    kind: Kind
    name: Name | None = None
    rated_volt: MainsVolt | None = None
    rated_ampere: Ampere | None = None
    capacitance_farad: Annotated[
        float | None, Meta(description="farad, 1e-12 to 1e-4", examples=[4.7e-9])
    ] = None
    rating_class: Annotated[
        Literal["X1", "X2", "X3", "Y1", "Y2", "Y4"] | None,
        Meta(description="class marked on the capacitor"),
    ] = None
    resistance_ohm: Annotated[
        float | None, Meta(description="ohm in series with the neon", examples=[100000.0])
    ] = None
    maintain_volt: Annotated[float, Meta(ge=40, le=150, description="volt across the lit neon")] = (
        65.0
    )
    lamp_ampere: Annotated[
        float, Meta(ge=0.0001, le=0.02, description="ampere through the neon")
    ] = 0.0006
    plug_letter: PlugLetter | None = None
    is_line_to_earth: Annotated[bool, Meta(description="varistor from line to earth")] = False


class CheckIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The target supply, and the parts found. Without parts, one of each kind is listed."""

    nominal_volt: MainsVolt
    hz: Hertz
    high_volt: Annotated[
        float | None,
        Meta(description="volt, upper limit of the supply; nominal + 10 % if left out"),
    ] = None
    old_nominal_volt: MainsVolt | None = None
    old_hz: Hertz | None = None
    protection_class: Literal["0", "I", "II", "III"] = "I"
    plug_letters: Annotated[
        list[PlugLetter], Meta(max_length=15, description="plugs of the country")
    ] = []
    line_ampere: Ampere | None = None
    rated_va: VoltAmpere | None = None
    fuse_mark: MarkText | None = None
    parts: Annotated[list[Part], Meta(max_length=40, description="parts across the mains")] = []


class Item(msgspec.Struct, frozen=True):
    """One line of the checklist. `numbers` carry their unit in the name."""

    key: str
    name: str
    verdict: Verdict
    reason: str
    numbers: dict[str, float]
    sources: list[Source]


class CheckOut(msgspec.Struct, frozen=True):
    """The checklist, and the sum of currents through capacitors to earth or chassis."""

    items: list[Item]
    high_volt: float
    leakage_sum_milliampere: float
    touch_limit_milliampere: float
    leakage_within_limit: bool
    to_replace: list[str]
    to_check: list[str]
    plate_lines: list[str]
