"""What a plug letter is, and where its sockets are found."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import CountryCode, PlugLetter, fit
from shop.calc.registry import calculator
from shop.calc.supplies.names import name_of
from shop.calc.supplies.places import PLACES
from shop.calc.supplies.plugs import PLUGS, RATING_SOURCE, SHAPE_SOURCE, Plug
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

USE_SOURCE = Source(
    "Where each letter is used: two public data sets (2016, 2017)",
    Status.SECOND_HAND,
    "PyPI fluids 1.3.1 residential_power; IEC World Plugs as of 2016",
)


class PlugIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The letter, and a country if the question is whether it fits there."""

    letter: Annotated[PlugLetter, Meta(title="Plug letter", description="A to O")]
    country: Annotated[
        CountryCode | None,
        Meta(
            title="Country",
            description="two letters of ISO 3166-1; if left out, no country is compared",
        ),
    ] = None


class PlugOut(msgspec.Struct, frozen=True):
    """The plug, the countries (ISO codes) with its sockets, and whether the named one has them.

    `is_used_there` is None where no country was named or it is not in the table.
    """

    plug: Plug
    places: list[str]
    is_used_there: bool | None


EXAMPLE = {"letter": "F", "country": "DE"}


@calculator(
    "supplies.plug",
    "Plug by its letter",
    question="What plug is this letter, and does it prove polarity?",
    example=EXAMPLE,
)
def plug(given: PlugIn) -> Answer[PlugOut]:
    """What a plug letter stands for: pins, standard, rating, earth, polarity, countries.

    Units: A, V. A plug without a way to tell line from neutral proves no polarity.
    Source: letters of IEC/TR 60083 habit; ratings from memory, see each plug's `status`.
    """
    given = fit(given)
    found = PLUGS[given.letter]
    places = sorted(code for code, place in PLACES.items() if given.letter in place.plugs)
    there = _there(given)
    value = PlugOut(found, places, there)
    working = Working(
        _lines(value, given), [SHAPE_SOURCE, RATING_SOURCE, USE_SOURCE], _cautions(found),
        _differ(given.letter),
    )  # fmt: skip
    text = _("Plug {letter}: {text}.", letter=found.letter, text=_(found.text))
    if there is False:
        text += " " + _("{country} has other sockets.", country=_name(given))
    return Answer(Outcome.WARN if there is False else Outcome.OK, text, value, working)


def _there(given: PlugIn) -> bool | None:
    place = PLACES.get((given.country or "").upper())
    return None if place is None else given.letter in place.plugs


def _name(given: PlugIn) -> str:
    code = (given.country or "").upper()
    return name_of(code) or code


def _lines(value: PlugOut, given: PlugIn) -> list[Line]:
    found = value.plug
    earth = {True: _("earthed"), False: _("not earthed"), None: _("earthed or not")}
    lines = [
        Line(_("rating"), "", f"{found.ampere:g} A, {found.volt} V"),
        Line(_("protective earth"), "", earth[found.is_earthed]),
        Line(
            _("polarity"),
            "",
            _("goes in either way round") if found.fits_both_ways else _("goes in one way round"),
        ),
        Line(_("found in"), "", _("{count} countries of the table", count=len(value.places))),
    ]
    if given.country is not None:
        said = {True: _("has its sockets"), False: _("has other sockets"),
                None: _("not in the table")}  # fmt: skip
        lines.append(Line(_name(given), "", said[value.is_used_there]))
    return lines


def _cautions(found: Plug) -> list[str]:
    said = [_("A letter says nothing of polarity: measure which pin is live.")]
    if found.fits_both_ways:
        said.append(
            _("Switch and fuse may sit in the neutral: take touch current both ways round.")
        )
    if found.is_earthed is False:
        said.append(_("No earth: never on a class I unit."))
    if found.volt < 200:
        said.append(_("Rated 125 V: it must go when the unit leaves a 100 to 127 V supply."))
    return [*said, _("A plug is fitted by a competent person; local codes come first.")]


def _differ(letter: str) -> list[str]:
    return {
        "A": [_("China uses letter A unearthed at 220 V (from memory).")],
        "D": [_("6 A in India.")],
        "I": [
            _("Line and neutral are the other way round in Argentina (from memory)."),
            _("Also GB 2099 of China and IRAM 2073 of Argentina."),
        ],
        "L": [_("A 10 A and a 16 A size, which do not mate (from memory).")],
        "N": [_("Brazil (NBR 14136) 10 and 20 A, South Africa (SANS 164-2) 16 A (from memory).")],
    }.get(letter, [])
