"""What the low-voltage phasing test must show before a link is closed."""

from __future__ import annotations

from typing import NamedTuple

import msgspec

from shop.calc.windings.sections import EQUAL_TURNS, Section, live_spans
from shop.calc.words import _

PARALLEL_SHARE = 0.01  # volts across the open ends, as a share of one section


class PhasingTest(msgspec.Struct, frozen=True):
    """Feed a few volts a.c. into one section and read between two terminals.

    `low` and `high` are factors of the volts fed in: multiply by the reading of the feed.
    """

    kind: str
    feed_section: str
    feed_terminals: list[str]
    joined: list[str]
    read_terminals: list[str]
    low: float
    high: float
    text: str


def phasing_tests(
    sections: list[Section], links: list[list[str]], mains: list[str]
) -> list[PhasingTest]:
    """One test for each link to be closed that joins two sections.

    A series link is closed alone and the pair must read the sum; the pair to be paralleled must
    read less than 1 % across the ends that are still open.
    """
    ends = _ends(sections, links, mains)
    tests = []
    for one, other in links:
        first, second = ends[one], ends[other]
        if first.section.name == second.section.name:
            continue
        if first.begins != second.begins:
            tests.append(_series(second, first) if first.begins else _series(first, second))
        elif not first.begins:  # the starts' own link needs no test
            tests.append(_parallel(first, second))
    return tests


class _End(NamedTuple):
    """A terminal of a section in use. `begins`: the current enters here, from below."""

    section: Section
    terminal: str
    volt: float
    low: tuple[str, float]

    @property
    def begins(self) -> bool:
        return self.volt <= self.low[1]


def _ends(sections: list[Section], links: list[list[str]], mains: list[str]) -> dict[str, _End]:
    """Every terminal with the lowest live point of its section."""
    spans = live_spans(sections, links, mains)
    ends = {}
    for section in sections:
        lowest = spans.get(section.name, (0.0, 0.0))[0]
        low = next(point for point in section.points() if point[1] == lowest)
        for terminal, volt in section.points():
            ends[terminal] = _End(section, terminal, volt, low)
    return ends


def _parallel(first: _End, second: _End) -> PhasingTest:
    """Only the far ends are read, with the starts joined."""
    return PhasingTest(
        kind="parallel",
        feed_section=first.section.name,
        feed_terminals=[first.low[0], first.terminal],
        joined=[first.low[0], second.low[0]],
        read_terminals=[first.terminal, second.terminal],
        low=0.0,
        high=max(PARALLEL_SHARE, EQUAL_TURNS),
        text=_(
            "Join {a} and {b} only; between {c} and {d} less than 1 % of the volts fed in.",
            a=first.low[0],
            b=second.low[0],
            c=first.terminal,
            d=second.terminal,
        ),
    )


def _series(lower: _End, upper: _End) -> PhasingTest:
    """The end of one section meets the beginning of the other; the free ends read the sum."""
    fed = lower.volt - lower.low[1]
    share = (fed + upper.section.rated_volt - upper.volt) / fed
    begin, finish = lower.low[0], upper.section.finish
    return PhasingTest(
        kind="series",
        feed_section=lower.section.name,
        feed_terminals=[begin, lower.terminal],
        joined=[lower.terminal, upper.terminal],
        read_terminals=[begin, finish],
        low=share * 0.95,
        high=share * 1.05,
        text=_(
            "Join {a} and {b} only; between {c} and {d} the sum, {share:.2f} times the feed.",
            a=lower.terminal,
            b=upper.terminal,
            c=begin,
            d=finish,
            share=share,
        ),
    )
