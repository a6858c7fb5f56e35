"""Core flux of a transformer on another voltage or frequency."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Hertz, WindingVolt, fit
from shop.calc.registry import calculator
from shop.calc.windings.verdicts import (
    FLUX_LIMITS,
    FLUX_SOURCE,
    FLUX_WARN,
    HEATER_OK_PERCENT,
    flux_ratio,
    judge_flux,
)
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

PlateHertz = Annotated[
    list[Annotated[Hertz, Meta(title="Frequency")]],
    Meta(min_length=1, max_length=4, description="frequencies on the plate", examples=[[50, 60]]),
]


CORE_LOSS = Source(
    "Core loss grows about with the square of the flux; less frequency takes off 15 to 20 %",
    Status.FROM_MEMORY,
)


class FluxIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the plate says for the winding in use, and the new supply."""

    plate_volt: Annotated[
        WindingVolt, Meta(title="Volts on the plate", description="for the links as they are set")
    ]
    plate_hz: Annotated[
        PlateHertz, Meta(title="Frequencies on the plate", description="the lowest one counts")
    ]
    target_volt: Annotated[WindingVolt, Meta(title="New supply")]
    target_hz: Annotated[Hertz, Meta(title="New frequency")]


class FluxOut(msgspec.Struct, frozen=True):
    """`flux_ratio` against the plate; `same_flux_volt` keeps the plate's flux."""

    flux_ratio: float
    change_percent: float
    plate_volt_per_hertz: float
    target_volt_per_hertz: float
    same_flux_volt: float
    verdict: Outcome


@calculator(
    "windings.flux",
    "Core flux on another supply",
    question="Does the transformer's core stand this voltage at this frequency?",
    # The same volts per hertz: physicsforums.com/threads/954052.
    example={"plate_volt": 480.0, "plate_hz": [60.0], "target_volt": 400.0, "target_hz": 50.0},
)
def flux(given: FluxIn) -> Answer[FluxOut]:
    """Compare the core's flux on the new supply with the plate's.

    Units: V, Hz. Formula: r = (V_new / V_plate) (f_plate / f_new), lowest plate frequency.
    Source: E = 4.44 f N B A; the limits 1.06 and 1.10 are proposed.
    """
    given = fit(given)
    ratio, lowest = flux_ratio(given.plate_volt, given.plate_hz, given.target_volt, given.target_hz)
    verdict = judge_flux(ratio)
    value = FluxOut(
        flux_ratio=ratio,
        change_percent=(ratio - 1) * 100,
        plate_volt_per_hertz=given.plate_volt / lowest,
        target_volt_per_hertz=given.target_volt / given.target_hz,
        same_flux_volt=given.plate_volt * given.target_hz / lowest,
        verdict=verdict,
    )
    formula = f"({given.target_volt:g} / {given.plate_volt:g}) × ({lowest:g} / {given.target_hz:g})"
    working = Working(
        [
            Line(_("flux against the plate"), formula, f"{ratio:.4f}"),
            Line(
                _("volts for the plate's flux"),
                f"{given.plate_volt:g} V × {given.target_hz:g} / {lowest:g}",
                f"{value.same_flux_volt:.4g} V",
            ),
            Line(_("core loss by flux, about"), f"{ratio:.4f}²", f"{(ratio**2 - 1) * 100:+.0f} %"),
        ],
        [FLUX_SOURCE, FLUX_LIMITS, CORE_LOSS],
        [*flux_cautions(verdict), *_of_the_rest(given)],
        [_("One page says 20 % lower voltage for 50 Hz; it is 16.7 % (5/6).")],
    )
    return Answer(verdict, flux_sentence(verdict, ratio), value, working)


def flux_sentence(verdict: Outcome, ratio: float) -> str:
    """One sentence for each verdict."""
    percent = f"{(ratio - 1) * 100:+.1f} %"
    if verdict is Outcome.OK:
        return _("Core flux {percent} against the plate: fine.", percent=percent)
    if verdict is Outcome.WARN:
        return _("Core flux {percent} against the plate: warm core, hum.", percent=percent)
    return _(
        "Core flux {percent} against the plate: above {limit:g} times, do not power.",
        percent=percent,
        limit=FLUX_WARN,
    )


def flux_cautions(verdict: Outcome) -> list[str]:
    """What to watch at this verdict."""
    if verdict is Outcome.WARN:
        return [_("Measure no-load current and log the case temperature.")]
    return []


def _of_the_rest(given: FluxIn) -> list[str]:
    """The core is one question; what hangs on the secondaries is another."""
    change = given.target_volt / given.plate_volt - 1
    if abs(change) * 100 <= HEATER_OK_PERCENT:
        return []
    return [
        _(
            "This is the core alone: every secondary and heater is {percent:+.1f} % off.",
            percent=change * 100,
        )
    ]
