"""What several calculators of cells ask: the memory's drain, the cell, the day."""

from __future__ import annotations

from datetime import date
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.cells.table import BY_NAME

EmptyCellVolt = Annotated[
    float, Meta(ge=0, le=10, title="Volts of an empty cell", description="2.0 for lithium")
]
MostReverse = Annotated[
    Annotated[float, Meta(ge=0.01, le=1000)] | None,
    Meta(title="Largest reverse current", description="from the cell's own sheet"),
]


class Drain(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the memory takes and needs. Typical and maximum drain: their spread is the answer's."""

    low_ua: Annotated[
        float,
        Meta(
            ge=0.001,
            le=1e6,
            title="Lowest drain",
            description="with the unit off, typical by the sheet or measured",
            examples=[1],
        ),
    ]
    high_ua: Annotated[
        float,
        Meta(
            ge=0.001,
            le=1e6,
            title="Highest drain",
            description="with the unit off, maximum by the sheet or measured warm",
        ),
    ]
    memory_volt: Annotated[
        float,
        Meta(
            ge=0.5,
            le=6,
            title="Memory keeps down to",
            description="lowest volts at which it keeps its content; 2.0 for most CMOS",
        ),
    ] = 2.0
    diode_volt: Annotated[
        float, Meta(ge=0, le=1.5, title="Drop of the diode", description="at the drain, 0 for none")
    ] = 0.0
    resistor_ohm: Annotated[
        float,
        Meta(ge=0, le=1e6, title="Series resistor", description="in series with the cell"),
    ] = 0.0
    powered_share: Annotated[
        float,
        Meta(ge=0, le=0.99, title="Time powered", description="share of all time, 0 to 0.99"),
    ] = 0.0
    stored_years: Annotated[
        float, Meta(ge=0, le=30, title="Age of the cell", description="years stored before use")
    ] = 0.0


CellName = Annotated[
    str,
    Meta(
        title="Cell",
        description="name in the cell table",
        examples=["CR2032"],
        extra_json_schema={"enum": list(BY_NAME)},
    ),
]
Fitted = Annotated[
    date | None,
    Meta(title="Day of fitting", description="1950 to 2200; gives the day to change it by"),
]
