"""How many positions a unit must count over one turn of a rotary encoder.

Positions = detents x positions for each detent. A contact that bounces or has worn is counted more
than once, one that is dirty is missed: the count over a whole turn tells, both ways, slow and fast.
Units: counts, no other.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

# A power of two: a count is then found on the line between both points without a rounding.
MOST_DETENTS: Final = 256
WORN_TIMES: Final = (2, 3)

EXAMPLE = {"detents": 24}

Count = Annotated[int, Meta(ge=0, le=10_000)]


class EncoderIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An encoder with detents; `counted` by the unit over one full turn, to judge it."""

    detents: Annotated[
        Annotated[int, Meta(ge=1, le=MOST_DETENTS)] | None,
        Meta(title="Detents", description="clicks felt in one full turn"),
    ] = None
    positions_per_detent: Annotated[
        int,
        Meta(ge=1, le=16, title="Positions for each detent", description="by the unit's sheet; "
             "nearly always 1"),
    ] = 1  # fmt: skip
    counted: Annotated[
        Count | None, Meta(title="Counted", description="positions the unit moved in one full turn")
    ] = None


class Encoder(msgspec.Struct, frozen=True):
    """What is right. `points` are (detents, lowest, highest count) for whatever was felt.

    `positions` is None without the detents, `counted_per_detent` without a count.
    """

    positions: int | None
    worn_from: int | None
    worn_to: int | None
    points: list[tuple[float, float, float]]
    counted_per_detent: float | None


@calculator(
    "controls.encoder",
    "Positions of a rotary encoder",
    question="How many positions must the unit count over one turn of this encoder?",
    example=EXAMPLE,
)
def encoder(given: EncoderIn) -> Answer[Encoder]:
    """Positions over one full turn; with a count also what is wrong with it.

    Units: counts. Formula: detents x positions for each detent. Warns of a count that is off.
    Without detents the points still say what belongs to those that are felt at the bench.
    Source: how a quadrature encoder works; two or three positions when worn is common practice.
    """
    given = fit(given)
    value = _value(given)
    outcome, text = _words(given, value)
    return Answer(outcome, text, value, _working(given, value))


def _value(given: EncoderIn) -> Encoder:
    each = given.positions_per_detent
    right = None if given.detents is None else given.detents * each
    is_counted = given.counted is not None and given.detents is not None
    return Encoder(
        positions=right,
        worn_from=None if right is None else right * WORN_TIMES[0],
        worn_to=None if right is None else right * WORN_TIMES[1],
        points=[(0, 0, 0), (MOST_DETENTS, MOST_DETENTS * each, MOST_DETENTS * each)],
        counted_per_detent=(given.counted or 0) / (given.detents or 1) if is_counted else None,
    )


def _words(given: EncoderIn, value: Encoder) -> tuple[Outcome, str]:
    if value.positions is None:
        each = given.positions_per_detent
        return Outcome.OK, _("For each detent that is felt the unit counts {each}.", each=each)
    right = _("{right} positions over one full turn.", right=value.positions)
    if given.counted is None or given.counted == value.positions:
        return Outcome.OK, right
    wrong = (
        _("Counted {count}: a contact bounces or is worn.", count=given.counted)
        if given.counted > value.positions
        else _("Counted {count}: a contact is dirty, or the unit reads it too seldom.",
               count=given.counted)
    )  # fmt: skip
    return Outcome.WARN, f"{right} {wrong}"


def _working(given: EncoderIn, value: Encoder) -> Working:
    each = given.positions_per_detent
    lines = [Line(_("for each detent"), _("by the sheet"), str(each))]
    if value.positions is not None:
        formula = f"{given.detents} x {each}"
        lines.append(Line(_("over one full turn"), formula, str(value.positions)))
        worn = f"{value.worn_from} – {value.worn_to}"
        lines.append(Line(_("a worn one counts"), "x 2, x 3", worn))
    if value.counted_per_detent is not None:
        counted = f"{value.counted_per_detent:.2f}"
        lines.append(Line(_("counted for each detent"), f"{given.counted} / {given.detents}",
                          counted))  # fmt: skip
    return Working(lines, _SOURCES, [], [_disagreement()])


def _disagreement() -> str:
    return _(
        "Some units count faster the faster the knob is turned, on purpose: judge those turned "
        "slowly, and fast by whether to and fro comes back to where it was."
    )


_SOURCES = [
    Source("dirt, oxide and bouncing brushes make an encoder jump, more so when turned fast",
           Status.SECOND_HAND, "a programmer's page on encoders that jump, tetradev.blogspot.com, "
           "March 2010"),
    Source("a worn encoder moves two or three positions for each detent", Status.COMMON_PRACTICE),
    Source("positions are detents times positions for each detent", Status.COMPUTED),
]  # fmt: skip
