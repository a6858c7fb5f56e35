"""What a rail must read at full line, loaded and warm: volts, ripple, volts before its regulator.

Volts: between the sheet's limits, or 5 % either way. Ripple: the sheet's, else that of the
reservoir, I / (n f C), as r.m.s. Before a regulator so much that it still holds at the lowest line:
crest = (V_out + dropout + Vd + Vpp) line / low - Vd; a d.c. meter reads crest - Vpp / 2.
Units: volt, ampere, farad, hertz; millivolt r.m.s. for the sheet's ripple.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import Hertz, MainsVolt, fit
from shop.calc.rails.rectifiers import (
    BRIDGE_DROP_VOLT,
    DIODE_SOURCE,
    DROPOUT_SOURCE,
    DROPOUT_VOLT,
    RIPPLE_SOURCE,
    SAWTOOTH_RMS,
    SAWTOOTH_SOURCE,
    DropoutVolt,
    DropVolt,
    LoadAmpere,
    Rectifier,
    RectifierKind,
    ReservoirFarad,
    ripple_volt,
)
from shop.calc.rails.regulator import LOW_LINE
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

TOLERANCE: Final = 0.05
# Peak to peak, of the volts before a regulator whose reservoir or current nobody knows.
USUAL_RIPPLE: Final = 0.1

EXAMPLE = {
    "rail_volt": 5,
    "low_volt": 4.75,
    "high_volt": 5.25,
    "ripple_millivolt": 10,
    "line_volt": 230,
    "low_line_volt": 207,
    "load_ampere": 1,
    "reservoir_farad": 0.0047,
}

RailVolt = Annotated[float, Meta(ge=-5000, le=5000)]


class RailLimitsIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A rail with its sign, and what its sheet says of it."""

    rail_volt: Annotated[
        RailVolt, Meta(title="Rail", description="V d.c. by the sheet, with its sign")
    ]
    low_volt: Annotated[
        RailVolt | None,
        Meta(title="Lowest", description="by the sheet, with sign; left out: 5 % beside the rail"),
    ] = None
    high_volt: Annotated[
        RailVolt | None,
        Meta(title="Highest", description="by the sheet, with sign; left out: 5 % beside the rail"),
    ] = None
    ripple_millivolt: Annotated[
        Annotated[float, Meta(ge=0.001, le=1e6)] | None,
        Meta(title="Ripple by the sheet", description="mV r.m.s. at most, on the a.c. range"),
    ] = None
    line_volt: Annotated[
        MainsVolt, Meta(title="Line now", description="mains while you read, V r.m.s.")
    ] = 230.0
    low_line_volt: Annotated[
        MainsVolt | None,
        Meta(title="Lowest line", description="V r.m.s.; left out: nine tenths of the line now"),
    ] = None
    load_ampere: Annotated[
        LoadAmpere | None, Meta(title="Current", description="direct current of the rail, A")
    ] = None
    reservoir_farad: Annotated[
        ReservoirFarad | None, Meta(title="Reservoir", description="before the regulator, farad")
    ] = None
    rectifier: RectifierKind = Rectifier.FULL_WAVE
    supply_hertz: Annotated[
        Hertz, Meta(title="Mains frequency", description="50 Hz has the larger ripple")
    ] = 50.0
    drop_volt: DropVolt = BRIDGE_DROP_VOLT
    dropout_volt: DropoutVolt = DROPOUT_VOLT


class RailLimits(msgspec.Struct, frozen=True):
    """Limits with the rail's sign; `most_ripple_volt` r.m.s., None if nothing tells it.

    `before_low_volt` and `before_high_volt` bound a reading before its regulator, with sign; the
    side away from nought is open.
    """

    low_volt: float
    high_volt: float
    most_ripple_volt: float | None
    least_before_volt: float
    before_low_volt: float | None
    before_high_volt: float | None


@calculator(
    "rails.limits",
    "Limits of a supply rail",
    question="What must this rail read at full line, and how much before its regulator?",
    example=EXAMPLE,
)
def limits(given: RailLimitsIn) -> Answer[RailLimits]:
    """Volts, ripple and the least volts before a regulator, all at the line as it is now.

    Units: volt, millivolt, ampere, farad, hertz. Formula: head of the module.
    Raises BadInput if the limits are crossed or leave the rail out, the rail is nought, or the
    lowest line is above the line now.
    Source: the sheet's own limits; ripple and dropout as in `rails.ripple`, `rails.regulator`.
    """
    given = fit(given)
    _check(given)
    value = _value(given)
    return Answer(Outcome.OK, _words(given, value), value, _working(given, value))


def _check(given: RailLimitsIn) -> None:
    if given.rail_volt == 0:
        raise BadInput("rail_volt", _("A rail of no volts has no limits."), "nought")
    low, high = _volts(given)
    if not low <= given.rail_volt <= high:
        reason = _("The rail must lie between its limits; those of a negative rail have a minus.")
        raise BadInput("low_volt", reason, "limits_crossed")
    if _low_line(given) > given.line_volt:
        raise BadInput("low_line_volt", _("The lowest line is above the line now."), "above_line")


def _volts(given: RailLimitsIn) -> tuple[float, float]:
    off = abs(given.rail_volt) * TOLERANCE
    low = given.rail_volt - off if given.low_volt is None else given.low_volt
    high = given.rail_volt + off if given.high_volt is None else given.high_volt
    return low, high


def _low_line(given: RailLimitsIn) -> float:
    return given.low_line_volt or given.line_volt * LOW_LINE


def _reservoir_ripple(given: RailLimitsIn) -> float | None:
    """Peak to peak before a regulator; None where current or reservoir is not known."""
    if given.load_ampere is None or given.reservoir_farad is None:
        return None
    return ripple_volt(
        given.load_ampere, given.reservoir_farad, given.supply_hertz, given.rectifier
    )


def _least_before(given: RailLimitsIn, ripple: float | None) -> float:
    needed = abs(given.rail_volt) + given.dropout_volt + given.drop_volt
    factor = given.line_volt / _low_line(given)
    if ripple is None:
        # Vpp = r V, V = crest - Vpp / 2: solved for V
        crest_share = 1 + USUAL_RIPPLE / 2 - USUAL_RIPPLE * factor
        return (needed * factor - given.drop_volt) / crest_share
    return (needed + ripple) * factor - given.drop_volt - ripple / 2


def _value(given: RailLimitsIn) -> RailLimits:
    low, high = _volts(given)
    ripple = _reservoir_ripple(given)
    least = _least_before(given, ripple)
    is_positive = given.rail_volt > 0
    return RailLimits(
        low_volt=low,
        high_volt=high,
        most_ripple_volt=_most_ripple(given, ripple),
        least_before_volt=least,
        before_low_volt=least if is_positive else None,
        before_high_volt=None if is_positive else -least,
    )


def _most_ripple(given: RailLimitsIn, ripple: float | None) -> float | None:
    if given.ripple_millivolt is not None:
        return given.ripple_millivolt / 1000
    return None if ripple is None else ripple * SAWTOOTH_RMS


def _words(given: RailLimitsIn, value: RailLimits) -> str:
    said = [_("{low:.4g} to {high:.4g} V.", low=value.low_volt, high=value.high_volt)]
    if given.low_volt is None or given.high_volt is None:
        said.append(_("The sheet names no limits: 5 % to either side is our choice."))
    if value.most_ripple_volt is not None:
        said.append(_("Ripple at most {ripple:.3g} V r.m.s.", ripple=value.most_ripple_volt))
    else:
        said.append(_("How much ripple it may have is not known."))
    least = _("Where it has a regulator, at least {volt:.3g} V before it.",
              volt=value.least_before_volt)  # fmt: skip
    return " ".join([*said, least])


def _working(given: RailLimitsIn, value: RailLimits) -> Working:
    ripple = _reservoir_ripple(given)
    lines = [
        Line(
            _("rail"),
            _("by the sheet") if given.low_volt is not None else "5 %",
            f"{value.low_volt:.4g} – {value.high_volt:.4g} V",
        ),
        Line(
            _("ripple before the regulator, peak to peak"),
            _("a tenth of the volts there") if ripple is None else "I / (n f C)",
            _("not known") if ripple is None else f"{ripple:.3g} V",
        ),
        Line(
            _("before the regulator, at least"),
            _("(V + dropout + Vd + Vpp) x {line:g} / {low:g} - Vd - Vpp / 2",
              line=given.line_volt, low=_low_line(given)),
            f"{value.least_before_volt:.3g} V",
        ),
    ]  # fmt: skip
    if value.most_ripple_volt is not None:
        how = _("by the sheet") if given.ripple_millivolt is not None else "Vpp / (2 sqrt 3)"
        lines.insert(1, Line(_("ripple, r.m.s."), how, f"{value.most_ripple_volt:.3g} V"))
    return Working(lines, _SOURCES, [_caution()])


def _caution() -> str:
    return _("Clip the meter on while all is dead and discharged; read, do not reach in.")


_SOURCES = [
    Source("limits and ripple that the model sheet names", Status.COMPUTED),
    Source("5 % either way where the sheet names no limits", Status.PROPOSED),
    Source("10 % ripple before a regulator, peak to peak, where nobody knows it", Status.PROPOSED),
    Source("line down to 90 % where no lowest line is given", Status.PROPOSED),
    RIPPLE_SOURCE,
    SAWTOOTH_SOURCE,
    DROPOUT_SOURCE,
    DIODE_SOURCE,
]
