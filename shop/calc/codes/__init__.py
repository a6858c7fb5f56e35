"""Codes on tags, bins and meters: making, reading, checking, and the label they go on."""

from shop.calc.codes.check import Checked, CheckIn, MakeIn, check, make
from shop.calc.codes.qr_label import QrLabel, QrLabelIn, qr_label
from shop.calc.codes.slips import Slip
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
    "CheckIn",
    "Checked",
    "Code",
    "Kind",
    "MakeIn",
    "QrLabel",
    "QrLabelIn",
    "Slip",
    "check",
    "check_character",
    "make",
    "make_code",
    "normalise",
    "qr_label",
    "read_code",
]
