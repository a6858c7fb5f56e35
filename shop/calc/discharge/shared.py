"""What waiting and discharging by hand have in common: inputs, limits, cautions, sources."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Final

from msgspec import Meta

from shop.calc.shown import farads
from shop.calc.words import _
from shop.calc.working import Line, Source, Status, Working

SAFE_VOLT: Final = 50.0
LIVE_VOLT: Final = 60.0
RECHECK_SECONDS: Final = 60.0

Farad = Annotated[
    float,
    Meta(
        title="Reservoir",
        ge=1e-12,
        le=10,
        description="capacitance in farad, all that is in parallel",
        examples=[0.0001],
    ),
]
StoredVolt = Annotated[
    float, Meta(title="Charged to", ge=0, le=20000, description="V at the start, measured or rated")
]
SafeVolt = Annotated[
    float,
    Meta(
        title="Safe from",
        ge=1,
        le=LIVE_VOLT,
        description="V to come down to, 50 if left out, never above 60",
    ),
]
Bleeder = Annotated[
    Annotated[float, Meta(ge=0.1, le=1e9)] | None,
    Meta(title="Bleeder", description="ohm; leave it out if there is none or it is not known"),
]


def given_lines(farad: float, from_volt: float, safe_volt: float) -> list[Line]:
    """What it was worked out from."""
    return [
        Line(_("reservoir"), "C", farads(farad)),
        Line(_("charged to"), "V0", f"{from_volt:g} V"),
        Line(_("safe to touch from here down"), "Vs", f"{safe_volt:g} V"),
    ]


def cautions() -> list[str]:
    """What belongs to every answer about a charged reservoir."""
    return [
        _("Unplugged, plug in sight. Measure every reservoir before touching; above 60 V is live."),
        _("Discharge through a resistor rated for the voltage, never with a screwdriver."),
        _("Measure again after a minute: volts come back. Then leave it shorted."),
        _("Prove the meter on a known source before and after."),
        _("Local codes and licensed practice come first."),
    ]


def working(lines: list[Line], sources: Sequence[Source], differ: Sequence[str] = ()) -> Working:
    """The working with what belongs to every answer here, and what belongs to one of them."""
    disagreements = [
        _("Safe d.c. volts: 60 V (IEC 62368-1; IEC 61140 in dry places), 30 V (IEC 61140 "
          "elsewhere), 42.4 V (IEC 60335-1), 60 V and 35 V peak a.c. (IEC 60065, from memory), "
          "120 V (upper bound of extra-low voltage); the bench rule here is 50 V."),
        *differ,
    ]  # fmt: skip
    return Working(lines, [*SOURCES, *sources], cautions(), disagreements)


SOURCES: Final = [
    Source("t = R C ln(V0/Vs)", Status.SECOND_HAND, "resicalc.com; sdev.dk/?p=356"),
    Source("60 V d.c. in dry places", Status.VERIFIED, "IEC 61140 as excerpted in IEC 63044-3"),
    Source("50 V before touching", Status.PROPOSED),
    Source("10 to 15 % come back in wet aluminium parts", Status.SECOND_HAND,
           "encyclopaedia article on aluminium electrolytic capacitors"),
]  # fmt: skip
