"""Which code may have been meant: one wrong, missing, needless character, or two swapped."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal

import msgspec

from shop.calc.codes.tag import ALPHABET, CODE_LENGTH, Kind, check_character

How = Literal["looks_alike", "swapped", "other_character", "missing_character", "one_too_many"]
# Characters of the alphabet that are taken for each other on a worn or handwritten tag.
LOOK_ALIKES: Final = frozenset(
    frozenset(pair)
    for pair in ("8B", "5S", "2Z", "6G", "0D", "0Q", "17", "VY", "VW", "MN", "CG", "EF", "PR", "3B")
)
_SIZE: Final = len(ALPHABET)
# Twice this is 1 modulo M + 1: it undoes the doubling of the check.
_HALF: Final = (_SIZE + 2) // 2


class Slip(msgspec.Struct, frozen=True):
    """A code that fits, and the slip by which it became what was typed."""

    code: str
    how: How


def possible_slips(text: str) -> list[Slip]:
    """Codes one slip away, likelier ones first, each once. `text` as `normalise` gives it."""
    found = list(_slips(text))
    found.sort(key=lambda slip: _ORDER.index(slip.how))
    return list({slip.code: slip for slip in reversed(found)}.values())[::-1]


_ORDER: Final[tuple[How, ...]] = (
    "looks_alike", "swapped", "other_character", "missing_character", "one_too_many",
)  # fmt: skip


def _slips(text: str) -> Iterator[Slip]:
    if len(text) == CODE_LENGTH:
        yield from _swapped(text)
        yield from _replaced(text)
    elif len(text) == CODE_LENGTH - 1:
        for place in range(CODE_LENGTH):
            yield from _completed(text[:place] + "?" + text[place:], place, "missing_character")
    elif len(text) == CODE_LENGTH + 1:
        for place in range(CODE_LENGTH + 1):
            yield from _if_fits(text[:place] + text[place + 1 :], "one_too_many")


def _swapped(text: str) -> Iterator[Slip]:
    for place in range(CODE_LENGTH - 1):
        swapped = text[:place] + text[place + 1] + text[place] + text[place + 2 :]
        yield from _if_fits(swapped, "swapped")


def _replaced(text: str) -> Iterator[Slip]:
    for place, typed in enumerate(text):
        for slip in _completed(text, place, "other_character"):
            is_alike = frozenset((typed, slip.code[place])) in LOOK_ALIKES
            yield Slip(slip.code, "looks_alike") if is_alike else slip


def _completed(text: str, place: int, how: How) -> Iterator[Slip]:
    """The one code that has the other characters and a fitting one at this place."""
    others = text[:place] + text[place + 1 :]
    if all(character in ALPHABET for character in others):
        yield from _if_fits(text[:place] + fitting_character(text, place) + text[place + 1 :], how)


def _if_fits(text: str, how: How) -> Iterator[Slip]:
    is_code = text[0] in tuple(Kind) and all(character in ALPHABET for character in text)
    if is_code and check_character(text[:-1]) == text[-1]:
        yield Slip(text, how)


def fitting_character(text: str, place: int) -> str:
    """The one character at this place with which the check fits. What stands there does not count.

    Each step of the check can be undone, so it is run up to the place from the left and from the
    right: v = s - p, with p before the place and s after it.
    """
    if place == len(text) - 1:
        return check_character(text[:-1])
    before = _SIZE
    for character in text[:place]:
        before = (before + ALPHABET.index(character)) % _SIZE or _SIZE
        before = before * 2 % (_SIZE + 1)
    after = _SIZE + 1 - ALPHABET.index(text[-1]) if text[-1] != ALPHABET[0] else 1
    for character in reversed(text[place + 1 : -1]):
        after = (after * _HALF % (_SIZE + 1) - ALPHABET.index(character)) % _SIZE or _SIZE
    return ALPHABET[(after * _HALF % (_SIZE + 1) - before) % _SIZE]
