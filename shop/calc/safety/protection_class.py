"""Which protection class a unit really has, and how it is tested for it."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.safety.limits import CLASS_SOURCE, OURS
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

EU_SOURCE = Source(
    "Class 0 is not allowed in the EU; class III: SELV or PELV only",
    Status.SECOND_HAND,
    "bre-trafo.de/en/products/technology/protection-classes/; buechner-lichtsysteme.de",
)


class ProtectionClassIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is seen on the unit."""

    is_fed_by_mains: Annotated[
        bool, Meta(title="Fed by mains", description="false: by a safe low voltage only")
    ]
    has_earth_core: Annotated[
        bool, Meta(title="Earth core", description="cord or inlet with a protective core")
    ]
    earth_reaches_metal: Annotated[
        bool | None,
        Meta(
            title="Earth reaches the metal",
            description="measured from the pin to every touchable metal part; empty: not measured",
        ),
    ] = None
    has_double_square: Annotated[
        bool, Meta(title="Double square", description="the mark of class II")
    ] = False
    has_touchable_metal: Annotated[
        bool, Meta(title="Touchable metal", description="chassis, screws, sockets, shafts")
    ] = True


class ProtectionClassOut(msgspec.Struct, frozen=True):
    """The class as it is, what it is tested by, and what does not fit together."""

    protection_class: Literal["0", "I", "II", "III"]
    meaning: str
    tests: list[str]
    doubts: list[str]


EXAMPLE = {"is_fed_by_mains": True, "has_earth_core": False, "has_double_square": False}


@calculator(
    "safety.protection_class",
    "Protection class of a unit",
    question="Which protection class is this unit, and how is it tested?",
    example=EXAMPLE,
)
def protection_class(given: ProtectionClassIn) -> Answer[ProtectionClassOut]:
    """Tell the protection class from what is seen, never from what the unit ought to be.

    Units: none. Low voltage only: III. Double square: II. Earth core that is not known to miss the
    metal: I. Else 0: many old 120 V units with a two-pin plug are.
    Source: IEC 61140, second-hand; the rule for class 0 is a proposal.
    """
    given = fit(given)
    found = _class(given)
    doubts = _doubts(given)
    value = ProtectionClassOut(found, _meaning(found), _tests(found), doubts)
    working = Working(_lines(given, value), [CLASS_SOURCE, EU_SOURCE, OURS], _cautions(value))
    text = _("Class {name}: {meaning}.", name=found, meaning=value.meaning)
    if doubts:
        text = _("{text} But: {doubts}.", text=text, doubts="; ".join(doubts))
    unsure = found == "0" or bool(doubts)
    return Answer(Outcome.WARN if unsure else Outcome.OK, text, value, working)


def _class(given: ProtectionClassIn) -> Literal["0", "I", "II", "III"]:
    if not given.is_fed_by_mains:
        return "III"
    if given.has_double_square:
        return "II"
    # An earth that misses the metal protects nobody.
    return "I" if given.has_earth_core and given.earth_reaches_metal is not False else "0"


def _meaning(found: str) -> str:
    return {
        "0": _("basic insulation only, no earth"),
        "I": _("basic insulation, and an earth to all touchable metal"),
        "II": _("double or reinforced insulation, no protective earth"),
        "III": _("fed by a safe low voltage only"),
    }[found]


def _tests(found: str) -> list[str]:
    touch = _("touch current, both ways round where the plug allows")
    return {
        "0": [touch],
        "I": [
            _("protective earth"),
            _("insulation"),
            _("protective-conductor current"),
            touch,
        ],
        "II": [_("insulation"), touch],
        "III": [_("insulation, where the scheme has a figure")],
    }[found]


def _doubts(given: ProtectionClassIn) -> list[str]:
    said = []
    mains = given.is_fed_by_mains
    if mains and given.has_double_square and given.has_earth_core:
        said.append(_("double square and an earth core: somebody changed the cord or the case"))
    if mains and given.has_earth_core and given.earth_reaches_metal is False:
        said.append(_("the earth core does not reach the metal: mend it, and it is class I"))
    if mains and given.has_earth_core and given.earth_reaches_metal is None:
        said.append(_("the earth is not measured yet"))
    if not given.has_touchable_metal and _class(given) == "0":
        said.append(
            _("no metal to touch, no mark: it may be built as class II, but nothing says so")
        )
    if not mains and (given.has_earth_core or given.has_double_square):
        said.append(_("marks of a mains unit on a low-voltage one"))
    return said


def _lines(given: ProtectionClassIn, value: ProtectionClassOut) -> list[Line]:
    said = {True: _("yes"), False: _("no"), None: _("not measured")}
    return [
        Line(_("fed by mains"), "", said[given.is_fed_by_mains]),
        Line(_("double square"), "", said[given.has_double_square]),
        Line(_("earth core"), "", said[given.has_earth_core]),
        Line(_("earth reaches the metal"), "", said[given.earth_reaches_metal]),
        Line(_("tests"), _("in this order"), ", ".join(value.tests)),
        *(Line(_("does not fit"), "", doubt) for doubt in value.doubts),
    ]


def _cautions(value: ProtectionClassOut) -> list[str]:
    said = [_("Local codes and licensed practice come first.")]
    if value.protection_class == "0":
        said = [
            _("Fit an earth and test as class I, or record that only touch current was taken."),
            _("One fault puts the mains on the chassis. Class 0 is not allowed in the EU."),
            *said,
        ]
    return said
