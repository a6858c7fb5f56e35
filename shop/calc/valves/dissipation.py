"""What plate and screen burn at idle, against the valve's maximum.

Plate to cathode V_ak = V_a - V_k. Plate current: measured, or cathode current less the screen's.
P_a = V_ak I_a; P_g2 = (V_g2 - V_k) I_g2. Without a figure for the screen all of the cathode
current is taken for plate current: that is the most the plate can burn.
Units: volt, ampere, watt, per cent of the maximum.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.valves.cautions import high_voltage
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

EXAMPLE = {
    "plate_volt": 450,
    "cathode_ampere": 0.05,
    "most_plate_watt": 25,
    "operation": "cathode_bias",
}


class Operation(StrEnum):
    """How the bias is made, which decides how much idle dissipation is usual."""

    FIXED_BIAS = "fixed_bias"
    CATHODE_BIAS = "cathode_bias"


OPERATION_WORDS: Final = {
    "fixed_bias": _noop("fixed bias, class AB"),
    "cathode_bias": _noop("cathode bias or class A"),
}
# Idle dissipation from which it is a warning, per cent of the maximum.
WARN_PERCENT: Final = {Operation.FIXED_BIAS: 70.0, Operation.CATHODE_BIAS: 100.0}
MOST_PERCENT: Final = 100.0

ElectrodeVolt = Annotated[float, Meta(ge=1, le=5000)]
ElectrodeAmpere = Annotated[float, Meta(ge=0, le=10)]
MostWatt = Annotated[float, Meta(ge=0.01, le=2000)]


class DissipationIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Readings at idle, each volt to chassis. Give plate current, or cathode current."""

    plate_volt: Annotated[
        ElectrodeVolt, Meta(title="Plate", description="plate to chassis, V d.c., no signal")
    ]
    most_plate_watt: Annotated[
        MostWatt, Meta(title="Plate at most", description="watt, from the valve's sheet")
    ]
    plate_ampere: Annotated[
        ElectrodeAmpere | None,
        Meta(title="Plate current", description="A; or give the cathode's"),
    ] = None
    cathode_ampere: Annotated[
        ElectrodeAmpere | None,
        Meta(title="Cathode current", description="A of one valve, screen current included"),
    ] = None
    cathode_volt: Annotated[
        float,
        Meta(ge=0, le=500, title="Cathode", description="cathode to chassis, V d.c.; 0 if earthed"),
    ] = 0.0
    screen_ampere: Annotated[
        ElectrodeAmpere | None,
        Meta(title="Screen current", description="A: volts over the screen resistor by its ohms"),
    ] = None
    screen_volt: Annotated[
        ElectrodeVolt | None, Meta(title="Screen", description="screen to chassis, V d.c.")
    ] = None
    most_screen_watt: Annotated[
        MostWatt | None, Meta(title="Screen at most", description="watt, from the valve's sheet")
    ] = None
    operation: Annotated[
        Operation,
        Meta(
            title="Bias",
            description="how the grid gets its bias",
            extra_json_schema={"x-labels": OPERATION_WORDS},
        ),
    ] = Operation.FIXED_BIAS


class Dissipation(msgspec.Struct, frozen=True):
    """Plate and screen at idle. `is_upper_bound`: screen current is still in the plate's."""

    plate_to_cathode_volt: float
    plate_ampere: float
    plate_watt: float
    plate_percent: float
    most_plate_ampere: float
    usual_plate_ampere: float
    is_upper_bound: bool
    screen_watt: float | None
    screen_percent: float | None


@calculator(
    "valves.dissipation",
    "Plate dissipation of a valve",
    question="Does this valve idle within its plate dissipation?",
    example=EXAMPLE,
)
def dissipation(given: DissipationIn) -> Answer[Dissipation]:
    """Plate and screen dissipation at idle, in watt and as a share of the maximum.

    Units: volt, ampere, watt, per cent. Formula: P = (V_a - V_k) I_a.
    Source: tubes.nekhbet.com/math.shtml; 70 % at fixed bias, an amplifier builder's page.
    Above the maximum: refuse. Fixed bias above 70 %: warn. Raises BadInput if no current or both
    are given, the screen takes more than the cathode gives, or the cathode is above the plate.
    """
    given = fit(given)
    ampere, is_bound = _plate_ampere(given)
    value = _value(given, ampere, is_bound)
    outcome, remark = _judge(given, value)
    text = _(
        "The plate burns {watt:.3g} W, {percent:.0f} % of its maximum.",
        watt=value.plate_watt,
        percent=value.plate_percent,
    )
    return Answer(outcome, f"{text} {remark}".strip(), value, _working(given, value))


def _plate_ampere(given: DissipationIn) -> tuple[float, bool]:
    """Plate current, and whether it still holds the screen's."""
    if (given.plate_ampere is None) == (given.cathode_ampere is None):
        reason = _("Give the plate current or the cathode current, one of them.")
        raise BadInput("plate_ampere", reason, "one_of_two")
    if given.plate_ampere is not None:
        return given.plate_ampere, False
    cathode = given.cathode_ampere or 0.0
    if given.screen_ampere is None:
        return cathode, True
    if given.screen_ampere > cathode:
        reason = _("The screen cannot take more than the cathode gives.")
        raise BadInput("screen_ampere", reason, "above_cathode")
    return cathode - given.screen_ampere, False


def _value(given: DissipationIn, ampere: float, is_bound: bool) -> Dissipation:
    across = given.plate_volt - given.cathode_volt
    if across <= 0:
        reason = _("The cathode is above the plate: are the two readings swapped?")
        raise BadInput("cathode_volt", reason, "above_plate")
    watt = across * ampere
    most = given.most_plate_watt / across
    screen_watt = _screen_watt(given)
    return Dissipation(
        plate_to_cathode_volt=across,
        plate_ampere=ampere,
        plate_watt=watt,
        plate_percent=watt / given.most_plate_watt * 100,
        most_plate_ampere=most,
        usual_plate_ampere=most * WARN_PERCENT[given.operation] / 100,
        is_upper_bound=is_bound,
        screen_watt=screen_watt,
        screen_percent=_share(screen_watt, given.most_screen_watt),
    )


def _screen_watt(given: DissipationIn) -> float | None:
    if given.screen_ampere is None or given.screen_volt is None:
        return None
    if given.screen_volt <= given.cathode_volt:
        reason = _("The cathode is above the screen: are the two readings swapped?")
        raise BadInput("screen_volt", reason, "below_cathode")
    return (given.screen_volt - given.cathode_volt) * given.screen_ampere


def _share(watt: float | None, most: float | None) -> float | None:
    return None if watt is None or most is None else watt / most * 100


def _judge(given: DissipationIn, value: Dissipation) -> tuple[Outcome, str]:
    usual = WARN_PERCENT[given.operation]
    if value.screen_percent is not None and value.screen_percent > MOST_PERCENT + 1e-9:
        return Outcome.REFUSE, _("The screen is beyond its maximum: switch off, find out why.")
    if value.plate_percent > MOST_PERCENT + 1e-9:
        if value.is_upper_bound:
            return Outcome.REFUSE, _(
                "Beyond its maximum unless the screen takes the rest: measure the screen current."
            )
        return Outcome.REFUSE, _("Beyond its maximum: switch off, find out why.")
    if value.plate_percent > usual + 1e-9:
        return Outcome.WARN, _(
            "Fixed bias is usually set to {usual:.0f} % or less, {current:.3g} mA here.",
            usual=usual,
            current=value.usual_plate_ampere * 1000,
        )
    return Outcome.OK, ""


def _working(given: DissipationIn, value: Dissipation) -> Working:
    lines = [
        Line(
            _("plate to cathode"),
            f"{given.plate_volt:g} - {given.cathode_volt:g}",
            f"{value.plate_to_cathode_volt:.4g} V",
        ),
        _current_line(given, value),
        Line(
            _("plate dissipation"),
            f"{value.plate_to_cathode_volt:.4g} V x {value.plate_ampere * 1000:.4g} mA",
            f"{value.plate_watt:.3g} W",
        ),
        Line(
            _("of its maximum"),
            f"{value.plate_watt:.3g} / {given.most_plate_watt:g} W",
            f"{value.plate_percent:.0f} %",
        ),
    ]
    if value.screen_watt is not None:
        screen = f"{value.screen_watt:.3g} W"
        lines.append(Line(_("screen dissipation"), "(V_g2 - V_k) I_g2", screen))
    return Working(lines, _SOURCES, _cautions(), [idle_disagreement()])


def _current_line(given: DissipationIn, value: Dissipation) -> Line:
    how = _("as measured")
    if value.is_upper_bound:
        how = _("cathode current, screen included: at most")
    elif given.cathode_ampere is not None:
        how = _("cathode less screen")
    return Line(_("plate current"), how, f"{value.plate_ampere * 1000:.4g} mA")


def _cautions() -> list[str]:
    return [
        *high_voltage(),
        _("A plate that glows is far beyond: switch off at once."),
        _("Set the bias with the line at its usual volts; it rises with the line."),
    ]


def idle_disagreement() -> str:
    """What pages say of the usual idle share; shown, never averaged."""
    return _(
        "Idle share: 70 % at most in class AB fixed bias (one page), 66 % at cathode bias "
        "(another); many old units run hotter by design. The maker's figure wins."
    )


POWER_SOURCE: Final = Source(
    "P = V I; 450 V x 50 mA = 22.5 W, 90 % of 25 W",
    Status.SECOND_HAND,
    "tubes.nekhbet.com/math.shtml",
)
_SOURCES = [
    POWER_SOURCE,
    Source("class AB usually at no more than 70 % at idle", Status.SECOND_HAND,
           "an amplifier builder's page on biasing"),
    Source("plate current is cathode current less the screen's", Status.COMPUTED),
    Source("maxima as design-centre or design-maximum values differ by a sixth or so",
           Status.FROM_MEMORY),
]  # fmt: skip
