"""What the pins of a valve must read at idle: heater, plate, cathode along the plate.

Heater: as far off as `valves.heater` lets it work. Cathode: between the sheet's volts, and never so
much that the plate burns more than its maximum: (V_a - V_k) V_k / R = P, all of the cathode's
current taken for the plate's. The maker's volts for the unit win over the usual 70 %.
Units: volt, ohm, watt.
"""

from __future__ import annotations

from math import sqrt
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import WindingVolt, fit
from shop.calc.registry import calculator
from shop.calc.valves.cautions import high_voltage
from shop.calc.valves.dissipation import (
    POWER_SOURCE,
    WARN_PERCENT,
    ElectrodeVolt,
    MostWatt,
    Operation,
    idle_disagreement,
)
from shop.calc.valves.heater import CATHODE_WORDS, Cathode
from shop.calc.windings.verdicts import (
    FIVE_PERCENT,
    HEATER_OK_PERCENT,
    HEATER_SOURCE,
    HEATER_WARN_PERCENT,
    THORIATED_SOURCE,
)
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

PLATE_SHARE: Final = 0.1
RESISTOR_SHARE: Final = 0.1
# Half to one and a half of the sheet's plate volts in steps so small that a straight line between
# two points is at most a quarter of a per cent above the curve.
STEPS: Final = [0.5 + 0.05 * step for step in range(21)]

EXAMPLE = {
    "heater_volt": 6.3,
    "plate_volt": 250,
    "most_plate_watt": 12,
    "cathode_ohm": 270,
    "cathode_low_volt": 11,
    "cathode_high_volt": 14,
}

CathodeVolt = Annotated[float, Meta(ge=0, le=500)]
CathodeOhm = Annotated[float, Meta(ge=0.1, le=1e6)]


class ValveLimitsIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One valve by the model sheet. What is left out is not limited."""

    heater_volt: Annotated[WindingVolt, Meta(title="Heater", description="V rated, by the sheet")]
    cathode: Annotated[
        Cathode,
        Meta(
            title="Cathode",
            description="kind of cathode",
            extra_json_schema={"x-labels": CATHODE_WORDS},
        ),
    ] = Cathode.OXIDE
    plate_volt: Annotated[
        ElectrodeVolt | None,
        Meta(title="Plate", description="plate to chassis, V d.c., by the unit's sheet"),
    ] = None
    most_plate_watt: Annotated[
        MostWatt | None, Meta(title="Plate at most", description="W, by the valve's sheet")
    ] = None
    cathode_ohm: Annotated[
        CathodeOhm | None,
        Meta(title="Cathode resistor", description="ohm, by the sheet; also one to measure on"),
    ] = None
    cathode_low_volt: Annotated[
        CathodeVolt | None, Meta(title="Cathode lowest", description="V d.c. by the unit's sheet")
    ] = None
    cathode_high_volt: Annotated[
        CathodeVolt | None, Meta(title="Cathode highest", description="V d.c. by the unit's sheet")
    ] = None


class ValveLimits(msgspec.Struct, frozen=True):
    """Limits at the pins; None where nothing tells them.

    `cathode_points` are (plate volts, lowest, highest volts over the cathode resistor).
    """

    heater_low_volt: float
    heater_high_volt: float
    plate_low_volt: float | None
    plate_high_volt: float | None
    resistor_low_ohm: float | None
    resistor_high_ohm: float | None
    cathode_points: list[tuple[float, float | None, float | None]]
    full_plate_volt: float | None
    usual_plate_volt: float | None


@calculator(
    "valves.limits",
    "Limits at the pins of a valve",
    question="What must heater, plate and cathode of this valve read at idle?",
    example=EXAMPLE,
)
def limits(given: ValveLimitsIn) -> Answer[ValveLimits]:
    """Heater, plate and cathode volts at idle, the cathode's along the plate as read.

    `full_plate_volt` is what stands over the cathode resistor when the plate at the sheet's volts
    burns its maximum, `usual_plate_volt` at 70 % of it.
    Units: volt, ohm, watt. Formula: head of the module. Raises BadInput if the cathode's limits are
    crossed. Source: the limits of `valves.heater` and `valves.dissipation`.
    """
    given = fit(given)
    if (given.cathode_low_volt or 0) > (given.cathode_high_volt or 500):
        reason = _("The lowest cathode volts are above the highest.")
        raise BadInput("cathode_low_volt", reason, "limits_crossed")
    value = _value(given)
    return Answer(Outcome.OK, _words(value), value, _working(given, value))


def _value(given: ValveLimitsIn) -> ValveLimits:
    off = _heater_share(given)
    plate, ohm = given.plate_volt, given.cathode_ohm
    return ValveLimits(
        heater_low_volt=given.heater_volt * (1 - off),
        heater_high_volt=given.heater_volt * (1 + off),
        plate_low_volt=None if plate is None else plate * (1 - PLATE_SHARE),
        plate_high_volt=None if plate is None else plate * (1 + PLATE_SHARE),
        resistor_low_ohm=None if ohm is None else ohm * (1 - RESISTOR_SHARE),
        resistor_high_ohm=None if ohm is None else ohm * (1 + RESISTOR_SHARE),
        cathode_points=_points(given),
        full_plate_volt=None if plate is None else _burning(given, plate, 1),
        usual_plate_volt=None if plate is None else _burning(given, plate, _usual_share()),
    )


def _heater_share(given: ValveLimitsIn) -> float:
    is_thoriated = given.cathode is Cathode.THORIATED
    return (HEATER_OK_PERCENT if is_thoriated else HEATER_WARN_PERCENT) / 100


def _usual_share() -> float:
    return WARN_PERCENT[Operation.FIXED_BIAS] / 100


def _points(given: ValveLimitsIn) -> list[tuple[float, float | None, float | None]]:
    if given.plate_volt is None:
        return []
    plates = [given.plate_volt * step for step in STEPS]
    return [(plate, given.cathode_low_volt, _cathode_high(given, plate)) for plate in plates]


def _cathode_high(given: ValveLimitsIn, plate_volt: float) -> float | None:
    """The lower of the sheet's highest volts and those that burn the plate's maximum."""
    burning = _burning(given, plate_volt, 1)
    found = [volt for volt in (given.cathode_high_volt, burning) if volt is not None]
    highest = min(found, default=None)
    # So high a plate leaves no current within the sheet's volts: then the lowest is the highest.
    low = given.cathode_low_volt
    return highest if highest is None or low is None else max(highest, low)


def _burning(given: ValveLimitsIn, plate_volt: float, share: float) -> float | None:
    """Volts over the cathode resistor at a share of the maximum; None if never so much burns.

    V_k^2 - V_a V_k + R P = 0; the smaller root, where the valve still has most of the volts.
    """
    if given.most_plate_watt is None or given.cathode_ohm is None:
        return None
    square = plate_volt**2 - 4 * given.cathode_ohm * given.most_plate_watt * share
    return None if square < 0 else (plate_volt - sqrt(square)) / 2


def _words(value: ValveLimits) -> str:
    said = [_("Heater {low:.3g} to {high:.3g} V.",
              low=value.heater_low_volt, high=value.heater_high_volt)]  # fmt: skip
    if value.plate_low_volt is not None and value.plate_high_volt is not None:
        low, high = value.plate_low_volt, value.plate_high_volt
        said.append(_("Plate {low:.0f} to {high:.0f} V.", low=low, high=high))
    if value.full_plate_volt is not None and value.usual_plate_volt is not None:
        full, usual = value.full_plate_volt, value.usual_plate_volt
        words = _("The plate burns its maximum at {full:.3g} V over the cathode resistor, seven "
                  "tenths at {usual:.3g} V.", full=full, usual=usual)  # fmt: skip
        said.append(words)
    return " ".join(said)


def _working(given: ValveLimitsIn, value: ValveLimits) -> Working:
    percent = _heater_share(given) * 100
    heater = f"{value.heater_low_volt:.3g} – {value.heater_high_volt:.3g} V"
    lines = [Line(_("heater"), f"{given.heater_volt:g} V ± {percent:g} %", heater)]
    if value.plate_low_volt is not None and value.plate_high_volt is not None:
        plate = f"{value.plate_low_volt:.4g} – {value.plate_high_volt:.4g} V"
        lines.append(Line(_("plate to chassis"), f"{given.plate_volt:g} V ± 10 %", plate))
    if value.full_plate_volt is not None:
        formula = f"(V_a - V_k) V_k / {given.cathode_ohm:g} Ω = {given.most_plate_watt:g} W"
        full = f"{value.full_plate_volt:.3g} V"
        lines.append(Line(_("cathode at the plate's maximum"), formula, full))
    return Working(lines, _SOURCES, _cautions(), [idle_disagreement()])


def _cautions() -> list[str]:
    return [
        *high_voltage(),
        _("A plate that glows is far beyond: switch off at once."),
        _("Heaters may stand on high voltage: measure to chassis first, then between the pins."),
    ]


_SOURCES = [
    HEATER_SOURCE,
    FIVE_PERCENT,
    THORIATED_SOURCE,
    POWER_SOURCE,
    Source("cathode volts by the unit's sheet, bounded by the plate's maximum", Status.COMPUTED),
    Source("plate within 10 % of the sheet, as the mains", Status.PROPOSED),
    Source("resistors of old units: 10 % by their silver ring", Status.COMMON_PRACTICE),
]  # fmt: skip
