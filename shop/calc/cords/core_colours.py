"""Colours of line, neutral and protective core by country and time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations
from typing import Literal

import msgspec

from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Source, Status

Colour = Literal[
    "brown", "blue", "light_blue", "green_yellow", "green", "black", "white", "grey", "red",
    "yellow", "yellow_red", "other",
]  # fmt: skip
WORDS: dict[str, str] = {
    "brown": _noop("brown"),
    "blue": _noop("blue"),
    "light_blue": _noop("light blue"),
    "green_yellow": _noop("green/yellow"),
    "green": _noop("green"),
    "black": _noop("black"),
    "white": _noop("white"),
    "grey": _noop("grey"),
    "red": _noop("red"),
    "yellow": _noop("yellow"),
    "yellow_red": _noop("yellow/red"),
    "other": _noop("another colour"),
}


class CoreColours(msgspec.Struct, frozen=True):
    """Colours of line, neutral and protective core in one country and time, in words."""

    where: str
    line: str
    neutral: str
    earth: str
    status: Status


class ColourRule(msgspec.Struct, frozen=True):
    """Which colours a core may have. Empty: not known; `line_but`: any but these."""

    where: str
    line: tuple[Colour, ...]
    neutral: tuple[Colour, ...]
    earth: tuple[Colour, ...]
    status: Status = Status.SECOND_HAND
    is_present: bool = False
    line_but: tuple[Colour, ...] = ()

    def in_words(self) -> CoreColours:
        line = _listed(self.line)
        if self.line_but:
            line = f"any but {_listed(self.line_but)}"
        neutral, earth = _listed(self.neutral), _listed(self.earth)
        return CoreColours(self.where, line, neutral, earth, self.status)

    def may_be(self, role: str, colour: Colour) -> bool:
        """Whether a core of this colour may have this role; where nothing is known, any but PE."""
        if role == "line" and self.line_but:
            return colour not in self.line_but
        allowed: tuple[Colour, ...] = getattr(self, role)
        return colour in allowed if allowed else colour not in self.earth


def _listed(colours: tuple[Colour, ...]) -> str:
    words = [WORDS[colour] for colour in colours]
    return " or ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


COLOUR_RULES: tuple[ColourRule, ...] = (
    ColourRule(_noop("IEC 60445, Europe"), ("brown",), ("light_blue", "blue"), ("green_yellow",),
               is_present=True),
    ColourRule(_noop("North America"), ("black",), ("white", "grey", "light_blue"),
               ("green", "green_yellow"), is_present=True),
    ColourRule(_noop("UK, Ireland, Australia before 1969"), ("red",), ("black",), ("green",)),
    ColourRule(_noop("Germany, old"), ("grey", "black"), ("black", "grey"), ("red",)),
    ColourRule(_noop("Belgium, old"), ("red", "yellow", "blue"), ("grey",), ("black",)),
    ColourRule(_noop("Netherlands, old"), (), ("red",), ("grey",), line_but=("grey", "red")),
    ColourRule(_noop("Russia, old"), ("red",), ("grey",), ("black",)),
    ColourRule(_noop("Switzerland, old"), ("red",), ("grey",), ("yellow", "yellow_red")),
    ColourRule(_noop("Sweden, Finland, Norway, Austria, old"), (), (), ("red",)),
    ColourRule(_noop("Poland, old"), (), (), ("grey",)),
)  # fmt: skip
CORE_COLOURS: tuple[CoreColours, ...] = tuple(rule.in_words() for rule in COLOUR_RULES)
COLOUR_SOURCE = Source(
    "IEC 60445 and older national core colours",
    Status.SECOND_HAND,
    "electrical-contractor.net/forums/ubbthreads.php/posts/133586.html",
)


def readings(rule: ColourRule, colours: tuple[Colour, ...]) -> Iterator[dict[str, Colour]]:
    """Every way one country's rule gives a role to each core: line, neutral, then earth."""
    roles = ("line", "neutral", "earth")[: len(colours)]
    if len(colours) == 2 and not (rule.line or rule.line_but or rule.neutral):
        return  # only its earth is known: it says nothing of two cores
    for order in sorted(set(permutations(colours))):
        if all(rule.may_be(role, colour) for role, colour in zip(roles, order, strict=True)):
            yield dict(zip(roles, order, strict=True))
