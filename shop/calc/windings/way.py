"""One legal way to join sections, with its links, its currents and its limit of power."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import msgspec

from shop.calc.windings.drawing import Drawing
from shop.calc.windings.ranking import Fit
from shop.calc.windings.stretches import Stretch
from shop.calc.windings.verdicts import FLUX_OK, LOW_LINE
from shop.calc.words import _, gettext_noop


class Way(msgspec.Struct, frozen=True):
    """One legal way to join sections.

    `branches` in parallel, each a chain in series; where groups of unequal size stand in series
    (`mode` grouped) it is 1. `chains` name, per branch or group, each section with the terminal its
    current leaves by, `enters` the terminals it comes in by, in the same order. Currents in ampere
    and `volt_ampere` are None where a section's rating is unknown; no section is loaded above its
    rated current (`section_amperes` at the full line current). `lowest_volt` to `highest_volt` are
    the supplies it may be fed with at the plate's frequency (0.90 to 1.06 of its rating). Only the
    first ways of a list are drawn; `fit` stands where a supply was given.
    """

    mode: str
    rated_volt: float
    branches: int
    sections_used: list[str]
    uses_all_sections: bool
    chains: list[list[list[str]]]
    links: list[list[str]]
    line_terminals: list[str]
    line_ampere: float | None
    section_ampere: float | None
    volt_ampere: float | None
    lowest_volt: float = 0.0
    highest_volt: float = 0.0
    enters: list[list[str]] = []
    section_amperes: dict[str, float] = {}
    drawing: Drawing | None = None
    fit: Fit | None = None


class Joined(NamedTuple):
    """Stretches as branches in parallel, or (`grouped`) as groups in series, each in parallel.

    `rated_volt` is the sum of the turns in series; `size` says how many sections are in use.
    """

    rows: list[list[Stretch]]
    grouped: bool
    rated_volt: float
    size: int

    def likeness(self) -> tuple[object, ...]:
        """The same for joints that differ only by which of several alike sections they use."""
        rows = [tuple(sorted([stretch.kind for stretch in row])) for row in self.rows]
        return (self.grouped, *sorted(rows))

    def line_ampere(self) -> float | None:
        """The line current at which the first section reaches its rating; None if one is unknown.

        Equal sections in parallel share the current equally.
        """
        # A section without a rating stands as 0 in its kind, and a rating is above that.
        lowest = [min([stretch.kind[2] for stretch in row]) for row in self.rows]
        if 0.0 in lowest:
            return None
        if self.grouped:
            return min([len(row) * low for row, low in zip(self.rows, lowest, strict=True)])
        return len(lowest) * min(lowest)


def in_branches(rows: list[list[Stretch]], size: int) -> Joined:
    """Chains of equal turns in parallel; `size` is how many sections they use."""
    return Joined(rows, False, sum([stretch.volt for stretch in rows[0]]), size)


def in_groups(rows: list[list[Stretch]], size: int) -> Joined:
    """Groups in series, the sections of each in parallel; `size` is how many they are."""
    return Joined(rows, True, sum([row[0].volt for row in rows]), size)


def way(joined: Joined, of: int) -> Way:
    """The way of these joined stretches; `of` is how many sections the primary has."""
    rows, used = joined.rows, [stretch for row in joined.rows for stretch in row]
    volt, line = joined.rated_volt, joined.line_ampere()
    each = _section_amperes(joined, line)
    return Way(
        mode=_mode(joined),
        rated_volt=volt,
        branches=1 if joined.grouped else len(rows),
        sections_used=[stretch.section.name for stretch in used],
        uses_all_sections=len(used) == of,
        chains=[[[stretch.section.name, stretch.end] for stretch in row] for row in rows],
        links=_group_links(rows) if joined.grouped else _branch_links(rows),
        line_terminals=[rows[0][0].begin, (rows[-1][0] if joined.grouped else rows[0][-1]).end],
        line_ampere=line,
        section_ampere=max(each.values()) if each else None,
        volt_ampere=line * volt if line is not None else None,
        lowest_volt=LOW_LINE * volt,
        highest_volt=FLUX_OK * volt,
        enters=[[stretch.begin for stretch in row] for row in rows],
        section_amperes=each,
    )


def _section_amperes(joined: Joined, line: float | None) -> dict[str, float]:
    if line is None:
        return {}
    return {
        stretch.section.name: line / (len(row) if joined.grouped else len(joined.rows))
        for row in joined.rows
        for stretch in row
    }


MODE_WORDS = {
    "single": gettext_noop("one section"),
    "series": gettext_noop("series"),
    "parallel": gettext_noop("parallel"),
    "series_parallel": gettext_noop("series-parallel"),
    "grouped": gettext_noop("parallel groups in series"),
    "model_sheet": gettext_noop("by the model sheet"),
}


def name_of(way: Way) -> str:
    """How the sections are joined, and which: `series (A, B)`."""
    return f"{_(MODE_WORDS[way.mode])} ({', '.join(way.sections_used)})"


def _mode(joined: Joined) -> str:
    if joined.grouped:
        return "grouped"
    length = len(joined.rows[0])
    if len(joined.rows) > 1:
        return "parallel" if length == 1 else "series_parallel"
    return "series" if length > 1 else "single"


def _branch_links(branches: list[list[Stretch]]) -> list[list[str]]:
    """Finish to next start inside a chain; starts together and ends together between chains."""
    links = [[before.end, after.begin] for chain in branches for before, after in pairwise(chain)]
    for one, other in pairwise(branches):
        links += [[one[0].begin, other[0].begin], [one[-1].end, other[-1].end]]
    return links


def _group_links(groups: list[list[Stretch]]) -> list[list[str]]:
    """Starts together and ends together inside a group; end to next start between groups."""
    links = []
    for group in groups:
        for one, other in pairwise(group):
            links += [[one.begin, other.begin], [one.end, other.end]]
    return links + [[before[0].end, after[0].begin] for before, after in pairwise(groups)]
