"""Primary sections with taps, and what a set of links makes of them.

A section runs from its start (dot) to its finish. Taps lie between. All voltages are rated voltages
counted from the start, so they stand for turns.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, Name, Terminal, WindingVolt
from shop.calc.words import _
from shop.calc.working import BadInput

EQUAL_TURNS = 0.01  # loops of sections must have a turn sum of zero within 1 %

Link = Annotated[
    list[Terminal],
    Meta(min_length=2, max_length=2, description="two terminals joined", examples=[["P2", "P3"]]),
]


TapVolt = Annotated[
    float,
    Meta(
        ge=-5000,
        le=5000,
        description="volt from the start; below zero for a tap on the far side of it (10-0-220)",
        examples=[110.0],
    ),
]


class Tap(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A tap and its rated volts from the start of the section; below zero on its far side."""

    terminal: Annotated[Terminal, Meta(title="Terminal")]
    volt: Annotated[TapVolt, Meta(title="Volts from the start")]


class Section(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One primary section. `start` is the dotted end; `rated_volt` is from start to finish."""

    name: Annotated[Name, Meta(title="Section")]
    start: Annotated[Terminal, Meta(title="Start", description="terminal at the dotted end")]
    finish: Annotated[Terminal, Meta(title="Finish", description="terminal at the other end")]
    rated_volt: Annotated[
        WindingVolt, Meta(title="Rated volts", description="from start to finish")
    ]
    rated_ampere: Annotated[
        Ampere | None,
        Meta(title="Rated current", description="of the wire; without it no power is worked out"),
    ] = None
    taps: Annotated[
        list[Tap],
        Meta(max_length=6, title="Taps", description="up to 6; below zero on the far side of it"),
    ] = []

    def points(self) -> list[tuple[str, float]]:
        """Terminals with their rated volts from the start, in the order of the turns."""
        taps = [(tap.terminal, tap.volt) for tap in self.taps]
        ends = [(self.start, 0.0), (self.finish, self.rated_volt)]
        return sorted([*ends, *taps], key=lambda point: point[1])


Sections = Annotated[
    list[Section], Meta(min_length=1, max_length=4, description="primary sections, 1 to 4")
]


class Connection(msgspec.Struct, frozen=True):
    """What links make of the sections, seen from two mains terminals.

    `fault` is empty if the connection may be powered; else one sentence that says why not.
    `section_volts` are the rated volts of each section that is live, between its live ends.
    """

    rated_volt: float
    fault: str
    section_volts: dict[str, float]


def require_sound_sections(sections: list[Section], field: str = "sections") -> None:
    """Raise BadInput for doubled names or terminals, or taps outside their section."""
    names = [section.name for section in sections]
    terminals = [point for section in sections for point, _volt in section.points()]
    if len(set(names)) != len(names):
        raise BadInput(field, _("two sections have the same name"))
    if len(set(terminals)) != len(terminals):
        raise BadInput(field, _("a terminal belongs to one section only and has its own name"))
    for place, section in enumerate(sections):
        volts = [volt for _terminal, volt in section.points()]
        if any(b <= a for a, b in itertools.pairwise(volts)) or volts[-1] > section.rated_volt:
            raise BadInput(
                f"{field}[{place}].taps",
                _("no tap lies beyond the finish, and no two points have the same volts"),
            )


def connect(sections: list[Section], links: list[list[str]], mains: list[str]) -> Connection:
    """Follow the turns from one mains terminal to the other.

    Every loop must have a turn sum of zero within 1 %, and the current must run through all
    sections in the same sense. Source: textbook loop rule; sections of equal turns only may be
    paralleled.
    """
    graph = _graph(sections, links)
    first, second = mains
    start = graph.node[first]
    if start == graph.node[second]:
        return Connection(0.0, _("the links join both mains terminals: a short circuit"), {})
    potential, trail, loop_fault = _walk(graph, start)
    if loop_fault:
        return Connection(0.0, loop_fault, {})
    if graph.node[second] not in potential:
        return Connection(0.0, _("the mains terminals are not joined through any section"), {})
    end = graph.node[second]
    return _judge_path(potential[end], trail[end], _live_volts(sections, graph, mains))


class _Graph(msgspec.Struct):
    node: dict[str, str]
    edges: dict[str, list[tuple[str, float, str]]]


def _graph(sections: list[Section], links: list[list[str]]) -> _Graph:
    """Terminals joined by links become one node; edges carry turns (rated volts) and a name."""
    node = {terminal: terminal for section in sections for terminal, _volt in section.points()}
    for one, other in links:
        old, new = node[other], node[one]
        node = {terminal: new if at == old else at for terminal, at in node.items()}
    edges: dict[str, list[tuple[str, float, str]]] = defaultdict(list)
    for section in sections:
        points = section.points()
        for (low, low_volt), (high, high_volt) in itertools.pairwise(points):
            turns = high_volt - low_volt
            edges[node[low]].append((node[high], turns, section.name))
            edges[node[high]].append((node[low], -turns, section.name))
    return _Graph(node, edges)


_Trail = list[tuple[str, float]]


def _walk(graph: _Graph, start: str) -> tuple[dict[str, float], dict[str, _Trail], str]:
    """Turns from the start to every node, the way there, and a sentence for an open loop."""
    potential, trail, waiting = {start: 0.0}, {start: list[tuple[str, float]]()}, [start]
    while waiting:
        here = waiting.pop(0)
        for there, turns, name in graph.edges[here]:
            reached = potential[here] + turns
            if there not in potential:
                potential[there] = reached
                trail[there] = [*trail[here], (name, turns)]
                waiting.append(there)
            elif abs(potential[there] - reached) > EQUAL_TURNS * max(
                abs(reached), abs(potential[there])
            ):
                return (
                    potential,
                    trail,
                    _(
                        "a loop through section {name} does not close: unequal or reversed "
                        "sections in parallel drive a circulating current",
                        name=name,
                    ),
                )
    return potential, trail, ""


def _judge_path(turns: float, trail: _Trail, volts: dict[str, float]) -> Connection:
    if {step > 0 for _name, step in trail} == {True, False}:
        fault = _(
            "a section is reversed: its flux works against the others and only the winding's "
            "resistance limits the current"
        )
        return Connection(abs(turns), fault, volts)
    return Connection(abs(turns), "", volts)


def _live_volts(sections: list[Section], graph: _Graph, mains: list[str]) -> dict[str, float]:
    spans = _live_spans(sections, graph, mains)
    return {name: high - low for name, (low, high) in spans.items()}


Span = tuple[float, float]


def live_spans(
    sections: list[Section], links: list[list[str]], mains: list[str]
) -> dict[str, Span]:
    """Rated volts of the outermost joined or fed terminals of each section that has two."""
    return _live_spans(sections, _graph(sections, links), mains)


def _live_spans(sections: list[Section], graph: _Graph, mains: list[str]) -> dict[str, Span]:
    count: dict[str, int] = defaultdict(int)
    for at in graph.node.values():
        count[at] += 1
    fed = {graph.node[terminal] for terminal in mains}
    spans = {}
    for section in sections:
        used = [
            volt
            for terminal, volt in section.points()
            if count[graph.node[terminal]] > 1 or graph.node[terminal] in fed
        ]
        if len(used) > 1:
            spans[section.name] = (used[0], used[-1])
    return spans
