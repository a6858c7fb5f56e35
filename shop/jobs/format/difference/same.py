"""Whether two JSON-like values say the same, and what moved between two lists."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Hashable, Sequence
from typing import Any


def same(one: Any, other: Any) -> bool:
    """Equal as JSON: 1 is 1.0 but not `true`; the order of names in an object says nothing."""
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[n], other[n]) for n in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return bool(one == other)


def moved(before: Sequence[Hashable], after: Sequence[Hashable]) -> set[Hashable]:
    """The fewest names that must have changed places for one order to become the other.

    Names that stand in one list only are left out.
    """
    place = {name: index for index, name in enumerate(before)}
    common = [name for name in after if name in place]
    return set(common) - set(_longest_rising(common, place))


def _longest_rising(names: list[Hashable], place: dict[Hashable, int]) -> list[Hashable]:
    """The longest part of `names` that stands in the order of `place` (patience sorting)."""
    tops: list[int] = []  # place of the last name of the best run of each length
    ends: list[int] = []  # index of that name
    before: list[int] = []
    for index, name in enumerate(names):
        length = bisect_left(tops, place[name])
        before.append(ends[length - 1] if length else -1)
        tops[length : length + 1] = [place[name]]
        ends[length : length + 1] = [index]
    found, index = [], ends[-1] if ends else -1
    while index >= 0:
        found.append(names[index])
        index = before[index]
    return found
