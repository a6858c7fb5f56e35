"""The first tens of milliseconds: a cold filament holds back far less than a hot one."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.answers import Span, SupplyVolt
from shop.calc.series_lamp.lamp import (
    HOT_TO_COLD,
    SOURCES,
    Lamp,
    cautions,
    current_at,
    inrush_peak,
)
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

HOT_TO_COLD_SPAN: Final = (10.0, 15.0)


class InrushIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A cold lamp on a supply, with a short behind it."""

    supply_volt: SupplyVolt
    lamp: Annotated[Lamp, Meta(title="Lamp")]
    source_ohm: Annotated[
        float,
        Meta(
            ge=0,
            le=1000,
            title="Resistance of the source",
            description="line, variable transformer and cord together; 0 for the worst case",
        ),
    ] = 0.0


class Inrush(msgspec.Struct, frozen=True):
    """Peak at the crest of the supply, its span over the cold filament, the current once hot."""

    peak_ampere: float
    peak_span: Span
    hot_ampere: float


@calculator(
    "series_lamp.inrush",
    "Inrush through a cold lamp",
    question="How much passes at the moment of switching on, before the filament is hot?",
    example={"supply_volt": 230, "lamp": {"watt": 100, "volt": 230}},
)
def inrush(given: InrushIn) -> Answer[Inrush]:
    """Ipk = sqrt(2) Vs / (Rcold + Rsource), Rcold = V0 / I0 / ratio, ratio 13, seen 10 to 15.

    Units: V, ohm, A. Holds for some tens of milliseconds, then the filament is hot.
    Source: hot and cold resistance of filaments as measured on four lamps.
    """
    given = fit(given)
    peaks = [
        inrush_peak(given.lamp, given.supply_volt, given.source_ohm, ratio)
        for ratio in (HOT_TO_COLD, *HOT_TO_COLD_SPAN)
    ]
    value = Inrush(peaks[0], Span.of(peaks), current_at(given.lamp, given.supply_volt))
    text = _(
        "Up to {peak:.1f} A at switch-on into a short, {hot:.2f} A once the lamp is hot.",
        peak=value.peak_ampere,
        hot=value.hot_ampere,
    )
    return Answer(Outcome.OK, text, value, _working(given, value))


def _working(given: InrushIn, value: Inrush) -> Working:
    low, high = value.peak_span.low, value.peak_span.high
    lines = [
        Line(_("cold filament"), "V0 / I0 / 13", f"{given.lamp.cold_ohm:.1f} ohm"),
        Line(_("peak"), "sqrt(2) Vs / (Rcold + Rsource)", f"{value.peak_ampere:.3f} A"),
        Line(_("with a ratio of 10 to 15"), _("the same"), f"{low:.3f} – {high:.3f} A"),
        Line(_("hot, into a short"), "I0 (Vs/V0)^a", f"{value.hot_ampere:.3f} A"),
    ]
    sources = [
        *SOURCES,
        Source(
            "60 W 110 V: 18 ohm cold, about 200 hot (11)",
            Status.SECOND_HAND,
            "lecdem.physics.umd.edu/k/k5/k5-44.html",
        ),
        Source("the filament heats within some tens of milliseconds", Status.SECOND_HAND,
               "a filament-lamp model's description, quoting a bench article"),
    ]  # fmt: skip
    flash = _("A flash of the lamp at switch-on is this inrush; a lamp that stays bright is not.")
    disagreements = [
        _("Hot to cold: 10 and 11 for two 60 W lamps, 13.2 in a circuit model, 14.7 computed.")
    ]
    return Working(lines, sources, [flash, *cautions()], disagreements)
