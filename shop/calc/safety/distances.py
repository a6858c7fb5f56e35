"""How far live parts must stay from metal that can be touched, through air and along a surface.

Needed where sheet metal was bent and straightened, or a part of another size was fitted.
Units: metre.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import MainsVolt, ProtectionClass, fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# IEC 60950-1, pollution degree 2, material group III: basic at a mains of up to 250 V.
CLEARANCE_METRE: Final = 0.002
CREEPAGE_METRE: Final = 0.0025
REINFORCED_TIMES: Final = 2
MOST_VOLT: Final = 250.0

EXAMPLE = {"nominal_volt": 230, "protection_class": "I"}


class DistancesIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The supply and the class of the unit; an unknown class is taken strictly."""

    nominal_volt: Annotated[MainsVolt, Meta(title="Supply", description="nominal volt r.m.s.")]
    protection_class: Annotated[
        ProtectionClass | None,
        Meta(title="Protection class", description="of IEC 61140; left out: judged as class II"),
    ] = None


class Distances(msgspec.Struct, frozen=True):
    """Least distances from mains parts to metal that can be touched, in metre."""

    insulation: str
    clearance_metre: float
    creepage_metre: float


@calculator(
    "safety.distances",
    "Distance of mains parts from metal",
    question="How far must mains parts stay from the chassis and everything that can be touched?",
    example=EXAMPLE,
)
def distances(given: DistancesIn) -> Answer[Distances]:
    """Least clearance and creepage to touchable metal: basic in class I, else reinforced.

    Units: volt r.m.s. in, metre out. One figure for every mains of up to 250 V, which is stricter
    than the standard at 100 to 127 V. Raises BadInput above 250 V.
    Source: IEC 60950-1, 2.10.3 and 2.10.4, by test reports and a training text.
    """
    given = fit(given)
    if given.nominal_volt > MOST_VOLT:
        raise BadInput("nominal_volt", _("Known here for a mains of up to 250 V."), "above_250")
    is_basic = given.protection_class == "I"
    times = 1 if is_basic else REINFORCED_TIMES
    value = Distances(
        insulation="basic" if is_basic else "reinforced",
        clearance_metre=CLEARANCE_METRE * times,
        creepage_metre=CREEPAGE_METRE * times,
    )
    return Answer(Outcome.OK, _said(value), value, _working(value, is_basic=is_basic))


def _millimetres(metre: float) -> str:
    return f"{metre * 1000:g} mm"


def _said(value: Distances) -> str:
    return _(
        "At least {air} through air and {surface} along a surface.",
        air=_millimetres(value.clearance_metre),
        surface=_millimetres(value.creepage_metre),
    )


def _working(value: Distances, *, is_basic: bool) -> Working:
    kind = _("basic: the metal is earthed") if is_basic else _("reinforced: nothing earths it")
    lines = [
        Line(_("insulation"), kind, value.insulation),
        Line(_("through air"), _("mains to 250 V"), _millimetres(value.clearance_metre)),
        Line(_("along a surface"), _("mains to 250 V"), _millimetres(value.creepage_metre)),
    ]
    return Working(lines, SOURCES, _cautions(), _disagreements())


def _cautions() -> list[str]:
    return [
        _("Unplugged, discharged and read before a feeler gauge goes near mains parts."),
        _("Never less than before the damage: the maker's own distances and barriers win."),
        _("Press the lid and the panel as a hand would, and read the smallest distance."),
        _("High voltage inside needs more: these figures are for the mains alone."),
        _("Local codes and licensed practice come first."),
    ]


def _disagreements() -> list[str]:
    return [
        _("Older audio sets were made to 3 mm and 6 mm (IEC 60065, from memory)."),
        _("A mains of 100 to 127 V needs about half through air by the standard (from memory)."),
    ]


SOURCES: Final = [
    Source("4 mm through air, 5 mm along a surface, reinforced at 250 V r.m.s.",
           Status.SECOND_HAND,
           "IEC 60950-1, 2.10.3 and 2.10.4, in a test report: "
           "manualshelf.com/manual/ifeart/mz87pd-1/safety-information-english/page-42.html"),
    Source("2 mm basic and 4 mm reinforced through air for mains to 264 V; reinforced is twice "
           "basic along a surface", Status.SECOND_HAND,
           "a training text on IEC 60950-1: digikey.cn, power supply safety standards, slide 7"),
    Source("the same for every mains of up to 250 V", Status.PROPOSED),
]  # fmt: skip
