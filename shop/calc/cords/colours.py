"""What the colours of a cord's cores may mean. Never a licence to trust them."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.cords.core_colours import (
    COLOUR_RULES,
    COLOUR_SOURCE,
    WORDS,
    Colour,
    ColourRule,
    readings,
)
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

PRACTICE = Source(
    "Continuity of each core to its plug pin on every cord of other colours", Status.PROPOSED
)
ROLES = ("line", "neutral", "earth")
# Sets that only a present cord has. Grey is left out: old cords have it in every role.
PRESENT: tuple[tuple[frozenset[Colour], ...], ...] = (
    (frozenset({"brown"}), frozenset({"blue", "light_blue"}), frozenset({"green_yellow"})),
    (frozenset({"black"}), frozenset({"white"}), frozenset({"green", "green_yellow"})),
)


class ColoursIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The cores as they look, in any order."""

    cores: Annotated[
        list[
            Annotated[
                Colour,
                Meta(title="Core", description="as seen at a clean end",
                     extra_json_schema={"x-labels": WORDS}),
            ]
        ],
        Meta(min_length=2, max_length=3, title="Cores", description="two or three colours"),
    ]  # fmt: skip


class ColourReading(msgspec.Struct, frozen=True):
    """What one country and time would mean by these colours. `earth` is None with two cores."""

    where: str
    is_present: bool
    line: str
    neutral: str
    earth: str | None


class CoreMeaning(msgspec.Struct, frozen=True):
    """One core, and all that it may be."""

    colour: str
    may_be: list[str]


class ColoursOut(msgspec.Struct, frozen=True):
    """Every reading, and what each core may be by all of them."""

    readings: list[ColourReading]
    cores: list[CoreMeaning]
    must_measure: bool
    line_and_earth_unsure: bool


EXAMPLE = {"cores": ["red", "black", "grey"]}


@calculator(
    "cords.colours",
    "Core colours, old and new",
    question="What may the colours of these cores mean?",
    example=EXAMPLE,
)
def colours(given: ColoursIn) -> Answer[ColoursOut]:
    """List what each country's rule, present and old, would mean by a set of core colours.

    Units: none. Each rule is tried with every order of the cores; what it leaves open may be
    anything but its earth colour. WARN unless the cores are a present set: brown, blue and
    green/yellow, or black, white and green. Raises BadInput for a colour named twice.
    Source: IEC 60445 and older national colours, second-hand.
    """
    given = fit(given)
    if len(set(given.cores)) < len(given.cores):
        raise BadInput("cores", _("name each colour once; two cores alike must be measured"))
    value = _value(tuple(given.cores))
    working = Working(
        _lines(value), [COLOUR_SOURCE, PRACTICE], _cautions(value), _differ(given.cores)
    )
    outcome = Outcome.WARN if value.must_measure else Outcome.OK
    return Answer(outcome, _text(value), value, working)


def _value(cores: tuple[Colour, ...]) -> ColoursOut:
    found = [(rule, reading) for rule in COLOUR_RULES for reading in readings(rule, cores)]
    meanings = [
        CoreMeaning(
            WORDS[core],
            [role for role in ROLES if any(one.get(role) == core for _rule, one in found)],
        )
        for core in cores
    ]
    return ColoursOut(
        readings=[_reading(rule, one) for rule, one in found],
        cores=meanings,
        must_measure=not any(_is_set(cores, roles) for roles in PRESENT),
        line_and_earth_unsure=any({"line", "earth"} <= set(one.may_be) for one in meanings),
    )


def _is_set(cores: tuple[Colour, ...], roles: tuple[frozenset[Colour], ...]) -> bool:
    """Whether the cores fill the first roles of a set, one each."""
    return all(len(role & set(cores)) == 1 for role in roles[: len(cores)])


def _reading(rule: ColourRule, one: dict[str, Colour]) -> ColourReading:
    earth = one.get("earth")
    return ColourReading(
        rule.where,
        rule.is_present,
        WORDS[one["line"]],
        WORDS[one["neutral"]],
        WORDS[earth] if earth else None,
    )


def _text(value: ColoursOut) -> str:
    if not value.readings:
        return _("No rule known here has these colours. Measure each core to its plug pin.")
    if not value.must_measure:
        return _("A present set of colours. Prove it all the same, on any cord you did not make.")
    if value.line_and_earth_unsure:
        return _("One core may be live in one country and earth in another. Measure each core.")
    return _("An old set of colours. Measure each core to its plug pin.")


def _lines(value: ColoursOut) -> list[Line]:
    lines = [
        Line(_(one.where), _("line, neutral, earth"),
             ", ".join(_(word) for word in (one.line, one.neutral, one.earth) if word))
        for one in value.readings
    ]  # fmt: skip
    words = {"line": _("line"), "neutral": _("neutral"), "earth": _("earth")}
    return lines + [
        Line(
            _(core.colour),
            _("may be"),
            " / ".join(words[role] for role in core.may_be) or _("not known"),
        )
        for core in value.cores
    ]


def _cautions(value: ColoursOut) -> list[str]:
    said = [
        _("Measure, never trust the colour: each core to its plug pin, unplugged."),
        _("Rubber and cloth fade and darken; somebody may have changed the plug before."),
    ]
    if value.line_and_earth_unsure:
        said.insert(0, _("A core taken for earth here may put mains on the chassis."))
    return [*said, _("Local codes and licensed practice come first.")]


def _differ(cores: list[Colour]) -> list[str]:
    if not {"grey", "black"} & set(cores):
        return []
    return [_("Old German cords: one page gives grey line and black neutral, others the reverse.")]
