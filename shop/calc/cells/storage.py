"""How long a coin cell keeps on the shelf when it lies warm for part of the year."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

KNOWN_CELSIUS: Final = 20.0


class Spell(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A share of the time at a temperature."""

    share_percent: Annotated[
        float, Meta(ge=0.1, le=100, title="Share of the time", description="all together 100")
    ]
    celsius: Annotated[float, Meta(ge=-20, le=85, title="Temperature", description="of the cell")]
    shelf_years: Annotated[
        Annotated[float, Meta(ge=0.1, le=50)] | None,
        Meta(
            title="Shelf life there",
            description="from a sheet; left out: halved every 10 K above 20 °C",
        ),
    ] = None


class StorageIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Shelf life at 20 °C and the spells of a year."""

    shelf_years: Annotated[
        float, Meta(ge=0.1, le=50, title="Shelf life at 20 °C", description="10 for coin cells")
    ]
    spells: Annotated[
        list[Spell],
        Meta(min_length=1, max_length=12, title="Spells", description="at what temperatures"),
    ]


class Storage(msgspec.Struct, frozen=True):
    """Years in all, and at each spell's temperature alone."""

    years: float
    spell_years: list[float]


@calculator(
    "cells.storage",
    "Shelf life in the warm",
    question="How long does a cell keep if it lies warm for part of the year?",
    example={
        "shelf_years": 10,
        "spells": [{"share_percent": 75, "celsius": 20}, {"share_percent": 25, "celsius": 40}],
    },
)
def storage(given: StorageIn) -> Answer[Storage]:
    """1/SL = sum of share / SL at that temperature. Units: years, %, °C.

    Raises BadInput if the shares do not make 100 %.
    Source: AN1012 Rev 4, 3.2.
    """
    given = fit(given)
    total = sum(spell.share_percent for spell in given.spells)
    if abs(total - 100) > 0.1:
        reason = _("The shares make {total:g} %, not 100 %.", total=total)
        raise BadInput("spells", reason, "shares")
    each = [_years_at(spell, given.shelf_years) for spell in given.spells]
    pairs = list(zip(given.spells, each, strict=True))
    years = total / sum(spell.share_percent / alone for spell, alone in pairs)
    text = _("{years:.1f} years on the shelf.", years=years)
    return Answer(Outcome.OK, text, Storage(years, each), _working(pairs, years))


def _years_at(spell: Spell, shelf_years: float) -> float:
    if spell.shelf_years is not None:
        return spell.shelf_years
    # Seals age in the cold too: no colder place makes a cell outlast its sheet.
    warmer = max(spell.celsius - KNOWN_CELSIUS, 0.0)
    return float(shelf_years * 0.5 ** (warmer / 10.0))


def _working(pairs: list[tuple[Spell, float]], years: float) -> Working:
    lines = [
        Line(f"{spell.celsius:g} °C", f"{spell.share_percent:g} %", _("{y:.2f} years", y=alone))
        for spell, alone in pairs
    ]
    lines.append(Line(_("together"), "1 / sum(share / years)", _("{y:.2f} years", y=years)))
    sources = [
        Source("time-weighted harmonic mean over temperatures", Status.SECOND_HAND,
               "AN1012 Rev 4, 3.2, p. 9, a semiconductor vendor's note on coin cells"),
        Source("self-discharge doubles every 10 K", Status.SECOND_HAND,
               "a copy of a battery text-book page; weak"),
        Source("below 20 °C it keeps no longer than at 20 °C", Status.PROPOSED),
    ]  # fmt: skip
    doubt = _("Doubling every 10 K is a rule of thumb for all chemistries: a sheet's curve counts.")
    return Working(lines, sources, [doubt])
