"""Which appliance coupler of IEC 60320 a unit needs, and whether a connector may feed an inlet."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.cords.couplers import (
    AMERICAN_MEMORY,
    AMERICAN_SOURCE,
    COUPLER_SOURCE,
    COUPLERS,
    MATING_SOURCE,
    Coupler,
    inlets_for,
    may_feed,
)
from shop.calc.fields import CLASS_LABELS, Ampere, Celsius, fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Working

Connector = Literal[
    "C1", "C5", "C7", "C9", "C13", "C15", "C15A", "C17", "C19", "C21", "C23"
]  # fmt: skip
Inlet = Literal["C2", "C6", "C8", "C10", "C14", "C16", "C16A", "C18", "C20", "C22", "C24"]


class CouplerIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The unit, and what is fitted to it now if that is to be judged."""

    protection_class: Annotated[
        Literal["I", "II"],
        Meta(
            title="Protection class",
            description="couplers exist for earthed (I) and double insulated (II) units",
            extra_json_schema={"x-labels": {"I": CLASS_LABELS["I"], "II": CLASS_LABELS["II"]}},
        ),
    ]
    rated_ampere: Annotated[Ampere, Meta(title="Unit's current", description="ampere")]
    pin_celsius: Annotated[
        Celsius,
        Meta(title="Pins of the inlet", description="°C in use; 70 for units that stay cool"),
    ] = 70.0
    inlet: Annotated[
        Inlet | None, Meta(title="Inlet fitted", description="the unit's side, an even number")
    ] = None
    connector: Annotated[
        Connector | None, Meta(title="Connector of the cord", description="an odd number")
    ] = None


class CouplerOut(msgspec.Struct, frozen=True):
    """What fits, the closest first; and what is fitted: good enough, and mating, or None."""

    fitting: list[Coupler]
    wanted_inlet: str | None
    wanted_connector: str | None
    inlet_suffices: bool | None
    may_mate: bool | None


# A unit whose inlet sits where it reaches 90 C.
EXAMPLE = {"protection_class": "I", "rated_ampere": 10, "pin_celsius": 90, "connector": "C13"}


@calculator(
    "cords.coupler",
    "Appliance inlet and connector",
    question="Which inlet and connector does this unit need?",
    example=EXAMPLE,
)
def coupler(given: CouplerIn) -> Answer[CouplerOut]:
    """Choose the inlet by class, current and pin temperature, and judge what is fitted.

    Units: A at 250 V, °C. The least inlet is the one with the lowest current, then temperature,
    that suffices. A connector may feed an inlet of its own shape of equal or lower temperature.
    NO_ANSWER beyond the table. Raises BadInput for an inlet of the other class.
    Source: IEC 60320-1, as AS/NZS 60320.1:2004.
    """
    given = fit(given)
    fitting = inlets_for(given.protection_class, given.rated_ampere, given.pin_celsius)
    value = _value(given, fitting)
    sources = [COUPLER_SOURCE, MATING_SOURCE, AMERICAN_SOURCE, AMERICAN_MEMORY]
    working = Working(_lines(given, value), sources, _cautions(given), _differ(fitting))
    if not fitting:
        text = _(
            "No coupler carries {ampere:g} A with pins at {celsius:g} °C: a fixed cord.",
            ampere=given.rated_ampere,
            celsius=given.pin_celsius,
        )
        return Answer(Outcome.NO_ANSWER, text, value, working)
    wrong = value.inlet_suffices is False or value.may_mate is False
    return Answer(Outcome.WARN if wrong else Outcome.OK, _text(given, value), value, working)


def _value(given: CouplerIn, fitting: list[Coupler]) -> CouplerOut:
    best = fitting[0] if fitting else None
    inlet = given.inlet or (best.inlet if best else None)
    if given.inlet is not None:
        _require_class(given, given.inlet)
    mates = None
    if given.connector is not None and inlet is not None:
        mates = may_feed(given.connector, inlet)
    return CouplerOut(
        fitting=fitting,
        wanted_inlet=best.inlet if best else None,
        wanted_connector=best.connector if best else None,
        inlet_suffices=None if given.inlet is None else given.inlet in {c.inlet for c in fitting},
        may_mate=mates,
    )


def _require_class(given: CouplerIn, inlet: str) -> None:
    of_class = next(one.protection_class for one in COUPLERS if one.inlet == inlet)
    if of_class != given.protection_class:
        reason = _("{inlet} is an inlet for class {of} units", inlet=inlet, of=of_class)
        raise BadInput("inlet", reason, "other_class")


def _text(given: CouplerIn, value: CouplerOut) -> str:
    said = [
        _(
            "Inlet {inlet} with connector {connector} for {ampere:g} A at {celsius:g} °C.",
            inlet=value.wanted_inlet,
            connector=value.wanted_connector,
            ampere=given.rated_ampere,
            celsius=given.pin_celsius,
        )
    ]
    if value.inlet_suffices is False:
        said.append(_("The {inlet} fitted does not suffice.", inlet=given.inlet))
    if value.may_mate is False:
        inlet = given.inlet or value.wanted_inlet
        said.append(_("{one} must not feed {other}.", one=given.connector, other=inlet))
    return " ".join(said)


def _lines(given: CouplerIn, value: CouplerOut) -> list[Line]:
    wanted = f"I ≥ {given.rated_ampere:g} A, T ≥ {given.pin_celsius:g} °C"
    lines = [
        Line(f"{one.inlet} / {one.connector}", wanted, f"{one.ampere:g} A, {one.pin_celsius:g} °C")
        for one in value.fitting
    ]
    return lines or [Line(_("couplers of the table"), wanted, _("none"))]


def _cautions(given: CouplerIn) -> list[str]:
    said = [
        _("Replace an inlet with one of the same class and at least its ratings."),
        _("Local codes and licensed practice come first."),
    ]
    if given.protection_class == "I":
        said.append(_("Prove the earth from plug pin to chassis after fitting."))
    else:
        said.append(_("A class II inlet has no earth pin: no protective-conductor test."))
    return said


def _differ(fitting: list[Coupler]) -> list[str]:
    return [
        _(
            "{connector}: {iec:g} A by IEC, {american:g} A at 125 V in North America.",
            connector=one.connector,
            iec=one.ampere,
            american=one.north_american_ampere,
        )
        for one in fitting
        if one.north_american_ampere is not None
    ]
