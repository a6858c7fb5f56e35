"""The least insulation resistance of a unit, and whether a reading passes."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import ProtectionClass, fit
from shop.calc.registry import calculator
from shop.calc.safety.measurements import insulation_volt
from shop.calc.safety.schemes import SCHEMES, Limit, SchemeField
from shop.calc.shown import ohms
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

VOLT_SOURCE = Source(
    "500 V d.c., 250 V where surge parts or safe low voltage would be harmed",
    Status.SECOND_HAND,
    "pswservices.co.uk/electrical-tests.asp; scribd 621463142 (German limits)",
)


class InsulationLimitIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The scheme, the unit, and the reading if there is one."""

    scheme: SchemeField
    protection_class: ProtectionClass
    heating_kw: Annotated[
        float,
        Meta(
            ge=0,
            le=50,
            title="Heating elements",
            description="kilowatt of heating elements, 0 for none",
        ),
    ] = 0.0
    has_surge_parts: Annotated[
        bool,
        Meta(title="Surge parts", description="varistors or electronics that 500 V would harm"),
    ] = False
    measured_ohm: Annotated[
        Annotated[float, Meta(ge=0, le=1e14)] | None,
        Meta(title="Measured", description="ohm, type 20M for 20 megohm"),
    ] = None


class InsulationLimitOut(msgspec.Struct, frozen=True):
    """The least resistance in ohm and the test voltage; what the reading says."""

    limit_ohm: float | None
    test_volt: int
    within_limit: bool | None
    scheme: str
    scheme_title: str


EXAMPLE = {"scheme": "iet_5", "protection_class": "II", "measured_ohm": 20e6}


@calculator(
    "safety.insulation_limit",
    "Limit of the insulation",
    question="How many megohms must the insulation have, at what test voltage?",
    example=EXAMPLE,
)
def insulation_limit(given: InsulationLimitIn) -> Answer[InsulationLimitOut]:
    """The insulation resistance one scheme asks for, and a reading against it.

    Units: ohm, V d.c., kW. By class and heating power; class 0 by the figure of class I, which no
    scheme names. NO_ANSWER where the scheme gives no figure.
    Source: the scheme's own, partly from memory; see the sources.
    """
    given = fit(given)
    scheme = SCHEMES[given.scheme]
    limit = scheme.insulation(given.protection_class, given.heating_kw)
    value = _value(given, limit)
    sources = [VOLT_SOURCE] if limit is None else [limit.source, VOLT_SOURCE]
    differ = [*scheme.disagreements(), *_differ()]
    working = Working(_lines(given, value), sources, _cautions(given), differ)
    if value.limit_ohm is None:
        text = _(
            "{title} gives no figure for class {name}.",
            title=scheme.title,
            name=given.protection_class,
        )
        return Answer(Outcome.NO_ANSWER, text, value, working)
    unsure = value.within_limit is False or given.protection_class == "0"
    return Answer(Outcome.WARN if unsure else Outcome.OK, _text(value), value, working)


def _value(given: InsulationLimitIn, limit: Limit | None) -> InsulationLimitOut:
    scheme = SCHEMES[given.scheme]
    ohm = None if limit is None else limit.value * 1e6
    within = None
    if ohm is not None and given.measured_ohm is not None:
        within = given.measured_ohm >= ohm
    volt = insulation_volt(given.protection_class, given.has_surge_parts)
    return InsulationLimitOut(ohm, volt, within, scheme.key, scheme.title)


def _text(value: InsulationLimitOut) -> str:
    text = _(
        "At least {limit} at {volt} V d.c. by {title}.",
        limit=ohms(value.limit_ohm or 0.0),
        volt=value.test_volt,
        title=value.scheme_title,
    )
    if value.within_limit is None:
        return text
    said = _("The reading passes.") if value.within_limit else _("The reading fails.")
    return f"{text} {said}"


def _lines(given: InsulationLimitIn, value: InsulationLimitOut) -> list[Line]:
    unit = _("class {name}", name=given.protection_class)
    if given.heating_kw:
        unit = _("{unit}, {kw:g} kW of heating", unit=unit, kw=given.heating_kw)
    limit = _("no figure") if value.limit_ohm is None else ohms(value.limit_ohm)
    lines = [
        Line(_("least resistance"), unit, limit),
        Line(_("test voltage"), _("line and neutral joined"), f"{value.test_volt} V d.c."),
    ]
    if given.measured_ohm is not None:
        lines.append(Line(_("measured"), "", ohms(given.measured_ohm)))
    return lines


def _cautions(given: InsulationLimitIn) -> list[str]:
    said = [
        _("Unplugged, mains switch on, line and neutral joined: 500 V on the prods, hands off."),
        _("Take varistors to earth out, or test with 250 V. Discharge the unit afterwards."),
        _("Local codes and licensed practice come first."),
    ]
    if given.protection_class == "0":
        said.insert(0, _("Class 0 has no figure of its own; that of class I is shown."))
    return said


def _differ() -> list[str]:
    return [
        _("Class II: 2 MΩ by IET and EN, 1 MΩ by AS/NZS."),
        _("Medical (IEC 62353), for comparison: 2 MΩ class I, 7 MΩ class II (from memory)."),
    ]
