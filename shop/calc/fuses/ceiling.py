"""How large a transformer's fuses may be by building practice."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, fit
from shop.calc.fuses.series import R10_MILLIAMPERE, SERIES_SOURCE, in_words
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

CEILING_SOURCE = Source(
    "NEC table 450.3(B), primary protection only: 300 % below 2 A, 167 % to 9 A, 125 % above",
    Status.SECOND_HAND,
    "lornmac.com/lowVoltageTransformers.html",
)
MOTOR_SOURCE = Source(
    "Motor-control transformers below 2 A: primary up to 500 %",
    Status.SECOND_HAND,
    "studylib.net/doc/18075878/primary-fuses-for-lv-control-transformers",
)
BOTH_SOURCE = Source(
    "NEC table 450.3(B), both sides protected: primary 250 %, secondary 125 %, below 9 A 167 %",
    Status.SECOND_HAND,
    "lornmac.com/lowVoltageTransformers.html",
)
# 300 VA on 600 V, the case of the fuse-maker's guide: 0.5 A.
EXAMPLE = {"primary_ampere": 0.5, "secondary_ampere": 2.5}


class CeilingIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Full-load currents of a transformer."""

    primary_ampere: Annotated[Ampere, Meta(title="Primary current", description="at full load")]
    secondary_ampere: Annotated[
        Ampere | None, Meta(title="Secondary current", description="at full load, if it is fused")
    ] = None


class Ceiling(msgspec.Struct, frozen=True):
    """One ceiling: `percent` of the full-load current, and the largest R10 member under it."""

    words: str
    percent: float
    ceiling_ampere: float
    member_ampere: float | None


class CeilingOut(msgspec.Struct, frozen=True):
    """All ceilings that may apply; the first is for a fuse in the primary alone."""

    ceilings: list[Ceiling]


def primary_percent(ampere: float) -> float:
    """Ceiling of a fuse in the primary alone, in % of full load. Source: NEC table 450.3(B)."""
    if ampere >= 9:
        return 125.0
    return 167.0 if ampere >= 2 else 300.0


@calculator(
    "fuses.ceiling",
    "Largest fuse of a transformer",
    question="How large may the fuses of a transformer be at the very most?",
    example=EXAMPLE,
)
def ceiling(given: CeilingIn) -> Answer[CeilingOut]:
    """List the ceilings of North American building practice for a transformer's fuses.

    Units: A, %. Formula: a share of the full-load current by its size. A ceiling is not a
    proposal: a unit's own fuse is nearly always far below.
    Source: NEC table 450.3(B) (second-hand); motor control from a fuse-maker's guide (second-hand).
    """
    given = fit(given)
    found = _ceilings(given)
    lines = [
        Line(one.words, f"{one.percent:g} %", f"{one.ceiling_ampere:.4g} A{_member(one)}")
        for one in found
    ]
    text = _(
        "Ceiling of building practice, no proposal: {ampere:.4g} A in the primary alone.",
        ampere=found[0].ceiling_ampere,
    )
    cautions = [
        _("A ceiling is not a proposal. The maker's marking always wins."),
        _("Local codes and licensed practice come first."),
    ]
    differ = [_("The table lets a fuse of 9 A or more be the next standard size up (from memory).")]
    sources = [CEILING_SOURCE, BOTH_SOURCE, MOTOR_SOURCE, SERIES_SOURCE]
    return Answer(Outcome.OK, text, CeilingOut(found), Working(lines, sources, cautions, differ))


def _ceilings(given: CeilingIn) -> list[Ceiling]:
    primary, secondary = given.primary_ampere, given.secondary_ampere
    found = [_ceiling(_("primary alone"), primary_percent(primary), primary)]
    if secondary is not None:
        percent = 125.0 if secondary >= 9 else 167.0
        found.append(_ceiling(_("primary, with a fused secondary"), 250.0, primary))
        found.append(_ceiling(_("secondary"), percent, secondary))
    if primary < 2:
        found.append(_ceiling(_("primary in motor control only"), 500.0, primary))
    return found


def _ceiling(words: str, percent: float, ampere: float) -> Ceiling:
    most = ampere * percent / 100
    under = [member for member in R10_MILLIAMPERE if member <= most * 1000 * (1 + 1e-9)]
    return Ceiling(words, percent, most, under[-1] / 1000 if under else None)


def _member(one: Ceiling) -> str:
    return f" ({in_words(one.member_ampere * 1000)})" if one.member_ampere is not None else ""
