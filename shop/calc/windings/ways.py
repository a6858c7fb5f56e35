"""Enumerate how primary sections may legally be joined."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise, product

import msgspec

from shop.calc.windings.drawing import Drawing
from shop.calc.windings.sections import EQUAL_TURNS, Section


class Way(msgspec.Struct, frozen=True):
    """One legal way to join sections: `branches` in parallel, each a chain in series.

    `chains` name, per branch, each section with the terminal its current leaves by. Currents in
    ampere and `volt_ampere` are None where a section's rating is unknown; no section is loaded
    above its rated current. Only the first ways of a list are drawn.
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
    drawing: Drawing | None = None


_Point = tuple[Section, str, float]


def ways(sections: list[Section]) -> list[Way]:
    """All legal ways, best use of the copper first, then by voltage."""
    found: dict[tuple[object, ...], Way] = {}
    for size in range(len(sections), 0, -1):
        for chosen in combinations(sections, size):
            for branches in _branchings(list(chosen)):
                way = _way(branches, len(sections))
                # Alike sections give alike ways; one of each is enough.
                found.setdefault(_likeness(branches), way)
    return sorted(found.values(), key=lambda way: (-len(way.sections_used), way.rated_volt))


def _likeness(branches: list[list[_Point]]) -> tuple[object, ...]:
    shape = tuple(
        sorted(
            (section.rated_volt, volt, section.rated_ampere or 0.0) for section, _t, volt in chain
        )
        for chain in branches
    )
    return (len(branches), *map(tuple, shape))


def _branchings(chosen: list[Section]) -> Iterator[list[list[_Point]]]:
    for count in range(1, len(chosen) + 1):
        if len(chosen) % count:
            continue
        for blocks in _equal_blocks(chosen, len(chosen) // count):
            yield from _tapped(blocks)


def _equal_blocks(sections: list[Section], length: int) -> Iterator[list[list[Section]]]:
    """Split into blocks of one length, the order of blocks not counting."""
    if not sections:
        yield []
        return
    head, rest = sections[0], sections[1:]
    for others in combinations(rest, length - 1):
        block = [head, *others]
        remaining = [section for section in rest if section not in others]
        for blocks in _equal_blocks(remaining, length):
            yield [block, *blocks]


def _tapped(blocks: list[list[Section]]) -> Iterator[list[list[_Point]]]:
    """Choose a tap for each section of the first block; the others take like tap to like tap."""
    first, *others = blocks
    for taps in product(*(section.points()[1:] for section in first)):
        chain = [(section, *point) for section, point in zip(first, taps, strict=True)]
        rest = [_like(chain, block) for block in others]
        if all(rest) or not rest:
            yield [chain, *(alike for alike in rest if alike)]


def _like(chain: list[_Point], block: list[Section]) -> list[_Point] | None:
    """The same taps in the same order in another block, or None where turns are not equal."""
    matched: list[_Point] = []
    for (_section, _terminal, volt), section in zip(chain, block, strict=True):
        near = [p for p in section.points()[1:] if abs(p[1] - volt) <= EQUAL_TURNS * volt]
        if not near:
            return None
        matched.append((section, *near[0]))
    return matched


def _way(branches: list[list[_Point]], of: int) -> Way:
    volt = sum(point[2] for point in branches[0])
    used = [section for chain in branches for section, _t, _v in chain]
    ratings = [section.rated_ampere for section in used]
    limits = [rating for rating in ratings if rating is not None]
    each = min(limits) if len(limits) == len(ratings) else None
    line = each * len(branches) if each is not None else None
    return Way(
        mode=_mode(len(branches), len(branches[0])),
        rated_volt=volt,
        branches=len(branches),
        sections_used=[section.name for section in used],
        uses_all_sections=len(used) == of,
        chains=[
            [[section.name, terminal] for section, terminal, _v in chain] for chain in branches
        ],
        links=_links(branches),
        line_terminals=[branches[0][0][0].start, branches[0][-1][1]],
        line_ampere=line,
        section_ampere=each,
        volt_ampere=line * volt if line is not None else None,
    )


def _mode(branches: int, length: int) -> str:
    if branches > 1:
        return "parallel" if length == 1 else "series_parallel"
    return "series" if length > 1 else "single"


def _links(branches: list[list[_Point]]) -> list[list[str]]:
    """Finish to next start inside a chain; starts together and ends together between chains."""
    links = [[before[1], after[0].start] for chain in branches for before, after in pairwise(chain)]
    for one, other in pairwise(branches):
        links.append([one[0][0].start, other[0][0].start])
        links.append([one[-1][1], other[-1][1]])
    return links
