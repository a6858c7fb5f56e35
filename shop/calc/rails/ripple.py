"""Ripple on a reservoir at 50 and 60 Hz, and what a measured ripple says of the capacitor."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import Hertz, fit
from shop.calc.rails.rectifiers import (
    RIPPLE_SOURCE,
    SAWTOOTH_RMS,
    SAWTOOTH_SOURCE,
    LoadAmpere,
    Rectifier,
    RectifierKind,
    ReservoirFarad,
    pulses,
    ripple_volt,
)
from shop.calc.registry import calculator
from shop.calc.shown import farads
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

MAINS_HERTZ: Final = (50.0, 60.0)
# Above this share of the rail the reservoir is refilled long before the next crest.
COARSE_PERCENT: Final = 30.0
TIRED_PERCENT: Final = 80.0

EXAMPLE = {
    "load_ampere": 2,
    "reservoir_farad": 0.001,
    "rectifier": "full_wave",
    "supply_hertz": 60,
}


class RippleIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A rail's current and its reservoir."""

    load_ampere: LoadAmpere
    reservoir_farad: ReservoirFarad
    rectifier: RectifierKind = Rectifier.FULL_WAVE
    supply_hertz: Annotated[
        Hertz, Meta(title="Mains frequency", description="of the supply it was measured on")
    ] = 50.0
    rail_volt: Annotated[
        Annotated[float, Meta(ge=0.1, le=5000)] | None,
        Meta(title="Rail", description="volts d.c. on the reservoir; left out: no percentage"),
    ] = None
    measured_volt: Annotated[
        Annotated[float, Meta(ge=1e-4, le=1000)] | None,
        Meta(
            title="Ripple as measured",
            description="volts r.m.s. on the a.c. range, true r.m.s.; tells what the capacitor "
            "still has",
        ),
    ] = None


class RippleAt(msgspec.Struct, frozen=True):
    """Ripple on one mains frequency; `percent` is peak to peak of the rail, None if not given."""

    supply_hertz: float
    ripple_hertz: float
    peak_to_peak_volt: float
    rms_volt: float
    percent: float | None


class Ripple(msgspec.Struct, frozen=True):
    """Ripple at 50 and 60 Hz; `acts_like_farad` is what the measured ripple amounts to."""

    at: list[RippleAt]
    acts_like_farad: float | None
    acts_like_percent: float | None


@calculator(
    "rails.ripple",
    "Ripple on a reservoir",
    question="How much ripple should this rail have, on 50 Hz and on 60 Hz?",
    example=EXAMPLE,
)
def ripple(given: RippleIn) -> Answer[Ripple]:
    """Ripple by I / (n f C), at 50 and 60 Hz side by side.

    Units: ampere, farad, hertz, volt. Formula: Vpp = I / (n f C), see `rectifiers`. Warns where
    the ripple is a large share of the rail, or the measured one says that capacitance is missing.
    Source: the usual sawtooth approximation, electrical-engineering.app/qa/7829.
    """
    given = fit(given)
    value = Ripple([_at(given, hertz) for hertz in MAINS_HERTZ], *_acts_like(given))
    warnings = _warnings(value)
    text = _(
        "Ripple at most {at_50:.3g} V peak to peak on 50 Hz, {at_60:.3g} V on 60 Hz.",
        at_50=value.at[0].peak_to_peak_volt,
        at_60=value.at[1].peak_to_peak_volt,
    )
    outcome = Outcome.WARN if warnings else Outcome.OK
    return Answer(outcome, " ".join([text, *warnings]), value, _working(given, value))


def _at(given: RippleIn, hertz: float) -> RippleAt:
    volt = ripple_volt(given.load_ampere, given.reservoir_farad, hertz, given.rectifier)
    percent = volt / given.rail_volt * 100 if given.rail_volt else None
    return RippleAt(hertz, pulses(given.rectifier) * hertz, volt, volt * SAWTOOTH_RMS, percent)


def _acts_like(given: RippleIn) -> tuple[float | None, float | None]:
    """The capacitance that would give the ripple as measured, in farad and per cent."""
    if given.measured_volt is None:
        return None, None
    peak_to_peak = given.measured_volt / SAWTOOTH_RMS
    farad = given.load_ampere / (pulses(given.rectifier) * given.supply_hertz * peak_to_peak)
    return farad, farad / given.reservoir_farad * 100


def _warnings(value: Ripple) -> list[str]:
    found = []
    if any(at.percent is not None and at.percent > COARSE_PERCENT for at in value.at):
        found.append(_("That is so much of the rail that the true ripple is well below it."))
    if value.acts_like_percent is not None and value.acts_like_percent < TIRED_PERCENT:
        found.append(
            _(
                "The measured ripple is that of {percent:.0f} % of the marked capacitance: check "
                "the capacitor, a diode and the current.",
                percent=value.acts_like_percent,
            )
        )
    return found


def _working(given: RippleIn, value: Ripple) -> Working:
    n = pulses(given.rectifier)
    lines = [
        Line(
            f"{at.supply_hertz:g} Hz",
            f"{given.load_ampere:.4g} A / ({n} x {at.supply_hertz:g} Hz x "
            f"{farads(given.reservoir_farad)})",
            _(
                "{pp:.3g} V peak to peak, {rms:.3g} V r.m.s. at {hertz:g} Hz",
                pp=at.peak_to_peak_volt,
                rms=at.rms_volt,
                hertz=at.ripple_hertz,
            ),
        )
        for at in value.at
    ]
    if value.acts_like_farad is not None:
        like = farads(value.acts_like_farad)
        lines.append(Line(_("measured ripple is that of"), "I / (n f 2 sqrt(3) Vrms)", like))
    return Working(lines, _SOURCES, [_caution()], [_disagreement()])


def _caution() -> str:
    return _("A reservoir keeps its charge after switching off: measure before you touch.")


def _disagreement() -> str:
    return _(
        "One calculator page divides by 2 pi f C: that is the reactance for a sine, and gives "
        "about a third of the sawtooth's ripple."
    )


_SOURCES = [
    RIPPLE_SOURCE,
    SAWTOOTH_SOURCE,
    Source("less than 80 % of the marked capacitance is worth a look", Status.PROPOSED),
]
