"""Codes on tags: a kind letter, six characters, a check character.

The alphabet is Crockford's base 32, without I, L, O and U (python package base32-crockford 0.3.0):
what is typed as I or L is read as 1, O as 0; case, hyphens and spaces do not matter. Kind letters
are of the same alphabet, which has no U: a unit takes N, and a stock part A (article), since P is
the loose piece.

The check character is the hybrid system of ISO/IEC 7064 with M = 32 in place of 36: it finds every
single wrong character and 99.8 % of swapped neighbours (sampled), and is itself always of the
alphabet, which MOD 37,36 on the same body is not.
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import Final

import msgspec

from shop.calc.words import _
from shop.calc.working import BadInput

ALPHABET: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
BODY_LENGTH: Final = 6
CODE_LENGTH: Final = 8

_FOLD = str.maketrans({"I": "1", "L": "1", "O": "0", "-": None, " ": None, "\u00a0": None})
_LINK = re.compile(r"/app/t/([^/?#]*)", re.IGNORECASE)


class Kind(StrEnum):
    """What a tag hangs on."""

    UNIT = "N"
    PIECE = "P"
    BIN = "B"
    PART = "A"
    METER = "M"
    SHELF = "S"


class Code(msgspec.Struct, frozen=True):
    """A code that fits: its kind and its eight characters."""

    kind: Kind
    text: str


def check_character(body: str, alphabet: str = ALPHABET) -> str:
    """Check character of the hybrid system MOD M+1,M over an alphabet of M characters.

    Formula: p = M; for each value v: s = (p + v) mod M, M in place of 0; p = 2 s mod (M + 1);
    check = (M + 1 - p) mod M. Raises BadInput (bad_character) for what is not in the alphabet.
    Source: ISO/IEC 7064:2003, hybrid systems (second-hand: python-stdnum 2.2, iso7064.mod_37_36).
    """
    size = len(alphabet)
    product = size
    for character in body:
        value = alphabet.find(character)
        if value < 0:
            raise _bad_character(character)
        product = ((product + value) % size or size) * 2 % (size + 1)
    return alphabet[(size + 1 - product) % size]


def make_code(kind: Kind, body: str) -> str:
    """The code for a body of six characters, which the caller drew at random.

    Raises BadInput (wrong_length, bad_character).
    """
    if len(body) != BODY_LENGTH:
        reason = _("A code has {most} characters in its body.", most=BODY_LENGTH)
        raise BadInput("body", reason, "wrong_length")
    return kind + body + check_character(kind + body)


def normalise(typed: str) -> str:
    """What was typed or scanned, as a code is written: a link gives the code at its end."""
    link = _LINK.search(typed)
    return (link[1] if link else typed).strip().upper().translate(_FOLD)


def read_code(typed: str, field: str = "code") -> Code:
    """Read a code from what was typed, or from a scanned link `…/app/t/<code>`.

    Raises BadInput with `field` and one of the codes empty, wrong_length, bad_character,
    unknown_kind, check_does_not_fit.
    """
    text = normalise(typed)
    if not text:
        raise BadInput(field, _("No code was typed."), "empty")
    if len(text) != CODE_LENGTH:
        reason = _(
            "A code has {wanted} characters, this one has {found}.",
            wanted=CODE_LENGTH,
            found=len(text),
        )
        raise BadInput(field, reason, "wrong_length")
    for character in text:
        if character not in ALPHABET:
            raise _bad_character(character, field)
    if text[0] not in tuple(Kind):
        reason = _("No code begins with {letter}.", letter=text[0])
        raise BadInput(field, reason, "unknown_kind")
    if check_character(text[:-1]) != text[-1]:
        reason = _("The last character does not fit the others: one of them is mistyped.")
        raise BadInput(field, reason, "check_does_not_fit")
    return Code(Kind(text[0]), text)


def _bad_character(character: str, field: str = "code") -> BadInput:
    reason = _("“{character}” is never part of a code.", character=character)
    return BadInput(field, reason, "bad_character")
