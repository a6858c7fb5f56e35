"""Links as vertical tracks beside the terminals, so that no two of them run over each other."""

from __future__ import annotations

from collections.abc import Mapping

Net = list[float]  # heights of the terminals that are joined, rising
Track = list[Net]


def tracks(heights: Mapping[str, float], links: list[list[str]]) -> list[Track]:
    """Joined terminals as nets, put on as few tracks as hold them apart; the outermost first.

    Short nets come to lie next to the terminals.
    """
    found: list[Track] = []
    for net in sorted(_nets(heights, links), key=lambda net: net[-1] - net[0]):
        free = next((track for track in found if all(_apart(net, other) for other in track)), None)
        if free is None:
            found.append([net])
        else:
            free.append(net)
    return found[::-1]


def _apart(one: Net, other: Net) -> bool:
    return one[-1] < other[0] or other[-1] < one[0]


def _nets(heights: Mapping[str, float], links: list[list[str]]) -> list[Net]:
    joined: dict[str, set[str]] = {}
    for one, other in links:
        both = joined.get(one, {one}) | joined.get(other, {other})
        joined.update(dict.fromkeys(both, both))
    sets = {id(net): net for net in joined.values()}
    nets = [sorted(heights[terminal] for terminal in net) for net in sets.values()]
    return [net for net in nets if len(net) > 1]
