"""The shape of every answer: a value, the way to it, and how far each source can be trusted."""

from __future__ import annotations

from enum import StrEnum
from typing import Generic, TypeVar

import msgspec

from shop.calc.words import _, gettext_noop

Value = TypeVar("Value")


class Status(StrEnum):
    """How well a figure is known. Shown with it wherever the figure is shown."""

    VERIFIED = "verified"  # seen in the text of the standard, law or handbook itself
    SECOND_HAND = "second_hand"  # seen on a page that quotes it
    FROM_MEMORY = "from_memory"  # not seen; never to be shown as a standard's figure
    COMPUTED = "computed"  # follows from other rows by the formula given
    PROPOSED = "proposed"  # a choice made here
    COMMON_PRACTICE = "common_practice"  # a fact of the trade without a published source


STANDING = {
    Status.VERIFIED: gettext_noop("seen in the source itself"),
    Status.SECOND_HAND: gettext_noop("second-hand"),
    Status.FROM_MEMORY: gettext_noop("from memory, not verified"),
    Status.COMPUTED: gettext_noop("follows by the formula"),
    Status.PROPOSED: gettext_noop("a proposal"),
    Status.COMMON_PRACTICE: gettext_noop("common practice, no source"),
}


def standing(status: str) -> str:
    """How well a figure is known, in words. A figure from memory is never shown as a standard's."""
    return _(STANDING[Status(status)])


class Source(msgspec.Struct, frozen=True):
    """Where a figure or a formula comes from. `at` is an address, edition or clause."""

    text: str
    status: Status
    at: str = ""


class Line(msgspec.Struct, frozen=True):
    """One line of working: what it gives, the formula, and the result with its unit."""

    label: str
    formula: str
    result: str


class Working(msgspec.Struct, frozen=True):
    """How an answer was worked out, in the order a tech would do it on paper.

    `cautions` belong to the answer wherever it is shown. `disagreements` are sources that say
    something else: they are shown, never averaged.
    """

    lines: list[Line]
    sources: list[Source]
    cautions: list[str] = []
    disagreements: list[str] = []


class Outcome(StrEnum):
    """What kind of answer it is. No answer is an answer too, and never a guess."""

    OK = "ok"
    WARN = "warn"
    REFUSE = "refuse"  # the trade says: do not do this
    NO_ANSWER = "no_answer"  # cannot be known from what was given; `text` says why


class Answer(msgspec.Struct, Generic[Value], frozen=True):
    """A calculator's answer. `text` is one sentence for a person; `value` may be None."""

    outcome: Outcome
    text: str
    value: Value | None
    working: Working


class BadInput(ValueError):
    """An input cannot be used. `field` is the path of the input, `reason` a sentence for a tech.

    `code` names the reason for programs and translations; it never changes.
    """

    def __init__(self, field: str, reason: str, code: str = "bad_input") -> None:
        super().__init__(f"{field}: {reason}")
        self.field = field
        self.reason = reason
        self.code = code
