"""Does a code fit, and if not, which one may have been meant? And the code for a body."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.codes.slips import Slip, possible_slips
from shop.calc.codes.tag import (
    ALPHABET,
    Kind,
    make_code,
    normalise,
    read_code,
)
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

KIND_LABELS: Final = {
    "N": gettext_noop("unit"),
    "P": gettext_noop("piece that came with a unit"),
    "B": gettext_noop("bin"),
    "A": gettext_noop("part in stock"),
    "M": gettext_noop("meter"),
    "S": gettext_noop("shelf"),
}
SLIP_WORDS: Final = {
    "looks_alike": gettext_noop("one character that looks alike"),
    "swapped": gettext_noop("two neighbours swapped"),
    "other_character": gettext_noop("one other character"),
    "missing_character": gettext_noop("one character missing"),
    "one_too_many": gettext_noop("one character too many"),
}


class CheckIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A code as typed or scanned."""

    code: Annotated[
        str,
        Meta(
            min_length=1,
            max_length=200,
            title="Code",
            description="as typed, or the address that a scanner gave",
        ),
    ]


class Checked(msgspec.Struct, frozen=True):
    """Whether it fits; the code as written; its kind; else the codes that may have been meant."""

    fits: bool
    code: str
    kind: Kind | None
    slips: list[Slip]


@calculator(
    "codes.check",
    "Check a code of a tag",
    question="Is this a code of ours, and if not, which one was meant?",
    example={"code": "NR7Q-2K9A"},
)
def check(given: CheckIn) -> Answer[Checked]:
    """REFUSE where the check does not fit. Raises BadInput (empty).

    Source: ISO/IEC 7064:2003, hybrid systems, with M = 32.
    """
    given = fit(given)
    text = normalise(given.code)
    if not text:
        raise BadInput("code", _("No code was typed."), "empty")
    try:
        code = read_code(given.code)
    except BadInput as refused:
        return _unfit(text, refused)
    kind = _(KIND_LABELS[code.kind])
    text = _("{code} fits: {kind}.", code=code.text, kind=kind)
    working = Working(_steps(code.text), SOURCES)
    return Answer(Outcome.OK, text, Checked(True, code.text, code.kind, []), working)


def _unfit(text: str, refused: BadInput) -> Answer[Checked]:
    slips = possible_slips(text)
    lines = [Line(slip.code, _(SLIP_WORDS[slip.how]), _(KIND_LABELS[slip.code[0]]))
             for slip in slips]  # fmt: skip
    cautions = [
        _("Look at the tag again: the check finds that a code is wrong, not which was meant.")
    ]
    if slips:
        cautions.append(_("None of these need be in the book."))
    value = Checked(False, text, None, slips)
    return Answer(Outcome.REFUSE, refused.reason, value, Working(lines, SOURCES, cautions))


def _steps(code: str) -> list[Line]:
    """The check as on paper: p from 32 on, one line per character."""
    lines, product = [], len(ALPHABET)
    for character in code[:-1]:
        value = ALPHABET.index(character)
        total = (product + value) % 32 or 32
        doubled = total * 2 % 33
        how = f"s = ({product} + {value}) mod 32 = {total}, p = 2 x {total} mod 33"
        lines.append(Line(f"{character} = {value}", how, f"p = {doubled}"))
        product = doubled
    last = (33 - product) % 32
    lines.append(Line(_("check character"), f"(33 - {product}) mod 32 = {last}", ALPHABET[last]))
    return lines


class MakeIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The kind of a tag and six characters, drawn at random by whoever asks."""

    kind: Annotated[
        Kind,
        Meta(
            title="Tag of",
            description="decides the first letter",
            extra_json_schema={"x-labels": KIND_LABELS},
        ),
    ]
    body: Annotated[
        str,
        Meta(
            max_length=16,
            title="Six characters",
            description="0 to 9 and A to Z without I, L, O, U; I and L are read as 1, O as 0",
        ),
    ]


@calculator(
    "codes.make",
    "Make a code for a tag",
    question="Which code has this body?",
    example={"kind": "N", "body": "R7Q2K9"},
)
def make(given: MakeIn) -> Answer[Checked]:
    """Kind letter, body and check character. Raises BadInput (wrong_length, bad_character).

    Source: ISO/IEC 7064:2003, hybrid systems, with M = 32.
    """
    given = fit(given)
    try:
        code = make_code(given.kind, normalise(given.body))
    except BadInput as refused:
        raise BadInput("body", refused.reason, refused.code) from refused
    text = _("{code} ({kind})", code=code, kind=_(KIND_LABELS[given.kind]))
    value = Checked(True, code, given.kind, [])
    return Answer(Outcome.OK, text, value, Working(_steps(code), SOURCES))


SOURCES: Final = [
    Source("hybrid check, here with M = 32 over the 32-letter alphabet", Status.SECOND_HAND,
           "ISO/IEC 7064:2003 as in the PyPI package python-stdnum 2.2, iso7064.mod_37_36"),
    Source("alphabet without I, L, O, U", Status.SECOND_HAND,
           "PyPI package base32-crockford 0.3.0"),
    Source("every single wrong character is found; swapped neighbours 99.8 %, sampled",
           Status.COMPUTED),
    Source("the kind letters, and which characters look alike", Status.PROPOSED),
]  # fmt: skip
