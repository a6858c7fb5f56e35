"""What flows through a hand, or the protective core, from what joins the mains to the chassis."""

from __future__ import annotations

from math import hypot, pi
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Hertz, MainsVolt, PlugLetter, ProtectionClass, fit
from shop.calc.registry import calculator
from shop.calc.safety.measurements import REVERSIBLE_SOURCE, orientations
from shop.calc.safety.schemes import (
    SCHEMES,
    Limit,
    SchemeField,
    current_differs,
    current_limit,
)
from shop.calc.shown import farads
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

FORMULA = Source("I = V √((2 π f C)² + (1 / R)²)", Status.COMPUTED)
NO_BODY = Source("The body's own resistance is left out: the figure is an upper one",
                 Status.PROPOSED)  # fmt: skip
FELT_MILLIAMPERE = 0.5
FELT = Source("0.5 mA through a hand is about where it is felt", Status.FROM_MEMORY)
ToChassis = Annotated[float, Meta(ge=0, le=1e-4)]


class TouchCurrentIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What joins each side of the mains to the chassis, the supply, the unit and the scheme."""

    scheme: SchemeField
    protection_class: ProtectionClass
    supply_volt: Annotated[
        MainsVolt,
        Meta(title="Upper limit of the supply", description="volt r.m.s., the highest it can be"),
    ]
    hz: Annotated[Hertz, Meta(title="Supply frequency", description="hertz")]
    line_farad: Annotated[
        ToChassis,
        Meta(title="Line to chassis", description="farad in all, 0 if none", examples=[1e-8]),
    ] = 0.0
    neutral_farad: Annotated[
        ToChassis,
        Meta(title="Neutral to chassis", description="farad in all, 0 if none"),
    ] = 0.0
    line_ohm: Annotated[
        Annotated[float, Meta(ge=100, le=1e12)] | None,
        Meta(title="Resistor line to chassis", description="ohm: a resistor or leaky insulation"),
    ] = None
    measured_milliampere: Annotated[
        Annotated[float, Meta(ge=0, le=1000)] | None,
        Meta(title="Measured", description="the larger of both ways round; it wins"),
    ] = None
    plug: Annotated[
        PlugLetter | None,
        Meta(title="Plug letter", description="if left out, it may go in either way round"),
    ] = None
    is_hand_held: Annotated[
        bool, Meta(title="Hand-held", description="held in the hand while in use")
    ] = False


class TouchCurrentOut(msgspec.Struct, frozen=True):
    """Current each way round (None where the plug has one way), the worse, and the limit, in mA.

    `judged_milliampere` is the measured one where there is one, else the worse of those worked
    out; `unexplained_milliampere` is what the reading has beyond them. `most_farad` is the
    capacitance on one side that alone would reach the limit.
    """

    normal_milliampere: float
    reversed_milliampere: float | None
    worst_milliampere: float
    judged_milliampere: float
    unexplained_milliampere: float | None
    limit_milliampere: float
    within_limit: bool
    most_farad: float
    path: str
    scheme: str
    scheme_title: str


# An old unearthed unit: 4.7 nF from line to chassis on 230 V.
EXAMPLE = {
    "scheme": "en_50678",
    "protection_class": "0",
    "supply_volt": 253,
    "hz": 50,
    "line_farad": 4.7e-9,
    "plug": "C",
}


@calculator(
    "safety.touch_current",
    "Current to the chassis",
    question="What current will the chassis give from its capacitors, and is it allowed?",
    example=EXAMPLE,
)
def touch_current(given: TouchCurrentIn) -> Answer[TouchCurrentOut]:
    """The current from the mains to the chassis, both ways round, against one scheme.

    Units: V r.m.s., Hz, F, ohm, mA. I = V sqrt((2 pi f C)^2 + (1/R)^2) for the side that is live;
    turned round, the other side is. A measured current wins over the one worked out. Class I: it
    flows in the protective core, else through a hand. Class III is measured against the touch limit
    although no scheme asks for it.
    Source: Ohm's law; the limit is the scheme's own.
    """
    given = fit(given)
    scheme = SCHEMES[given.scheme]
    limit = current_limit(scheme, given.protection_class, given.is_hand_held)
    value = _value(given, limit)
    working = Working(
        _lines(given, value),
        [FORMULA, NO_BODY, limit.source, REVERSIBLE_SOURCE, FELT],
        _cautions(given, value),
        current_differs(scheme),
    )
    text = _(
        "{judged:.3g} mA {path}, limit {limit:g} mA by {title}.",
        judged=value.judged_milliampere,
        path=_path(given),
        limit=value.limit_milliampere,
        title=scheme.title,
    )
    unsure = (
        not value.within_limit
        or given.protection_class == "0"
        or _miswired_milliampere(given, value) > value.limit_milliampere
    )
    return Answer(Outcome.WARN if unsure else Outcome.OK, text, value, working)


def current_milliampere(volt: float, hz: float, farad: float, ohm: float | None) -> float:
    """mA through a capacitor and a resistor in parallel. I = V sqrt((2 pi f C)^2 + (1/R)^2)."""
    return 1000 * volt * hypot(2 * pi * hz * farad, 1 / ohm if ohm else 0.0)


def _value(given: TouchCurrentIn, limit: Limit) -> TouchCurrentOut:
    scheme = SCHEMES[given.scheme]
    volt, hz = given.supply_volt, given.hz
    normal = current_milliampere(volt, hz, given.line_farad, given.line_ohm)
    turned = None
    if "reversed" in orientations(given.plug):
        turned = current_milliampere(volt, hz, given.neutral_farad, None)
    worst = max(normal, turned or 0.0)
    measured = given.measured_milliampere
    judged = worst if measured is None else measured
    return TouchCurrentOut(
        normal_milliampere=normal,
        reversed_milliampere=turned,
        worst_milliampere=worst,
        judged_milliampere=judged,
        unexplained_milliampere=None if measured is None else max(0.0, measured - worst),
        limit_milliampere=limit.value,
        within_limit=judged <= limit.value,
        most_farad=limit.value / 1000 / (2 * pi * hz * volt),
        path="protective_conductor" if given.protection_class == "I" else "touch",
        scheme=scheme.key,
        scheme_title=scheme.title,
    )


def _miswired_milliampere(given: TouchCurrentIn, value: TouchCurrentOut) -> float:
    """What a socket wired the wrong way round, or an open neutral, makes of a one-way plug, mA."""
    if value.reversed_milliampere is not None:
        return 0.0
    return current_milliampere(given.supply_volt, given.hz, given.neutral_farad, None)


def _path(given: TouchCurrentIn) -> str:
    if given.protection_class == "I":
        return _("in the protective core")
    return _("through a hand")


def _lines(given: TouchCurrentIn, value: TouchCurrentOut) -> list[Line]:
    how = "V √((2 π f C)² + (1/R)²)"
    lines = [Line(_("plug as it is"), how, f"{value.normal_milliampere:.3f} mA")]
    if value.reversed_milliampere is not None:
        lines.append(
            Line(_("plug turned round"), "2 π f C V", f"{value.reversed_milliampere:.3f} mA")
        )
    if given.measured_milliampere is not None:
        more = _("{more:.3f} mA more than worked out", more=value.unexplained_milliampere)
        lines.append(Line(_("measured"), more, f"{given.measured_milliampere:.3f} mA"))
    lines += [
        Line(_("limit"), value.scheme_title, f"{value.limit_milliampere:g} mA"),
        Line(_("largest capacitor alone"), "I / (2 π f V)", farads(value.most_farad)),
    ]
    return lines


def _cautions(given: TouchCurrentIn, value: TouchCurrentOut) -> list[str]:
    said = [
        _("A computed current does not stand in for the measured one: winding and cord add to it."),
        _("Tests with mains applied are for a competent person; local codes come first."),
    ]
    if given.protection_class == "0":
        said.insert(0, _("Unearthed unit: this current flows through whoever touches it."))
    if given.protection_class == "I":
        said.append(_("If the earth breaks, the same current flows through a hand."))
    miswired = _miswired_milliampere(given, value)
    if miswired > value.normal_milliampere:
        said.append(
            _(
                "In a socket wired the wrong way round, or with the neutral open, it is "
                "{miswired:.3g} mA.",
                miswired=miswired,
            )
        )
    if given.protection_class != "I" and value.judged_milliampere > FELT_MILLIAMPERE:
        said.append(
            _(
                "More than {felt:g} mA through a hand is felt, and above the limit of other "
                "schemes: find out where it comes from.",
                felt=FELT_MILLIAMPERE,
            )
        )
    if not value.within_limit:
        said.insert(0, _("Above the limit: smaller capacitors of class Y, or none."))
    return said
