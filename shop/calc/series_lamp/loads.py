"""What the unit behind the lamp can be taken for."""

from __future__ import annotations

import math
from typing import Annotated

import msgspec
from msgspec import Meta


class Resistance(msgspec.Struct, frozen=True, tag="resistance", tag_field="kind"):
    """A resistor; below a microohm it is a dead short."""

    ohm: Annotated[float, Meta(ge=0, le=1e9, title="Resistance", description="0 for a dead short")]


class ConstantPower(msgspec.Struct, frozen=True, tag="constant_power", tag_field="kind"):
    """A load that takes the same power at any voltage, as a switch-mode supply does."""

    watt: Annotated[
        float, Meta(ge=0.001, le=1e5, title="Power", description="taken at any voltage")
    ]


class Mixed(msgspec.Struct, frozen=True, tag="mixed", tag_field="kind"):
    """I = (Pn / Vn) (V / Vn)^m: m = 1 resistor, 0 constant current, -1 constant power."""

    watt: Annotated[
        float, Meta(ge=0.001, le=1e5, title="Power", description="at the nominal voltage")
    ]
    volt: Annotated[
        float, Meta(ge=1, le=1000, title="Nominal voltage", description="the unit is set for")
    ]
    exponent: Annotated[
        float,
        Meta(
            ge=-1,
            le=4,
            title="Exponent of the load",
            description="m: 1 resistor, 0 constant current, -1 constant power",
        ),
    ]


class Impedance(msgspec.Struct, frozen=True, tag="impedance", tag_field="kind"):
    """R + jX, a transformer's magnetising current for example."""

    resistance_ohm: Annotated[
        float, Meta(ge=0, le=1e9, title="Resistance", description="R, real part")
    ]
    reactance_ohm: Annotated[
        float,
        Meta(ge=-1e9, le=1e9, title="Reactance", description="X, above 0 for a winding"),
    ]


Load = Resistance | ConstantPower | Mixed | Impedance


def as_mixed(load: Resistance | ConstantPower | Mixed) -> Mixed:
    """The same load in the one form the solver knows. A resistor needs ohm above 0."""
    if isinstance(load, Resistance):
        return Mixed(watt=1.0 / load.ohm, volt=1.0, exponent=1.0)
    if isinstance(load, ConstantPower):
        return Mixed(watt=load.watt, volt=1.0, exponent=-1.0)
    return load


def unit_current(load: Mixed, volt: float) -> float:
    """A into the unit at a voltage across it (V, above 0)."""
    return (load.watt / load.volt) * math.pow(volt / load.volt, load.exponent)
