"""All legal arrangements of primary sections, and a check of links somebody proposes."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Terminal, fit
from shop.calc.registry import calculator
from shop.calc.windings.draw import draw
from shop.calc.windings.drawing import Drawing
from shop.calc.windings.sections import Connection, Link, Sections, connect, require_sound_sections
from shop.calc.windings.ways import Way, ways
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
DRAWN = 16  # of many arrangements only the first are drawn; nobody looks at more
MainsPair = Annotated[
    list[Terminal], Meta(min_length=2, max_length=2, description="line and neutral terminal")
]


class ArrangementsIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Primary sections; optionally links to check, with the two mains terminals."""

    sections: Sections
    check_links: Annotated[list[Link], Meta(max_length=24)] | None = None
    check_mains: MainsPair | None = None


class ArrangementsOut(msgspec.Struct, frozen=True):
    """Every legal way to join the sections; `checked` is the verdict on the given links."""

    arrangements: list[Way]
    supply_volts: list[float]
    checked: Connection | None
    checked_drawing: Drawing | None = None


@calculator("windings.arrangements", "Legal arrangements of primary sections")
def arrangements(given: ArrangementsIn) -> Answer[ArrangementsOut]:
    """List every legal series and parallel arrangement of up to four sections with taps.

    Units: V, A, VA. Sections in parallel have equal turns within 1 %; no section carries more than
    its rated current. Raises BadInput for sections that cannot be (doubled terminals, stray taps).
    Source: ten-volume electrical guide, vol. 6; the 1 % is proposed.
    """
    given = fit(given)
    require_sound_sections(given.sections)
    found = ways(given.sections)
    checked = _checked(given)
    volts = sorted({round(way.rated_volt, 6) for way in found if way.uses_all_sections})
    lines = [
        Line(way.mode, " + ".join(way.sections_used), f"{way.rated_volt:g} V") for way in found
    ]
    listed = ", ".join(f"{volt:g}" for volt in volts)
    text = _("Using all sections: {volts} V.", volts=listed)
    if checked and checked.fault:
        text = _("These links must not be powered: {fault}.", fault=checked.fault)
    working = Working(lines, RULE_SOURCES, [phasing_caution()])
    outcome = Outcome.REFUSE if checked and checked.fault else Outcome.OK
    value = ArrangementsOut(_drawn(given, found), volts, checked, _checked_drawing(given))
    return Answer(outcome, text, value, working)


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
