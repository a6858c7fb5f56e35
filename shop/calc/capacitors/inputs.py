"""Input types that the capacitor calculators share: unit, range, where to read it."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

Farad = Annotated[
    float, Meta(title="Capacitance", ge=1e-12, le=10, description="marked value, farad, 1 pF to 10",
                examples=[4.7e-5])
]  # fmt: skip
RatedVolt = Annotated[
    float, Meta(title="Rated voltage", ge=1, le=2000, description="marked voltage, V d.c.",
                examples=[450.0])
]  # fmt: skip
Ohm = Annotated[float, Meta(ge=1e-4, le=1e9, description="ohm", examples=[0.32])]
Ampere = Annotated[
    float, Meta(ge=1e-12, le=10, description="ampere, in series with the part", examples=[0.0011])
]
RatedCelsius = Annotated[
    float, Meta(title="Rated temperature", ge=40, le=200, description="upper category temperature "
                "marked on the part, °C", examples=[85.0, 105.0])
]  # fmt: skip
PartCelsius = Annotated[
    float, Meta(title="Temperature at the part", ge=-40, le=200, description="air or case beside "
                "it with the unit warm and closed, °C", examples=[45.0])
]  # fmt: skip
