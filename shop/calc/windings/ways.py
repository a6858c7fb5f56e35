"""Enumerate how primary sections may legally be joined."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, permutations, product

from shop.calc.windings.sections import EQUAL_TURNS, Section
from shop.calc.windings.stretches import Stretch, like, stretches
from shop.calc.windings.way import Joined, Way, in_branches, in_groups, way

_Stretches = dict[str, list[Stretch]]


def joints(sections: list[Section]) -> list[Joined]:
    """All legal joints, best use of the copper first, then by voltage.

    Alike sections give alike joints: one of each is enough.
    """
    of_section = {section.name: stretches(section) for section in sections}
    found: dict[tuple[object, ...], Joined] = {}
    for size in range(len(sections), 0, -1):
        for chosen in combinations(sections, size):
            for joined in _joints(list(chosen), of_section):
                found.setdefault(joined.likeness(), joined)
    return sorted(found.values(), key=lambda one: (-one.size, one.rated_volt))


def ways(sections: list[Section]) -> list[Way]:
    """All legal ways, in the order of the joints, with links and currents."""
    return [way(joined, len(sections)) for joined in joints(sections)]


def _joints(chosen: list[Section], of_section: _Stretches) -> Iterator[Joined]:
    size = len(chosen)
    for count in range(1, size + 1):
        if size % count == 0:
            for blocks in _equal_blocks(chosen, size // count):
                yield from (in_branches(rows, size) for rows in _branches(blocks, of_section))
    for groups in _partitions(chosen):
        # Groups of equal size are the chains above with more links between them.
        if len({len(group) for group in groups}) > 1:
            yield from (in_groups(rows, size) for rows in _groups(groups, of_section))


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


def _partitions(sections: list[Section]) -> Iterator[list[list[Section]]]:
    """Split into groups of any size, the order of groups not counting."""
    if not sections:
        yield []
        return
    head, rest = sections[0], sections[1:]
    for size in range(len(rest) + 1):
        for others in combinations(rest, size):
            remaining = [section for section in rest if section not in others]
            for groups in _partitions(remaining):
                yield [[head, *others], *groups]


def _branches(blocks: list[list[Section]], of_section: _Stretches) -> Iterator[list[list[Stretch]]]:
    """Choose a stretch for each section of the first block; the others take like to like."""
    first, *others = blocks
    for chain in product(*(of_section[section.name] for section in first)):
        rest = [_alike(chain, block, of_section) for block in others]
        rows = [list(chain), *(branch for branch in rest if branch)]
        if len(rows) == len(blocks) and all(_close(equal) for equal in zip(*rows, strict=True)):
            yield rows


def _alike(
    chain: tuple[Stretch, ...], block: list[Section], of_section: _Stretches
) -> list[Stretch] | None:
    """The same stretches in the same order in another block, or None where turns are not equal."""
    for order in permutations(block):
        pairs = zip(chain, order, strict=True)
        found = [like(stretch, of_section[section.name]) for stretch, section in pairs]
        matched = [one for one in found if one is not None]
        if len(matched) == len(chain):
            return matched
    return None


def _groups(groups: list[list[Section]], of_section: _Stretches) -> Iterator[list[list[Stretch]]]:
    """One stretch for each group in series, each of its sections taking like to like."""
    choices = [_paralleled(group, of_section) for group in groups]
    for rows in product(*choices):
        yield list(rows)


def _paralleled(group: list[Section], of_section: _Stretches) -> list[list[Stretch]]:
    first, *others = group
    rows = []
    for stretch in of_section[first.name]:
        alike = _alike((stretch,) * len(others), others, of_section)
        if alike is not None and _close([stretch, *alike]):
            rows.append([stretch, *alike])
    return rows


def _close(parallel: Sequence[Stretch]) -> bool:
    """Whether all are equal, not only each to the first."""
    if len(parallel) < 3:
        return True
    volts = [stretch.volt for stretch in parallel]
    return max(volts) - min(volts) <= EQUAL_TURNS * min(volts)
