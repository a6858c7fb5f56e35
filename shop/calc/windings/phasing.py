"""What the low-voltage phasing test must show before a link is closed."""

from __future__ import annotations

import msgspec

from shop.calc.windings.sections import EQUAL_TURNS, Section
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


def phasing_tests(sections: list[Section], links: list[list[str]]) -> list[PhasingTest]:
    """One test for each link to be closed that joins two sections.

    A series link is closed alone and the pair must read the sum; the pair to be paralleled must
    read less than 1 % across the ends that are still open.
    """
    owner = {
        terminal: (section, volt) for section in sections for terminal, volt in section.points()
    }
    tests = []
    for one, other in links:
        (first, at), (second, to) = owner[one], owner[other]
        if first.name == second.name:
            continue
        if (at == 0.0) == (to == 0.0):
            tests.append(_parallel(first, second, (one, at), (other, to)))
        else:
            tests.append(_series(first, second, (one, at), (other, to)))
    return [test for test in tests if test is not None]


_End = tuple[str, float]


def _parallel(first: Section, second: Section, one: _End, other: _End) -> PhasingTest | None:
    """Only the far ends are read, with the starts joined; the starts' own link needs no test."""
    if one[1] == 0.0:
        return None
    return PhasingTest(
        kind="parallel",
        feed_section=first.name,
        feed_terminals=[first.start, one[0]],
        joined=[first.start, second.start],
        read_terminals=[one[0], other[0]],
        low=0.0,
        high=max(PARALLEL_SHARE, EQUAL_TURNS),
        text=_(
            "Join {a} and {b} only; between {c} and {d} less than 1 % of the volts fed in.",
            a=first.start,
            b=second.start,
            c=one[0],
            d=other[0],
        ),
    )


def _series(first: Section, second: Section, one: _End, other: _End) -> PhasingTest:
    """The finish of one section meets the start of the other; the free ends read the sum."""
    lower, upper = (first, second) if one[1] else (second, first)
    joint, begin = (one, other) if one[1] else (other, one)
    total = joint[1] + upper.rated_volt
    share = total / joint[1]
    return PhasingTest(
        kind="series",
        feed_section=lower.name,
        feed_terminals=[lower.start, joint[0]],
        joined=[joint[0], begin[0]],
        read_terminals=[lower.start, upper.finish],
        low=share * 0.95,
        high=share * 1.05,
        text=_(
            "Join {a} and {b} only; between {c} and {d} the sum, {share:.2f} times the feed.",
            a=joint[0],
            b=begin[0],
            c=lower.start,
            d=upper.finish,
            share=share,
        ),
    )
