"""Input types that several mains calculators share: units, ranges, and a second look.

Every range has both ends, because only a closed range keeps NaN and infinity out. No lower end
is so small that a quotient could overflow.
"""

from __future__ import annotations

from typing import Annotated, Literal, TypeVar

import msgspec
from msgspec import Meta

from shop.calc.inputs import read_input
from shop.calc.words import gettext_noop as _noop

Given = TypeVar("Given", bound=msgspec.Struct)

MainsVolt = Annotated[
    float, Meta(ge=1, le=1000, description="volt r.m.s., 1 to 1000", examples=[230.0])
]
WindingVolt = Annotated[
    float, Meta(ge=0.1, le=5000, description="volt r.m.s., 0.1 to 5000", examples=[115.0])
]
Hertz = Annotated[float, Meta(ge=16, le=400, description="hertz, 16 to 400", examples=[50.0])]
Ampere = Annotated[
    float, Meta(ge=1e-4, le=1000, description="ampere r.m.s., 0.0001 to 1000", examples=[1.6])
]
VoltAmpere = Annotated[
    float, Meta(ge=0.01, le=100000, description="volt-ampere, 0.01 to 100000", examples=[150.0])
]
Metre = Annotated[float, Meta(ge=0.01, le=200, description="metre, 0.01 to 200", examples=[1.8])]
SquareMillimetre = Annotated[
    float,
    Meta(ge=0.05, le=10, description="square millimetre of copper, 0.05 to 10", examples=[0.75]),
]
Celsius = Annotated[float, Meta(ge=-40, le=125, description="degree Celsius", examples=[25.0])]
Terminal = Annotated[
    str, Meta(min_length=1, max_length=32, description="name of a terminal", examples=["P1"])
]
Name = Annotated[str, Meta(min_length=1, max_length=64, description="name", examples=["A"])]
PlugLetter = Annotated[
    str, Meta(pattern="^[A-O]$", description="plug letter of IEC/TR 60083 habit", examples=["F"])
]
CountryCode = Annotated[
    str,
    Meta(pattern="^[A-Za-z]{2}$", description="two letters of ISO 3166-1", examples=["JP"]),
]
CLASS_LABELS = {
    "0": _noop("0: basic insulation only, no earth"),
    "I": _noop("I: earthed"),
    "II": _noop("II: double insulated"),
    "III": _noop("III: safe low voltage"),
}
ProtectionClass = Annotated[
    Literal["0", "I", "II", "III"],
    Meta(
        title="Protection class",
        description="class of IEC 61140",
        extra_json_schema={"x-labels": CLASS_LABELS},
    ),
]


def fit(given: Given) -> Given:
    """The same input, checked against its own ranges.

    Structs made in Python skip the checks that JSON input gets; a calculator must not.
    Raises BadInput with field and reason.
    """
    checked: Given = read_input(type(given), msgspec.to_builtins(given))
    return checked
