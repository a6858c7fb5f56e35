"""What the eye says about the lamp, put into volts and amperes: wide, and wide it stays."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.answers import Span, SupplyVolt
from shop.calc.series_lamp.lamp import (
    EXPONENT_ENDS,
    GLOW_FROM,
    SOURCES,
    Glow,
    Lamp,
    cautions,
    current_at,
    light_share,
)
from shop.calc.series_lamp.points import drop_of_most_power
from shop.calc.series_lamp.read_back import CANNOT_TELL, MEANS
from shop.calc.series_lamp.thermal import CONDUCTION_SPAN
from shop.calc.series_lamp.thermal import SOURCES as HEAT_SOURCES
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working


class Sight(StrEnum):
    """What was seen."""

    DARK = "dark"
    FLASH_THEN_DARK = "flash_then_dark"
    DIM = "dim"
    HALF = "half"
    FULL = "full"
    PULSING = "pulsing"


SIGHT_LABELS = {
    "dark": gettext_noop("dark, no glow in the shade of a hand"),
    "flash_then_dark": gettext_noop("a flash at switch-on, then dark"),
    "dim": gettext_noop("dull red to orange"),
    "half": gettext_noop("half bright, steady"),
    "full": gettext_noop("full brightness, or nearly"),
    "pulsing": gettext_noop("pulsing"),
}
GLOW_OF: Final = {
    Sight.DARK: Glow.DARK,
    Sight.FLASH_THEN_DARK: Glow.DARK,
    Sight.DIM: Glow.DIM,
    Sight.HALF: Glow.HALF,
    Sight.FULL: Glow.FULL,
}
SIGHT_MEANS = {
    Sight.FLASH_THEN_DARK: gettext_noop(
        "Inrush into transformer and reservoir capacitors, then a small load: usual for a healthy "
        "unit at idle."
    ),
    Sight.PULSING: gettext_noop(
        "A supply that starts and gives up again, or relays that chatter: switch off."
    ),
}
SIGHT_CANNOT_TELL = {
    Sight.FLASH_THEN_DARK: gettext_noop(
        "A fuse that opened with the flash looks the same: read the current."
    ),
    Sight.PULSING: gettext_noop(
        "It does not tell a switch-mode supply, which must not be run like this, from a fault."
    ),
}
OUTCOMES: Final = {
    Sight.HALF: Outcome.WARN,
    Sight.FULL: Outcome.WARN,
    Sight.PULSING: Outcome.REFUSE,
}


class SeenIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The lamp, the setting, and what is seen."""

    supply_volt: SupplyVolt
    lamp: Annotated[Lamp, Meta(title="Lamp")]
    sight: Annotated[
        Sight,
        Meta(
            title="What is seen",
            description="judge in dim light, after the first second",
            extra_json_schema={"x-labels": SIGHT_LABELS},
        ),
    ]


class Seen(msgspec.Struct, frozen=True):
    """Spans that fit the sight; None for a pulsing lamp, which has no steady state to reckon."""

    lamp_volt: Span | None
    unit_volt: Span | None
    current_ampere: Span | None
    unit_va: Span | None
    means: str
    cannot_tell: str


@calculator(
    "series_lamp.seen",
    "What the light of the lamp says",
    question="The lamp looks like this: what does it mean, and what does it not tell me?",
    example={"supply_volt": 230, "lamp": {"watt": 60, "volt": 230}, "sight": "dim"},
)
def seen(given: SeenIn) -> Answer[Seen]:
    """Spans of lamp volts, current and load for a sight, in phase; pulsing means stop.

    V/V0: dark below 0.1, dim to 0.4, half to 0.8, full above. Current by law and by heat.
    Units: V, A, W. Source: computed from the lamp law; pulsing from memory.
    """
    given = fit(given)
    means, cannot_tell = _words(given.sight)
    glow = GLOW_OF.get(given.sight)
    if glow:
        value = Seen(*_spans(given, glow), means, cannot_tell)
    else:
        value = Seen(None, None, None, None, means, cannot_tell)
    outcome = OUTCOMES.get(given.sight, Outcome.OK)
    return Answer(outcome, f"{means} {cannot_tell}", value, _working(given, value))


def _words(sight: Sight) -> tuple[str, str]:
    if sight in SIGHT_MEANS:
        return _(SIGHT_MEANS[sight]), _(SIGHT_CANNOT_TELL[sight])
    glow = GLOW_OF[sight]
    return _(MEANS[glow]), _(CANNOT_TELL[glow])


def _spans(given: SeenIn, glow: Glow) -> tuple[Span, Span, Span, Span]:
    """Lamp V, unit V, A, and VA of the unit. A lamp cannot have more than the supply."""
    supply, lamp = given.supply_volt, given.lamp
    low = min(GLOW_FROM[glow] * lamp.volt, supply)
    above = [edge for edge in GLOW_FROM.values() if edge > GLOW_FROM[glow]]
    high = min(above[0] * lamp.volt, supply) if above else supply
    pairs = [pair for one in _lamps(lamp) for pair in _along(one, supply, low, high)]
    return (
        Span(low, high),
        Span(supply - high, supply - low),
        Span.of(current for _volt, current in pairs),
        Span.of((supply - volt) * current for volt, current in pairs),
    )


def _lamps(lamp: Lamp) -> list[Lamp]:
    """The lamp over the law's exponents and the share of conduction."""
    by_law = [lamp.with_exponent(exponent) for exponent in EXPONENT_ENDS]
    return [*by_law, *(lamp.by_heat(share) for share in CONDUCTION_SPAN)]


def _along(lamp: Lamp, supply: float, low: float, high: float) -> list[tuple[float, float]]:
    """(lamp V, A) at both ends, and between them where the unit gets most."""
    most = drop_of_most_power(lamp, 1.0, supply)
    return [(volt, current_at(lamp, volt)) for volt in (low, min(max(most, low), high), high)]


def _working(given: SeenIn, value: Seen) -> Working:
    lines = [Line(_("seen"), _("on a {volt:g} V lamp", volt=given.lamp.volt), _label(given.sight))]
    if value.lamp_volt and value.unit_volt and value.current_ampere and value.unit_va:
        lamp, unit, current = value.lamp_volt, value.unit_volt, value.current_ampere
        light = [light_share(given.lamp, volt) for volt in (lamp.low, lamp.high)]
        lines += [
            Line(_("lamp"), "V/V0", f"{lamp.low:.0f} – {lamp.high:.0f} V"),
            Line(_("unit"), "Vs - VL", f"{unit.low:.0f} – {unit.high:.0f} V"),
            Line(_("current"), _("law and heat"), f"{current.low:.3f} – {current.high:.3f} A"),
            Line(_("load"), "VU x I", f"{value.unit_va.low:.1f} – {value.unit_va.high:.1f} VA"),
            Line(_("light"), "(VL/V0)^3.4", f"{light[0]:.2%} – {light[1]:.0%}"),
        ]
    sources = [
        *SOURCES,
        *HEAT_SOURCES,
        Source("no glow is seen below 798 K (Draper point)", Status.FROM_MEMORY),
        Source("full brightness is a near-short, a flash is inrush", Status.SECOND_HAND,
               "published tables for lamp limiters"),
        Source("edges between dim, half and full", Status.PROPOSED),
        Source("a pulsing lamp: supply that hiccups, or relays", Status.FROM_MEMORY),
    ]  # fmt: skip
    eyes = _("Eyes judge light poorly: fit an ammeter and go by the limits of the step.")
    return Working(lines, sources, [eyes, *cautions()], [_edges()])


def _label(sight: Sight) -> str:
    return _(SIGHT_LABELS[sight.value])


def _edges() -> str:
    return _(
        "Dark ends at 0.04 of the lamp's voltage by the law and at 0.07 to 0.10 by heat; full "
        "begins at 0.9 in the published table, 0.7 to 0.9 has no word there."
    )
