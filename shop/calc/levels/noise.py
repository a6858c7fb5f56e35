"""The noise of a source's own resistance, and how much an amplifier adds to it.

Vn = sqrt(4 k T R B), flat over the band. Input noise = output noise less the gain; noise figure
F = input noise less that of the source, in dB.
Units: ohm, degree Celsius, hertz, volt, decibel. k is exact since 2019.
"""

from __future__ import annotations

from math import sqrt
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import Celsius, fit
from shop.calc.levels.scales import SOURCES, dbu_of
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

BOLTZMANN: Final = 1.380649e-23  # joule per kelvin
ICE_KELVIN: Final = 273.15

EXAMPLE = {"source_ohm": 1000, "bandwidth_hertz": 10000, "source_celsius": 20}


class NoiseIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A source resistance and a band; output noise and gain, to judge an amplifier."""

    source_ohm: Annotated[
        float, Meta(ge=0.1, le=1e9, title="Source", description="resistance at the input, ohm")
    ]
    bandwidth_hertz: Annotated[
        float, Meta(ge=1, le=1e7, title="Bandwidth", description="of the meter, hertz")
    ] = 20000.0
    source_celsius: Annotated[
        Celsius, Meta(title="Temperature", description="of the source, degree Celsius")
    ] = 20.0
    output_volt: Annotated[
        Annotated[float, Meta(ge=1e-9, le=1000)] | None,
        Meta(title="Noise at the output", description="V r.m.s., unweighted, in this band"),
    ] = None
    gain_db: Annotated[
        Annotated[float, Meta(ge=-60, le=140)] | None,
        Meta(title="Gain", description="from input to output, dB"),
    ] = None


class Noise(msgspec.Struct, frozen=True):
    """Noise of the source; of the amplifier at its input, None without its readings."""

    source_volt: float
    source_dbu: float
    nanovolt_per_root_hertz: float
    input_volt: float | None
    input_dbu: float | None
    figure_db: float | None


@calculator(
    "levels.noise",
    "Noise of a source resistance",
    question="How much noise does this source make by itself, and what does the amplifier add?",
    example=EXAMPLE,
)
def noise(given: NoiseIn) -> Answer[Noise]:
    """Thermal noise of a resistance, and the noise figure from an output reading.

    Units: ohm, degree Celsius, hertz, volt, decibel. Formula: Vn = sqrt(4 k T R B).
    Source: Johnson and Nyquist; case of studylib.net/doc/7522636.
    Raises BadInput if output noise comes without gain, or is below what the source alone makes.
    """
    given = fit(given)
    value = _value(given)
    text = _(
        "{volt:.3g} µV, {dbu:.1f} dBu in {band:g} Hz.",
        volt=value.source_volt * 1e6,
        dbu=value.source_dbu,
        band=given.bandwidth_hertz,
    )
    if value.figure_db is not None:
        text += " " + _("The amplifier adds {db:.1f} dB.", db=value.figure_db)
    return Answer(Outcome.OK, text, value, _working(given, value))


def _value(given: NoiseIn) -> Noise:
    density = sqrt(4 * BOLTZMANN * (given.source_celsius + ICE_KELVIN) * given.source_ohm)
    volt = density * sqrt(given.bandwidth_hertz)
    at_input = _at_input(given, volt)
    dbu = None if at_input is None else dbu_of(at_input)
    figure = None if dbu is None else dbu - dbu_of(volt)
    return Noise(volt, dbu_of(volt), density * 1e9, at_input, dbu, figure)


def _at_input(given: NoiseIn, source_volt: float) -> float | None:
    if given.output_volt is None:
        return None
    if given.gain_db is None:
        reason = _("Noise at the output needs the gain to be told at the input.")
        raise BadInput("gain_db", reason, "missing")
    found = given.output_volt / float(10 ** (given.gain_db / 20))
    if found < source_volt * (1 - 1e-9):
        reason = _("That is less than the source alone makes: check gain, band and weighting.")
        raise BadInput("output_volt", reason, "below_source")
    return found


def _working(given: NoiseIn, value: Noise) -> Working:
    lines = [
        Line(
            _("noise of the source"),
            f"sqrt(4 k x {given.source_celsius + ICE_KELVIN:.1f} K x {given.source_ohm:g} ohm x "
            f"{given.bandwidth_hertz:g} Hz)",
            f"{value.source_volt * 1e6:.3g} µV, {value.source_dbu:.1f} dBu",
        ),
        Line(
            _("density"), "sqrt(4 k T R)", f"{value.nanovolt_per_root_hertz:.3g} nV per root hertz"
        ),
    ]
    if value.input_dbu is not None and value.figure_db is not None:
        lines.append(Line(_("at the input"), _("output less gain"), f"{value.input_dbu:.1f} dBu"))
        figure = f"{value.figure_db:.1f} dB"
        lines.append(Line(_("noise figure"), _("input less source"), figure))
    return Working(lines, [*NOISE_SOURCES, *SOURCES[:1]])


NOISE_SOURCES: Final = [
    Source(
        "Vn = sqrt(4 k T R B): 1 kohm in 10 kHz makes 400 nV",
        Status.SECOND_HAND,
        "studylib.net/doc/7522636/thermal-noise-on-capacitors",
    ),
    Source("k = 1.380649e-23 J/K, exact", Status.FROM_MEMORY, "SI of 2019"),
]
