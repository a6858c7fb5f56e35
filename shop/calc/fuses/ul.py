"""IEC and UL ratings side by side: the two numbers do not mean the same current."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.fuses.gates import GATE_SOURCE, UL_GATE_SOURCE, ul_must_open
from shop.calc.fuses.series import (
    R10_MILLIAMPERE,
    SERIES_SOURCE,
    UL_MILLIAMPERE,
    UL_SERIES_SOURCE,
    in_words,
)
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

CONTINUOUS_LOAD_OF_UL = 0.75
OPENING_RATIO = 1.35 / 2.1
IEC_MUST_OPEN = 2.1

UL_RATIO_SOURCE = Source(
    "Continuous load at 25 C not above 75 % of a UL rating, 100 % of an IEC rating",
    Status.SECOND_HAND,
    "circuitprotection.ca/fuseology/",
)
INTERVAL_SOURCE = Source(
    "Interval from equal load (0.75) and equal opening current (1.35 / 2.1)", Status.COMPUTED
)


class UlIecIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One rating and the way it is to be translated."""

    rated_ampere: Annotated[
        float,
        Meta(ge=0.03, le=30, title="Rated current", description="0.03 to 30 A", examples=[3.0]),
    ]
    direction: Annotated[
        Literal["ul_to_iec", "iec_to_ul"],
        Meta(
            title="Direction",
            description="which rating is given",
            extra_json_schema={
                "x-labels": {
                    "ul_to_iec": _noop("from UL to IEC"),
                    "iec_to_ul": _noop("from IEC to UL"),
                }
            },
        ),
    ] = "ul_to_iec"


class UlIecOut(msgspec.Struct, frozen=True):
    """The interval of equal meaning and a pick, in ampere; never above the interval."""

    interval_low_ampere: float
    interval_high_ampere: float
    pick_ampere: float | None
    pick_text: str
    is_inside: bool
    given_opens_ampere: float
    pick_opens_ampere: float | None
    same_number_opens_ampere: float


@calculator(
    "fuses.ul_iec",
    "IEC and UL rating",
    question="Which IEC rating means the same as this UL rating, or the other way round?",
    example={"rated_ampere": 3.0},
)
def ul_iec(given: UlIecIn) -> Answer[UlIecOut]:
    """Translate a UL 248-14 rating to the IEC 60127 series or back.

    Units: A. Formula: 1.35 / 2.1 I_UL <= I_IEC <= 0.75 I_UL. The pick is the highest member inside
    the interval or, failing that, the nearest below its upper end.
    Source: UL 248-14 and IEC 60127-2 gates (second-hand); the interval is computed.
    """
    given = fit(given)
    to_iec = given.direction == "ul_to_iec"
    low, high = _interval(given.rated_ampere, to_iec)
    members = R10_MILLIAMPERE if to_iec else UL_MILLIAMPERE
    below = [member / 1000 for member in members if member / 1000 <= high * (1 + 1e-9)]
    pick = below[-1] if below else None
    value = _value(given.rated_ampere, to_iec, (low, high), pick)
    line = Line(
        _("same meaning"),
        "0.643 I … 0.75 I" if to_iec else "I / 0.75 … I / 0.643",
        f"{low:.3f} A … {high:.3f} A",
    )
    text = (
        _("{pick}: never swap the number alone.", pick=value.pick_text)
        if pick
        else _("No member of the series lies low enough.")
    )
    sources = [UL_RATIO_SOURCE, UL_GATE_SOURCE, GATE_SOURCE, INTERVAL_SOURCE, SERIES_SOURCE]
    differ = [_("A makers' rule: 1 A IEC is about 1.4 A UL (from memory); it lies inside.")]
    working = Working([line], [*sources, UL_SERIES_SOURCE], _warnings(given, value), differ)
    return Answer(Outcome.WARN if pick else Outcome.NO_ANSWER, text, value, working)


def _interval(rated: float, to_iec: bool) -> tuple[float, float]:
    if to_iec:
        return rated * OPENING_RATIO, rated * CONTINUOUS_LOAD_OF_UL
    return rated / CONTINUOUS_LOAD_OF_UL, rated / OPENING_RATIO


def _value(
    rated: float, to_iec: bool, interval: tuple[float, float], pick: float | None
) -> UlIecOut:
    low, high = interval
    opens_ul, opens_iec = ul_must_open(1)[0], IEC_MUST_OPEN
    mine, other = (opens_ul, opens_iec) if to_iec else (opens_iec, opens_ul)
    series = R10_MILLIAMPERE if to_iec else UL_MILLIAMPERE
    same = min(series, key=lambda member: abs(member / 1000 - rated)) / 1000
    return UlIecOut(
        interval_low_ampere=low,
        interval_high_ampere=high,
        pick_ampere=pick,
        pick_text=in_words(pick * 1000) if pick else "",
        is_inside=pick is not None and pick >= low,
        given_opens_ampere=rated * mine,
        pick_opens_ampere=pick * other if pick else None,
        same_number_opens_ampere=same * other,
    )


def _warnings(given: UlIecIn, value: UlIecOut) -> list[str]:
    return [
        _(
            "A swap by number moves the sure opening current from {old:.4g} A to {new:.4g} A.",
            old=value.given_opens_ampere,
            new=value.same_number_opens_ampere,
        ),
        _("A computed fuse is a proposal for a competent person to confirm."),
        _("The maker's marking for the target supply always wins over a computed value."),
    ]
