"""How far readings of a winding may be off: ohms cold, secondary volts, the phasing test.

Ohms follow copper, 0.39 % per kelvin: 10 to 40 °C is -4 to +8 %; the rest is left for leads and
old sheets. A shorted turn hardly shows in ohms; a burnt or wrong section does.
Volts: the line moves while one reads, and regulation on a sheet is a round number.
Units: ohm, volt; shares of what is expected. All are proposals.
"""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import WindingVolt, fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

OHM_LOW, OHM_HIGH = 0.8, 1.25
OPEN_LOW, OPEN_HIGH = 0.93, 1.07
LOADED_LOW, LOADED_HIGH = 0.93, 1.05
FEED_LOW_VOLT, FEED_HIGH_VOLT = 1.0, 25.0

Ohm = Annotated[float, Meta(ge=1e-3, le=1e6)]


class ResistanceBandIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A winding's resistance by its model sheet."""

    sheet_ohm: Annotated[
        Ohm, Meta(title="By the sheet", description="ohm, cold, from a sound specimen")
    ]


class ResistanceBand(msgspec.Struct, frozen=True):
    """Lowest and highest ohm of a sound winding at room temperature."""

    low_ohm: float
    high_ohm: float


@calculator(
    "windings.resistance_band",
    "Cold resistance of a winding",
    question="How far may the ohms of this winding be off its model sheet?",
    example={"sheet_ohm": 92},
)
def resistance_band(given: ResistanceBandIn) -> Answer[ResistanceBand]:
    """80 to 125 % of what the sheet says.

    Units: ohm. Source: proposed; copper's 0.393 % per kelvin, see the head of the module.
    """
    given = fit(given)
    value = ResistanceBand(given.sheet_ohm * OHM_LOW, given.sheet_ohm * OHM_HIGH)
    text = _("{low:.4g} to {high:.4g} ohm.", low=value.low_ohm, high=value.high_ohm)
    lines = [
        Line(_("lowest"), f"{given.sheet_ohm:g} x {OHM_LOW:g}", f"{value.low_ohm:.4g} ohm"),
        Line(_("highest"), f"{given.sheet_ohm:g} x {OHM_HIGH:g}", f"{value.high_ohm:.4g} ohm"),
    ]
    sources = [
        Source("80 to 125 % of a winding's ohms", Status.PROPOSED),
        Source("copper: 0.393 % per kelvin at 20 °C", Status.SECOND_HAND,
               "electrical-engineering-portal.com/resources/knowledge/temperature-rise"),
    ]  # fmt: skip
    return Answer(Outcome.OK, text, value, Working(lines, sources, [_dead()]))


class SecondaryBandIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A secondary's volts as worked out for the line."""

    loaded_volt: Annotated[
        WindingVolt, Meta(title="Loaded", description="V r.m.s. expected at its rated load")
    ]
    unloaded_volt: Annotated[
        WindingVolt, Meta(title="Unloaded", description="V r.m.s. expected with nothing on it")
    ]


class SecondaryBand(msgspec.Struct, frozen=True):
    """Limits unloaded and loaded, volt r.m.s.; a light load may leave it near the unloaded."""

    open_low_volt: float
    open_high_volt: float
    loaded_low_volt: float
    loaded_high_volt: float


@calculator(
    "windings.secondary_band",
    "Limits of a secondary's volts",
    question="Between which volts must this secondary read, unloaded and loaded?",
    example={"loaded_volt": 9.39, "unloaded_volt": 10.52},
)
def secondary_band(given: SecondaryBandIn) -> Answer[SecondaryBand]:
    """93 to 107 % unloaded; loaded from 93 % of the loaded to 105 % of the unloaded volts.

    Units: volt r.m.s. Source: proposed.
    Raises BadInput if the loaded volts are above the unloaded ones.
    """
    given = fit(given)
    if given.loaded_volt > given.unloaded_volt * (1 + 1e-9):
        reason = _("A load never raises the volts: are the two swapped?")
        raise BadInput("loaded_volt", reason, "above_unloaded")
    value = SecondaryBand(
        given.unloaded_volt * OPEN_LOW,
        given.unloaded_volt * OPEN_HIGH,
        given.loaded_volt * LOADED_LOW,
        given.unloaded_volt * LOADED_HIGH,
    )
    unloaded = f"{value.open_low_volt:.4g} – {value.open_high_volt:.4g} V"
    loaded = f"{value.loaded_low_volt:.4g} – {value.loaded_high_volt:.4g} V"
    text = _("Unloaded {unloaded}, loaded {loaded}.", unloaded=unloaded, loaded=loaded)
    lines = [
        Line(_("unloaded"), _("93 to 107 % of the unloaded volts"), unloaded),
        Line(_("loaded"), _("93 % of the loaded to 105 % of the unloaded volts"), loaded),
    ]
    sources = [Source("93 to 107 % unloaded, 93 to 105 % loaded", Status.PROPOSED)]
    return Answer(Outcome.OK, text, value, Working(lines, sources, [_live()]))


class PhasingBandIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The factors of one phasing test, from `windings.for_supply`."""

    low: Annotated[
        float, Meta(ge=0, le=1000, title="Lowest factor", description="times the volts fed in")
    ]
    high: Annotated[
        float, Meta(ge=0, le=1000, title="Highest factor", description="times the volts fed in")
    ]


class PhasingBand(msgspec.Struct, frozen=True):
    """Volts to feed, and the points (fed, lowest, highest) between which limits run straight."""

    feed_low_volt: float
    feed_high_volt: float
    points: list[tuple[float, float, float]]


@calculator(
    "windings.phasing_band",
    "Limits of a phasing test",
    question="How many volts do I feed for a phasing test, and what must I read?",
    example={"low": 1.9, "high": 2.1},
)
def phasing_band(given: PhasingBandIn) -> Answer[PhasingBand]:
    """Limits along the volts fed in. Raises BadInput if the factors are crossed.

    Units: volt r.m.s. Source: proposed; 25 V a.c. of IEC 61140 as excerpted in IEC 63044-3.
    """
    given = fit(given)
    if given.low > given.high:
        raise BadInput("low", _("The lowest factor is above the highest."), "limits_crossed")
    ends = (FEED_LOW_VOLT, FEED_HIGH_VOLT)
    points = [(feed, feed * given.low, feed * given.high) for feed in ends]
    text = _(
        "Feed {low:g} to {high:g} V a.c.; read {least:g} to {most:g} times that.",
        low=FEED_LOW_VOLT,
        high=FEED_HIGH_VOLT,
        least=given.low,
        most=given.high,
    )
    lines = [
        Line(f"{feed:g} V", f"x {given.low:g}, x {given.high:g}", f"{low:.4g} – {high:.4g} V")
        for feed, low, high in points
    ]
    sources = [
        Source("1 V to read it well, 25 V at most", Status.PROPOSED),
        Source("25 V a.c. dry without further protection", Status.VERIFIED,
               "IEC 61140 as excerpted in IEC 63044-3"),
    ]  # fmt: skip
    value = PhasingBand(FEED_LOW_VOLT, FEED_HIGH_VOLT, points)
    return Answer(Outcome.OK, text, value, Working(lines, sources, [_isolated()]))


def _dead() -> str:
    return _("Unplugged, discharged, links open: an ohmmeter on a charged winding is lost.")


def _live() -> str:
    return _("Live readings: clip on dead, power, read, power down.")


def _isolated() -> str:
    return _(
        "From an isolated low-voltage source, never the mains: the other windings step it up, a "
        "secondary of many turns may show hundreds of volts."
    )
