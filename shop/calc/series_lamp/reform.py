"""Reforming one capacitor through a resistor: what each published way would do to it."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.reforming_ways import WAYS, Way, procedure_words
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# A supply that gives more than this into a shorted part must be limited; a proposal.
MOST_SHORT_WATT: Final = 5.0
END_YEARS: Final = 10.0


class ReformIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A capacitor out of its circuit; with a resistor and its drop, the leakage too."""

    rated_volt: Annotated[
        float, Meta(ge=1, le=1000, title="Rated voltage", description="of the capacitor, d.c.")
    ]
    idle_years: Annotated[
        float, Meta(ge=0, le=100, title="Time idle", description="years since it last had volts")
    ] = 0.0
    resistor_ohm: Annotated[
        Annotated[float, Meta(ge=1, le=1e7)] | None,
        Meta(title="Your resistor", description="in series; left out: only the published ones"),
    ] = None
    drop_volt: Annotated[
        Annotated[float, Meta(ge=0, le=1000)] | None,
        Meta(title="Volts across your resistor", description="measured while reforming"),
    ] = None


class ReformWay(msgspec.Struct, frozen=True):
    """One way: its resistor, what flows and burns should the part be shorted, the time.

    `seconds` is None where the procedure names no time.
    """

    name: str
    title: str
    resistor_ohm: float
    short_ampere: float
    short_watt: float
    seconds: int | None
    needs_limited_supply: bool
    then: str


class Reform(msgspec.Struct, frozen=True):
    """The published ways, gentlest first, and your own resistor's figures."""

    ways: list[ReformWay]
    own_short_ampere: float | None
    own_short_watt: float | None
    leakage_ampere: float | None


def short_watt(volt: float, ohm: float) -> float:
    """W in the resistor with the capacitor shorted: V^2 / R."""
    return volt * volt / ohm


@calculator(
    "series_lamp.reform",
    "Reform a capacitor through a resistor",
    question="Through which resistor and for how long do I reform this capacitor?",
    example={"rated_volt": 450, "idle_years": 6, "resistor_ohm": 100_000, "drop_volt": 110},
)
def reform(given: ReformIn) -> Answer[Reform]:
    """Published procedures side by side: I = V / R and P = V^2 / R into a short, I = VR / R now.

    Raises BadInput if a drop is given without its resistor, or is above the rated volts.
    """
    given = fit(given)
    _check(given)
    ways = sorted((_way(way, given) for way in WAYS), key=lambda way: -way.resistor_ohm)
    own, drop = given.resistor_ohm, given.drop_volt
    value = Reform(
        ways,
        given.rated_volt / own if own else None,
        short_watt(given.rated_volt, own) if own else None,
        drop / own if own and drop is not None else None,
    )
    return Answer(Outcome.WARN, _in_words(ways[0], given), value, _working(given, value))


def _check(given: ReformIn) -> None:
    if given.drop_volt is None:
        return
    if given.resistor_ohm is None:
        raise BadInput("resistor_ohm", _("Say which resistor the volts stand across."), "missing")
    if given.drop_volt > given.rated_volt:
        reason = _("The resistor cannot have more than the capacitor's rated volts.")
        raise BadInput("drop_volt", reason, "out_of_range")


def _way(way: Way, given: ReformIn) -> ReformWay:
    ohm = way.ohm_for(given.rated_volt)
    watt = short_watt(given.rated_volt, ohm)
    seconds = way.seconds + round(way.seconds_per_month * given.idle_years * 12)
    return ReformWay(
        way.name,
        _(way.title),
        ohm,
        given.rated_volt / ohm,
        watt,
        seconds or None,
        watt > MOST_SHORT_WATT,
        _(way.then) if way.then else "",
    )


def _in_words(gentlest: ReformWay, given: ReformIn) -> str:
    text = _(
        "Gentlest: {ohm:.0f} kohm, {milliampere:.1f} mA and {watt:.1f} W at most.",
        ohm=gentlest.resistor_ohm / 1000,
        milliampere=gentlest.short_ampere * 1000,
        watt=gentlest.short_watt,
    )
    if given.idle_years >= END_YEARS:
        text += " " + _("Ten idle years and more: replacing it is the safer way.")
    return text


def _working(given: ReformIn, value: Reform) -> Working:
    lines = [Line(way.title, "R; V/R; V^2/R", _way_words(way)) for way in value.ways]
    if value.own_short_ampere is not None and value.own_short_watt is not None:
        own = f"{value.own_short_ampere * 1000:.2f} mA, {value.own_short_watt:.1f} W"
        lines.append(Line(_("your resistor, into a short"), "V/R; V^2/R", own))
    if value.leakage_ampere is not None:
        lines.append(Line(_("leakage now"), "VR / R", f"{value.leakage_ampere * 1000:.3f} mA"))
    limited = Source("above 5 W into a short: a supply with a current limit", Status.PROPOSED)
    return Working(lines, [*(way.source for way in WAYS), limited], _cautions(), procedure_words())


def _way_words(way: ReformWay) -> str:
    time = _("{minutes:.0f} min", minutes=way.seconds / 60) if way.seconds else _("no time given")
    figures = f"{way.resistor_ohm:g} ohm, {way.short_ampere * 1000:.1f} mA, {way.short_watt:.1f} W"
    limit = ", " + _("limited supply") if way.needs_limited_supply else ""
    return f"{figures}, {time}{limit}"


def _cautions() -> list[str]:
    return [
        _("A charged capacitor can kill: cover the terminals, discharge it, then prove it dead."),
        _("Eyes protected and a cover over the part: an electrolytic can burst."),
        _("Pick a resistor for the watts into a short, or a supply with a current limit."),
        _("Local codes and licensed practice come first."),
    ]
