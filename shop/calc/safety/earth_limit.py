"""How much resistance the protective earth may have, and whether a reading passes."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.conductors import RESISTANCE_SOURCE
from shop.calc.fields import Metre, SquareMillimetre, fit
from shop.calc.registry import calculator
from shop.calc.safety.schemes import SCHEMES, Limit, SchemeField
from shop.calc.shown import ohms
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Working


class EarthLimitIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The scheme, the cord, and the reading if there is one."""

    scheme: SchemeField
    cord_length_m: Annotated[Metre, Meta(title="Cord length", description="metre, plug to unit")]
    cord_mm2: Annotated[
        SquareMillimetre, Meta(title="Cord cross-section", description="of one core")
    ]
    measured_ohm: Annotated[
        Annotated[float, Meta(ge=0, le=1e6)] | None,
        Meta(title="Measured", description="ohm, earth pin to chassis"),
    ] = None
    leads_ohm: Annotated[
        float,
        Meta(ge=0, le=10, title="Test leads", description="ohm of the leads held together"),
    ] = 0.0


class EarthLimitOut(msgspec.Struct, frozen=True):
    """The limit and, with a reading, what is left of it without the leads. Units: ohm."""

    limit_ohm: float
    net_ohm: float | None
    within_limit: bool | None
    condition: str
    scheme: str
    scheme_title: str


# A published case: 3 m of 1.0 mm2, 0.1 + 3 x 0.0195, printed 0.16 ohm.
EXAMPLE = {"scheme": "iet_5", "cord_length_m": 3, "cord_mm2": 1.0, "measured_ohm": 0.12}


@calculator(
    "safety.earth_limit",
    "Limit of the protective earth",
    question="How many ohms may the protective earth have with this cord?",
    example=EXAMPLE,
)
def earth_limit(given: EarthLimitIn) -> Answer[EarthLimitOut]:
    """The limit of protective-earth resistance of one scheme, and a reading against it.

    Units: ohm, m, mm2. EN: 0.3 ohm to 5 m, 0.1 more for each 7.5 m begun, at most 1; above 1.5 mm2
    computed, at least 0.1. IET: 0.1 + L r. AS/NZS: 1. Raises BadInput for leads of more
    resistance than the reading.
    Source: the scheme's own, second-hand; r of IEC 60228 class 5.
    """
    given = fit(given)
    scheme = SCHEMES[given.scheme]
    limit = scheme.earth(given.cord_length_m, given.cord_mm2)
    value = _value(given, limit)
    working = Working(
        _lines(given, value), [limit.source, RESISTANCE_SOURCE], _cautions(), _differ()
    )
    text = _("At most {limit} by {title}.", limit=ohms(value.limit_ohm), title=value.scheme_title)
    if value.within_limit is not None:
        text += " " + (_("The reading passes.") if value.within_limit else _("The reading fails."))
    return Answer(Outcome.WARN if value.within_limit is False else Outcome.OK, text, value, working)


def _value(given: EarthLimitIn, limit: Limit) -> EarthLimitOut:
    net = None
    if given.measured_ohm is not None:
        net = given.measured_ohm - given.leads_ohm
        if net < 0:
            reason = _("the leads have more resistance than the reading: zero them anew")
            raise BadInput("leads_ohm", reason, "leads_above_reading")
    within = None if net is None else net <= limit.value * (1 + 1e-9)
    scheme = SCHEMES[given.scheme]
    return EarthLimitOut(limit.value, net, within, limit.condition, scheme.key, scheme.title)


def _lines(given: EarthLimitIn, value: EarthLimitOut) -> list[Line]:
    cord = f"{given.cord_length_m:g} m, {given.cord_mm2:g} mm²"
    lines = [Line(_("limit"), cord, ohms(value.limit_ohm))]
    if value.net_ohm is not None:
        lines.append(Line(_("reading without leads"), "R − R_leads", ohms(value.net_ohm)))
    return [*lines, Line(_("measured with"), value.scheme_title, value.condition)]


def _cautions() -> list[str]:
    return [
        _("Limits come from one scheme only; the shop chooses it."),
        _("Move cord and plug while reading: a value that jumps fails, whatever it is."),
        _("Unplugged, unless the tester applies the current itself; local codes come first."),
    ]


def _differ() -> list[str]:
    return [
        _("Schemes differ: EN 0.3 Ω to 5 m, IET 0.1 Ω + cord, AS/NZS 1.0 Ω; see the one named."),
        _("A UK trainer teaches 0.1 Ω flat; older German text 1.0 Ω for a fixed connection."),
        _("Type test of new products (IEC 62368-1): 0.1 Ω at 25 A or more (from memory)."),
        _("Medical (IEC 62353): 0.3 Ω with fixed cord, 0.2 Ω unit alone, 0.1 Ω detachable cord."),
    ]
