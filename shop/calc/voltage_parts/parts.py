"""Input and output of the check of voltage-rated parts."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import (
    Ampere,
    Hertz,
    MainsVolt,
    Name,
    PlugLetter,
    ProtectionClass,
    VoltAmpere,
)
from shop.calc.fuses.marking import MarkText
from shop.calc.safety.schemes import SCHEME_LABELS, SchemeKey
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import BadInput, Source

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
KIND_LABELS = {
    "fuse": _noop("fuse"),
    "varistor": _noop("varistor"),
    "x_capacitor": _noop("X capacitor, line to line"),
    "y_capacitor": _noop("Y capacitor, line to earth"),
    "line_to_chassis_capacitor": _noop("line to chassis capacitor, unearthed unit"),
    "neon": _noop("neon"),
    "pilot_lamp": _noop("pilot lamp"),
    "switch": _noop("mains switch"),
    "cord": _noop("cord"),
    "plug": _noop("plug"),
    "rear_outlet": _noop("mains outlet on the rear"),
    "thermal_link": _noop("thermal link"),
    "motor": _noop("motor"),
    "selector": _noop("voltage selector"),
    "internal_wiring": _noop("wiring inside"),
    "rating_plate": _noop("rating plate"),
}
RatingClass = Literal["X1", "X2", "X3", "Y1", "Y2", "Y4"]
Verdict = Literal["keep", "replace", "check"]

# Fields that several calculators of this area share.
NewVolt = Annotated[
    MainsVolt, Meta(title="Supply voltage", description="volt, the nominal one of the new supply")
]
NewHertz = Annotated[Hertz, Meta(title="Supply frequency", description="hertz")]
HighVolt = Annotated[
    float | None,
    Meta(
        title="Upper limit of the supply",
        description="volt, upper limit of the supply; nominal + 10 % if left out",
    ),
]
SchemeOrNone = Annotated[
    SchemeKey | None,
    Meta(
        title="Scheme",
        description="whose limit of current is used; EN 50678 if left out, and it is said",
        extra_json_schema={"x-labels": SCHEME_LABELS},
    ),
]
MaintainVolt = Annotated[
    float,
    Meta(ge=40, le=150, title="Volts of the lit neon", description="volt across the lit neon"),
]
NeonAmpere = Annotated[
    float,
    Meta(ge=0.0001, le=0.02, title="Neon current", description="ampere through the neon"),
]


def upper_limit(nominal_volt: float, high_volt: float | None) -> float:
    """The supply's upper limit in V: as given, or nominal + 10 %.

    Raises BadInput for a limit below the supply or past 1100 V.
    """
    if high_volt is None:
        return round(nominal_volt * 1.1, 6)
    if not nominal_volt <= high_volt <= 1100:
        raise BadInput("high_volt", _("the upper limit must not lie below the supply"))
    return high_volt


class Part(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part across the mains. Only the fields its kind needs are read."""

    kind: Annotated[Kind, Meta(title="Kind", extra_json_schema={"x-labels": KIND_LABELS})]
    name: Annotated[
        Name | None, Meta(title="Name", description="as the circuit diagram calls it")
    ] = None
    rated_volt: Annotated[
        MainsVolt | None, Meta(title="Rated voltage", description="volt a.c. marked on it")
    ] = None
    rated_ampere: Annotated[
        Ampere | None, Meta(title="Rated current", description="ampere marked on a switch")
    ] = None
    capacitance_farad: Annotated[
        float | None,
        Meta(title="Capacitance", description="farad, 1e-12 to 1e-4", examples=[4.7e-9]),
    ] = None
    rating_class: Annotated[
        RatingClass | None, Meta(title="Class", description="class marked on the capacitor")
    ] = None
    resistance_ohm: Annotated[
        float | None,
        Meta(
            title="Series resistor", description="ohm in series with the neon", examples=[100000.0]
        ),
    ] = None
    maintain_volt: MaintainVolt = 65.0
    lamp_ampere: NeonAmpere = 0.0006
    plug_letter: Annotated[
        PlugLetter | None, Meta(title="Plug letter", description="of the plug fitted")
    ] = None
    is_line_to_earth: Annotated[
        bool, Meta(title="Line to earth", description="varistor from line to earth")
    ] = False


class CheckIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The target supply, and the parts found. Without parts, one of each kind is listed."""

    nominal_volt: NewVolt
    hz: NewHertz
    high_volt: HighVolt = None
    old_nominal_volt: Annotated[
        MainsVolt | None, Meta(title="Old voltage", description="volt it was made or set for")
    ] = None
    old_hz: Annotated[
        Hertz | None, Meta(title="Old frequency", description="hertz it was made for")
    ] = None
    protection_class: ProtectionClass = "I"
    plug_letters: Annotated[
        list[Annotated[PlugLetter, Meta(title="Plug letter")]],
        Meta(max_length=15, title="Plugs of the country", description="letters A to O"),
    ] = []
    line_ampere: Annotated[
        Ampere | None, Meta(title="Line current", description="ampere at the new voltage")
    ] = None
    rated_va: Annotated[
        VoltAmpere | None, Meta(title="Rated power", description="volt-ampere, for the plate")
    ] = None
    fuse_mark: Annotated[
        MarkText | None, Meta(title="New fuse", description="its mark, for the plate")
    ] = None
    parts: Annotated[
        list[Part],
        Meta(
            max_length=40,
            title="Parts found",
            description="parts across the mains; if none is named, one of each kind is listed",
        ),
    ] = []
    scheme: SchemeOrNone = None


class Item(msgspec.Struct, frozen=True):
    """One line of the checklist. `numbers` carry their unit in the name."""

    key: str
    name: str
    verdict: Verdict
    reason: str
    numbers: dict[str, float]
    sources: list[Source]


class CheckOut(msgspec.Struct, frozen=True):
    """The checklist, and the sum of currents through capacitors to earth or chassis.

    `touch_limit_milliampere` is that of `scheme`, which was named or is EN 50678.
    """

    items: list[Item]
    high_volt: float
    leakage_sum_milliampere: float
    touch_limit_milliampere: float
    leakage_within_limit: bool
    to_replace: list[str]
    to_check: list[str]
    plate_lines: list[str]
    scheme: str
    scheme_title: str
