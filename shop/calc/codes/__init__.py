"""Codes on tags, bins and meters: making, reading, checking, and the label they go on."""

from shop.calc.codes.tag import (
    ALPHABET,
    BODY_LENGTH,
    CODE_LENGTH,
    Code,
    Kind,
    check_character,
    make_code,
    normalise,
    read_code,
)

__all__ = [
    "ALPHABET",
    "BODY_LENGTH",
    "CODE_LENGTH",
    "Code",
    "Kind",
    "check_character",
    "make_code",
    "normalise",
    "read_code",
]
