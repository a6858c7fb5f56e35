"""All legal arrangements of primary sections, and a check of links somebody proposes."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
from msgspec import Meta

from shop.calc.fields import Hertz, MainsVolt, Terminal, fit
from shop.calc.registry import calculator
from shop.calc.windings.draw import draw
from shop.calc.windings.drawing import Drawing
from shop.calc.windings.flux import PlateHertz
from shop.calc.windings.ranking import Fit, fit_for, preference
from shop.calc.windings.sections import Connection, Link, Sections, connect, require_sound_sections
from shop.calc.windings.verdicts import FLUX_LIMITS, FLUX_SOURCE
from shop.calc.windings.way import MODE_WORDS, Joined, Way, name_of, way
from shop.calc.windings.ways import joints
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

RULE_SOURCES = [
    Source(
        "Series joins finish to start; parallel start to start and finish to finish",
        Status.VERIFIED,
        "ten-volume electrical guide, vol. 6, p. 106: bitlit.ru/page/en/",
    ),
    Source(
        "Only sections of equal turns may be paralleled",
        Status.SECOND_HAND,
        "industrialmonitordirect.com/blogs/knowledgebase/"
        "configuring-dual-primary-windings-240v-parallel-vs-480v-series",
    ),
    Source("Loops close within 1 %", Status.PROPOSED),
]
# Of many arrangements only the first are listed and drawn; nobody looks at more.
LISTED, LINES, DRAWN = 128, 24, 16
MainsPair = Annotated[
    list[Terminal],
    Meta(
        min_length=2,
        max_length=2,
        description="line and neutral terminal",
        examples=[["P1", "P4"]],
    ),
]


EXAMPLE: dict[str, Any] = {
    "sections": [
        {"name": "A", "start": "P1", "finish": "P2", "rated_volt": 115.0, "rated_ampere": 0.652},
        {"name": "B", "start": "P3", "finish": "P4", "rated_volt": 115.0, "rated_ampere": 0.652},
    ],
    "supply_volt": 230.0,
    "supply_hz": 50.0,
    "plate_hz": [50.0, 60.0],
}


class ArrangementsIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Primary sections; optionally a supply to rank by, or links to check with their mains."""

    sections: Annotated[Sections, Meta(title="Primary sections")]
    check_links: Annotated[
        list[Link] | None,
        Meta(title="Links to check", description="pairs of terminals joined; none means none"),
    ] = None
    check_mains: Annotated[
        MainsPair | None,
        Meta(title="Mains on", description="line and neutral terminal of the links to check"),
    ] = None
    supply_volt: Annotated[
        MainsVolt | None, Meta(title="Supply", description="rank for this supply if given")
    ] = None
    supply_hz: Annotated[
        Hertz | None, Meta(title="Supply frequency", description="as on the plate if left out")
    ] = None
    plate_hz: Annotated[
        PlateHertz | None,
        Meta(title="Frequencies on the plate", description="as the supply if left out"),
    ] = None


class ArrangementsOut(msgspec.Struct, frozen=True):
    """Every legal way to join the sections; `checked` is the verdict on the given links.

    With a supply the ways are ranked for it, the best first. `total` counts all legal ways, of
    which the first 128 are listed and the first 16 drawn. `checked_fit` judges the given links on
    the supply, where both are given and the links may be powered.
    """

    arrangements: list[Way]
    supply_volts: list[float]
    checked: Connection | None
    checked_drawing: Drawing | None = None
    total: int = 0
    checked_fit: Fit | None = None


@calculator(
    "windings.arrangements",
    "Legal arrangements of primary sections",
    question="How may these primary sections be joined, and for which supplies?",
    example=EXAMPLE,
)
def arrangements(given: ArrangementsIn) -> Answer[ArrangementsOut]:
    """List every legal series and parallel arrangement of up to four sections with taps.

    Units: V, A, VA. Sections in parallel have equal turns within 1 %; no section carries more than
    its rated current. Raises BadInput for sections that cannot be (doubled terminals, stray taps).
    Source: ten-volume electrical guide, vol. 6; the 1 % is proposed.
    """
    given = fit(given)
    require_sound_sections(given.sections)
    every = joints(given.sections)
    found = _listed(given, every)
    checked = _checked(given)
    whole = [one for one in every if one.size == len(given.sections)]
    volts = sorted({round(one.rated_volt, 6) for one in whole})
    fit_now = _checked_fit(given, checked)
    outcome, text = _verdict(given, found, volts, (checked, fit_now))
    value = ArrangementsOut(
        _drawn(given, found), volts, checked, _checked_drawing(given), len(every), fit_now
    )
    sources = [*RULE_SOURCES, *([FLUX_SOURCE, FLUX_LIMITS] if given.supply_volt else [])]
    lines = _lines(found, len(every))
    return Answer(outcome, text, value, Working(lines, sources, [phasing_caution()]))


def _listed(given: ArrangementsIn, every: list[Joined]) -> list[Way]:
    """The first ways, or the best for the supply where one is given."""
    count = len(given.sections)
    if given.supply_volt is None:
        return [way(joined, count) for joined in every[:LISTED]]
    fits = _fits(given, {one.rated_volt for one in every})
    fitted = [(fits[one.rated_volt], one) for one in every]
    fitted.sort(key=lambda pair: preference(pair[0], pair[1].size == count))
    best = fitted[:LISTED]
    return [msgspec.structs.replace(way(joined, count), fit=fit_) for fit_, joined in best]


def _fits(given: ArrangementsIn, volts: set[float]) -> dict[float, Fit]:
    """The supply on each of these rated volts."""
    assert given.supply_volt is not None  # noqa: S101  # only asked with a supply
    supply_hz = given.supply_hz or (min(given.plate_hz) if given.plate_hz else 50.0)
    plate_hz = given.plate_hz or [supply_hz]
    return {volt: fit_for(volt, plate_hz, given.supply_volt, supply_hz) for volt in volts}


def _checked_fit(given: ArrangementsIn, checked: Connection | None) -> Fit | None:
    if checked is None or checked.fault or given.supply_volt is None:
        return None
    return _fits(given, {checked.rated_volt})[checked.rated_volt]


def _verdict(
    given: ArrangementsIn,
    found: list[Way],
    volts: list[float],
    now: tuple[Connection | None, Fit | None],
) -> tuple[Outcome, str]:
    checked, fit_now = now
    if checked and checked.fault:
        return Outcome.REFUSE, _("These links must not be powered: {fault}.", fault=checked.fault)
    if checked and fit_now:
        return fit_now.verdict(), _judged_links(given, checked, fit_now)
    best = found[0]
    if best.fit is None:
        return Outcome.OK, _("Using all sections: {volts} V.", volts=_some(volts))
    named = {"volt": given.supply_volt, "name": name_of(best), "rated": best.rated_volt}
    if best.fit.verdict() is Outcome.REFUSE:
        return Outcome.REFUSE, _("No arrangement fits {volt:g} V.", **named)
    percent = best.fit.secondary_error_percent
    text = _("For {volt:g} V: {name}, {rated:g} V; secondaries {percent:+.1f} %.", percent=percent,
             **named)  # fmt: skip
    return best.fit.verdict(), text


def _judged_links(given: ArrangementsIn, checked: Connection, fit_now: Fit) -> str:
    named = {
        "rated": checked.rated_volt,
        "volt": given.supply_volt,
        "percent": fit_now.secondary_error_percent,
    }
    if fit_now.verdict() is Outcome.REFUSE:
        return _(
            "These links make {rated:g} V, not to be powered from {volt:g} V: {percent:+.1f} %.",
            **named,
        )
    return _("These links make {rated:g} V: {volt:g} V is {percent:+.1f} %.", **named)


def _some(volts: list[float]) -> str:
    listed = [f"{volt:g}" for volt in volts]
    return ", ".join(listed if len(listed) <= 12 else [*listed[:6], "…", *listed[-5:]])


def _lines(found: list[Way], total: int) -> list[Line]:
    """The first ways as they would stand on paper; a line says how many more there are."""
    lines = [
        Line(_(MODE_WORDS[way.mode]), " + ".join(way.sections_used), _result(way))
        for way in found[:LINES]
    ]
    if total > LINES:
        lines.append(Line(_("further ways"), "", str(total - LINES)))
    return lines


def _result(way: Way) -> str:
    volts = f"{way.rated_volt:g} V ({way.lowest_volt:.4g} … {way.highest_volt:.4g} V)"
    if way.line_ampere is None:
        return volts
    return f"{volts}, {way.line_ampere:.3g} A, {way.volt_ampere:.3g} VA"


def _drawn(given: ArrangementsIn, found: list[Way]) -> list[Way]:
    first = [
        msgspec.structs.replace(way, drawing=draw(given.sections, way.links, way.line_terminals))
        for way in found[:DRAWN]
    ]
    return [*first, *found[DRAWN:]]


def _checked_drawing(given: ArrangementsIn) -> Drawing | None:
    if given.check_mains is None:
        return None
    return draw(given.sections, given.check_links or [], given.check_mains)


def phasing_caution() -> str:
    """The caution that stands beside every arrangement."""
    return _("Open every link, then prove the phasing with a few volts a.c. before any is closed.")


def _checked(given: ArrangementsIn) -> Connection | None:
    if given.check_links is None and given.check_mains is None:
        return None
    if given.check_mains is None:
        raise BadInput("check_mains", _("links are checked between two mains terminals"))
    links = given.check_links or []
    require_known_terminals(given.sections, links, given.check_mains, "check_links", "check_mains")
    return connect(given.sections, links, given.check_mains)


def require_known_terminals(
    sections: Sections,
    links: list[list[str]],
    mains: list[str],
    links_field: str,
    mains_field: str,
) -> None:
    """Raise BadInput for a terminal that no section has."""
    known = {terminal for section in sections for terminal, _volt in section.points()}
    for place, link in enumerate(links):
        for terminal in link:
            if terminal not in known:
                raise BadInput(
                    f"{links_field}[{place}]", _("no section has a terminal {name}", name=terminal)
                )
    for terminal in mains:
        if terminal not in known:
            raise BadInput(mains_field, _("no section has a terminal {name}", name=terminal))
