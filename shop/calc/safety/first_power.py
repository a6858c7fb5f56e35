"""What must read right before a rebuilt primary sees mains for the first time.

The insulation figures are those of the shop's scheme, and never below the bench's own floor:
primary to secondary and chassis by the scheme's class II figure, as it is what keeps mains from
everything that can be touched; mains pins to chassis by the unit's own class.
Units: ohm.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import ProtectionClass, fit
from shop.calc.registry import calculator
from shop.calc.safety.schemes import SCHEMES, Limit, SchemeField, SchemeKey
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

MEGOHM: Final = 1e6
# A sound transformer reads hundreds of megohms; below these something is wet or burnt.
WINDING_FLOOR_MEGOHM: Final = 2.0
CHASSIS_FLOOR_MEGOHM: Final = 1.0
EARTH_OHM: Final = 0.5
THERMAL_LINK_OHM: Final = 5.0

EXAMPLE = {"scheme": "en_50678", "protection_class": "I"}


class FirstPowerIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The shop's scheme and the class of the unit; what is not known is taken strictly."""

    scheme: SchemeField
    protection_class: Annotated[
        ProtectionClass | None,
        Meta(title="Protection class", description="of IEC 61140; left out: judged as class II"),
    ] = None


class FirstPower(msgspec.Struct, frozen=True):
    """Least insulation, and the most for an earth and for a thermal link, all in ohm."""

    scheme: str
    primary_to_rest_ohm: float
    mains_to_chassis_ohm: float
    most_earth_ohm: float
    most_thermal_link_ohm: float


@calculator(
    "safety.first_power",
    "Before the first power",
    question="What must insulation and earth read before this unit sees mains again?",
    example=EXAMPLE,
)
def first_power(given: FirstPowerIn) -> Answer[FirstPower]:
    """Least insulation and most earth resistance before first power, in ohm.

    Units: ohm. Source: the scheme's own insulation figures; floors proposed.
    Only stricter than the scheme: never below 2 and 1 megohm. The check before hand-back measures
    again, by `safety.limits`.
    """
    given = fit(given)
    title = SCHEMES[given.scheme].title
    winding, chassis = _figure(given.scheme, "II"), _figure(given.scheme, given.protection_class)
    value = FirstPower(
        scheme=given.scheme,
        primary_to_rest_ohm=_floored(winding, WINDING_FLOOR_MEGOHM),
        mains_to_chassis_ohm=_floored(chassis, CHASSIS_FLOOR_MEGOHM),
        most_earth_ohm=EARTH_OHM,
        most_thermal_link_ohm=THERMAL_LINK_OHM,
    )
    text = _(
        "At least {winding:g} megohm from the primary to the rest, {chassis:g} megohm from the "
        "mains pins to chassis.",
        winding=value.primary_to_rest_ohm / MEGOHM,
        chassis=value.mains_to_chassis_ohm / MEGOHM,
    )
    return Answer(Outcome.OK, text, value, _working(value, title, [winding, chassis]))


def _figure(scheme: SchemeKey, protection: str | None) -> Limit | None:
    """The scheme's insulation figure, megohm. Class 0 is judged as II: nothing earths it."""
    as_class = "II" if protection in (None, "0") else protection
    return SCHEMES[scheme].insulation(str(as_class), 0.0)


def _floored(found: Limit | None, floor: float) -> float:
    return max(found.value if found else 0.0, floor) * MEGOHM


def _working(value: FirstPower, title: str, found: list[Limit | None]) -> Working:
    lines = [
        Line(
            _("primary to secondary, chassis and core"),
            _("{scheme}, class II; never below {floor:g} megohm", scheme=title,
              floor=WINDING_FLOOR_MEGOHM),
            _("at least {megohm:g} megohm", megohm=value.primary_to_rest_ohm / MEGOHM),
        ),
        Line(
            _("mains pins joined, to chassis"),
            _("{scheme}, the unit's class; never below {floor:g} megohm", scheme=title,
              floor=CHASSIS_FLOOR_MEGOHM),
            _("at least {megohm:g} megohm", megohm=value.mains_to_chassis_ohm / MEGOHM),
        ),
        Line(_("earth pin to chassis, first look"), _("with a multimeter, leads taken off"),
             f"{EARTH_OHM:g} ohm"),
        Line(_("thermal link"), _("closed, leads included"), f"{THERMAL_LINK_OHM:g} ohm"),
    ]  # fmt: skip
    sources = [limit.source for limit in found if limit is not None]
    return Working(lines, [*dict.fromkeys(sources), OURS], _cautions(), _disagreements())


def _cautions() -> list[str]:
    return [
        _("500 V d.c. is on everything you test: hands off, and discharge the winding afterwards."),
        _("Take varistors and surge parts out, or use 250 V."),
        _("Tests on mains are for a competent person; local codes come first."),
    ]


def _disagreements() -> list[str]:
    return [
        _("Class II insulation is 2 megohm in most schemes and 1 megohm in AS/NZS 3760; here 2."),
        _("A new transformer is tested with kilovolts between its windings: not here."),
    ]


OURS: Final = Source(
    "floors of 2 and 1 megohm; 0.5 ohm earth at a first look; 5 ohm thermal link", Status.PROPOSED
)
