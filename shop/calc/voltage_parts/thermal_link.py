"""Thermal links in a transformer: is each section protected, and at a fitting temperature."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import Name, fit
from shop.calc.registry import calculator
from shop.calc.voltage_parts.fittings import LINK_SOURCE
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

InsulationClass = Literal["A", "E", "B", "F", "H"]
CLASS_CELSIUS: dict[str, float] = {"A": 105, "E": 120, "B": 130, "F": 155, "H": 180}
CLASS_SOURCE = Source("IEC 60085: A 105, E 120, B 130, F 155, H 180 °C", Status.FROM_MEMORY)
FIT_SOURCE = Source("A link should open no hotter than the insulation's class", Status.PROPOSED)
SectionName = Annotated[Name, Meta(title="Section", description="its name")]


class ThermalLinkIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The sections in use, which of them have a link that measures through, how they connect."""

    sections: Annotated[
        list[SectionName],
        Meta(
            min_length=1,
            max_length=8,
            title="Sections in use",
            description="names of the primary sections",
        ),
    ]
    linked: Annotated[
        list[SectionName],
        Meta(
            max_length=8,
            title="With a link",
            description="sections with a thermal link in series, continuity measured",
        ),
    ]
    connection: Annotated[
        Literal["series", "parallel"],
        Meta(
            title="Connection",
            description="of the sections in use",
            extra_json_schema={
                "x-labels": {"series": _noop("in series"), "parallel": _noop("in parallel")}
            },
        ),
    ]
    link_celsius: Annotated[
        Annotated[float, Meta(ge=40, le=260)] | None,
        Meta(title="Link opens at", description="°C marked on it"),
    ] = None
    insulation_class: Annotated[
        InsulationClass | None,
        Meta(title="Insulation class", description="letter on the transformer"),
    ] = None


class ThermalLinkOut(msgspec.Struct, frozen=True):
    """Sections without protection, and whether the link's temperature fits (None: not known)."""

    unprotected: list[str]
    class_celsius: float | None
    temperature_fits: bool | None


EXAMPLE = {
    "sections": ["A", "B"],
    "linked": ["A"],
    "connection": "parallel",
    "link_celsius": 115,
    "insulation_class": "E",
}


@calculator(
    "voltage_parts.thermal_link",
    "Thermal links of a transformer",
    question="Does a thermal link still protect every section as connected now?",
    example=EXAMPLE,
)
def thermal_link(given: ThermalLinkIn) -> Answer[ThermalLinkOut]:
    """Say which primary sections have no thermal link in their current's way.

    Units: °C. In series one link opens the whole chain; in parallel each section needs its own.
    The link should open at or below the temperature of the insulation class. Raises BadInput for a
    linked section that is not in use.
    Source: IEC 60691, IEC 61558-1, IEC 60085, all from memory.
    """
    given = fit(given)
    strangers = sorted(set(given.linked) - set(given.sections))
    if strangers:
        reason = _("{names} is not among the sections in use", names=", ".join(strangers))
        raise BadInput("linked", reason, "not_in_use")
    value = _value(given)
    sources = [LINK_SOURCE, CLASS_SOURCE, FIT_SOURCE]
    working = Working(_lines(given, value), sources, _cautions(given, value))
    unsure = bool(value.unprotected) or value.temperature_fits is False
    return Answer(Outcome.WARN if unsure else Outcome.OK, _text(value), value, working)


def _value(given: ThermalLinkIn) -> ThermalLinkOut:
    if given.connection == "series" and given.linked:
        unprotected = []
    else:
        unprotected = [name for name in given.sections if name not in given.linked]
    top = CLASS_CELSIUS.get(given.insulation_class or "")
    fits = None if top is None or given.link_celsius is None else given.link_celsius <= top
    return ThermalLinkOut(unprotected, top, fits)


def _text(value: ThermalLinkOut) -> str:
    if value.unprotected:
        names = ", ".join(value.unprotected)
        return _("Without a thermal link: {names}.", names=names)
    if value.temperature_fits is False:
        return _("The link opens hotter than the insulation's class.")
    return _("Every section in use has a thermal link in its way.")


def _lines(given: ThermalLinkIn, value: ThermalLinkOut) -> list[Line]:
    how = {"series": _("one link opens the chain"), "parallel": _("each needs its own")}
    said = ", ".join(value.unprotected) or _("none")
    lines = [Line(_("sections without a link"), how[given.connection], said)]
    if value.class_celsius is not None:
        lines.append(Line(_("insulation class"), "IEC 60085", f"{value.class_celsius:g} °C"))
    if given.link_celsius is not None:
        lines.append(Line(_("link opens at"), "T_link ≤ T_class", f"{given.link_celsius:g} °C"))
    return lines


def _cautions(given: ThermalLinkIn, value: ThermalLinkOut) -> list[str]:
    said = [
        _("A link opens once. Find out why it did before fitting another of the same rating."),
        _("Never bridge a link, and never solder near one without a heat sink."),
        _("Measure continuity of every section before first power."),
    ]
    if value.unprotected and not given.linked:
        said.insert(0, _("No link at all: the line fuse alone protects this transformer."))
    elif value.unprotected:
        said.insert(0, _("In parallel an unprotected section goes on heating when the link opens."))
    return said
