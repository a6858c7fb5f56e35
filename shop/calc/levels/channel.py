"""What one channel must do: level, noise, hum, crosstalk, frequency response.

Level: within 1.5 dB of the sheet, so that two channels stay within 3 dB of each other. Noise: never
below that of the source resistance and the gain, sqrt(4 k T R B) + G; not above the sheet, or 50 dB
below the output. Units: dBu at the output, decibel, ohm, hertz.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.levels.noise import NOISE_SOURCES, NoiseIn, noise
from shop.calc.levels.scales import SOURCES as LEVEL_SOURCES
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

LEVEL_DB: Final = 1.5
RESPONSE_DB: Final = 1.5
DISTANCE_DB: Final = 50.0
CROSSTALK_DB: Final = -40.0
LOW_HERTZ, HIGH_HERTZ = 40.0, 16_000.0
# Band and meter together: no two bench meters end at exactly 20 kHz.
METER_DB: Final = 1.0
LINE_SOURCE_OHM: Final = 600.0

EXAMPLE = {"input_dbu": 4, "output_dbu": 4, "source_ohm": 600, "noise_dbu": -84}

LevelDbu = Annotated[float, Meta(ge=-160, le=60)]


class ChannelIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A channel by its sheet, at the setting of the test. What is left out is not limited."""

    input_dbu: Annotated[
        LevelDbu | None, Meta(title="Input", description="dBu from the generator")
    ] = None
    output_dbu: Annotated[
        LevelDbu | None, Meta(title="Output", description="dBu that the sheet wants for it")
    ] = None
    source_ohm: Annotated[
        float,
        Meta(ge=0.1, le=1e7, title="Source", description="resistor that closes the input for the "
             "noise, ohm"),
    ] = LINE_SOURCE_OHM  # fmt: skip
    bandwidth_hertz: Annotated[
        float, Meta(ge=100, le=1e6, title="Bandwidth", description="of the meter, flat, hertz")
    ] = 20_000.0
    noise_dbu: Annotated[
        LevelDbu | None, Meta(title="Noise by the sheet", description="dBu at the output, at most")
    ] = None
    hum_dbu: Annotated[
        LevelDbu | None, Meta(title="Hum by the sheet", description="dBu at the output, at most")
    ] = None
    crosstalk_db: Annotated[
        Annotated[float, Meta(ge=-160, le=0)] | None,
        Meta(title="Crosstalk by the sheet", description="dB of the channel beside, below zero"),
    ] = None


class Channel(msgspec.Struct, frozen=True):
    """Limits of one channel; None where nothing tells them. Noise and hum in dBu at the output."""

    input_dbu: float | None
    gain_db: float | None
    low_dbu: float | None
    high_dbu: float | None
    source_ohm: float
    least_noise_dbu: float | None
    most_noise_dbu: float | None
    most_hum_dbu: float | None
    most_crosstalk_db: float
    low_hertz: float
    high_hertz: float
    response_low_db: float
    response_high_db: float


@calculator(
    "levels.channel",
    "Limits of a channel",
    question="Which level, noise, hum and crosstalk must this channel have?",
    example=EXAMPLE,
)
def channel(given: ChannelIn) -> Answer[Channel]:
    """Level, noise, hum and crosstalk of one channel, at the gain of the test.

    Units: dBu, decibel, ohm, hertz. Formula: head of the module.
    Warns where the sheet's noise is below that of the source: it was taken at another gain.
    Source: the sheet, `levels.noise`, and DIN 45500 of 1977 where the sheet is silent.
    """
    given = fit(given)
    value = _value(given)
    is_other_gain = _is_below_source(given, value)
    said = [_words(value)]
    if is_other_gain:
        said.append(
            _("The sheet's noise is below that of the source: it was taken at another gain.")
        )
    outcome = Outcome.WARN if is_other_gain else Outcome.OK
    return Answer(outcome, " ".join(said), value, _working(given, value))


def _value(given: ChannelIn) -> Channel:
    gain, floor = _gain(given), _floor(given)
    output = given.output_dbu
    most = _most_noise(given)
    is_usable = floor is not None and (most is None or floor <= most)
    return Channel(
        input_dbu=given.input_dbu,
        gain_db=gain,
        low_dbu=None if output is None else output - LEVEL_DB,
        high_dbu=None if output is None else output + LEVEL_DB,
        source_ohm=given.source_ohm,
        least_noise_dbu=floor if is_usable else None,
        most_noise_dbu=most,
        most_hum_dbu=most if given.hum_dbu is None else given.hum_dbu,
        most_crosstalk_db=CROSSTALK_DB if given.crosstalk_db is None else given.crosstalk_db,
        low_hertz=LOW_HERTZ,
        high_hertz=HIGH_HERTZ,
        response_low_db=-RESPONSE_DB,
        response_high_db=RESPONSE_DB,
    )


def _gain(given: ChannelIn) -> float | None:
    if given.input_dbu is None or given.output_dbu is None:
        return None
    return given.output_dbu - given.input_dbu


def _floor(given: ChannelIn) -> float | None:
    """Noise of the source through the gain, less what band and meter may be off."""
    gain = _gain(given)
    source = noise(NoiseIn(given.source_ohm, given.bandwidth_hertz)).value
    return None if gain is None or source is None else source.source_dbu + gain - METER_DB


def _most_noise(given: ChannelIn) -> float | None:
    if given.noise_dbu is not None:
        return given.noise_dbu
    return None if given.output_dbu is None else given.output_dbu - DISTANCE_DB


def _is_below_source(given: ChannelIn, value: Channel) -> bool:
    return value.least_noise_dbu is None and _floor(given) is not None


def _words(value: Channel) -> str:
    if value.low_dbu is None or value.high_dbu is None:
        return _("The sheet names no output level: level and noise cannot be judged.")
    return _(
        "Output {low:.1f} to {high:.1f} dBu, noise at most {noise:.1f} dBu, crosstalk at most "
        "{crosstalk:.0f} dB.",
        low=value.low_dbu,
        high=value.high_dbu,
        noise=value.most_noise_dbu,
        crosstalk=value.most_crosstalk_db,
    )


def _working(given: ChannelIn, value: Channel) -> Working:
    lines = []
    if value.low_dbu is not None and value.high_dbu is not None:
        level = f"{value.low_dbu:.1f} – {value.high_dbu:.1f} dBu"
        lines.append(Line(_("level"), f"{given.output_dbu:g} dBu ± {LEVEL_DB:g} dB", level))
    if value.gain_db is not None:
        formula = f"{given.output_dbu:g} - {given.input_dbu:g}"
        lines.append(Line(_("gain"), formula, f"{value.gain_db:+.1f} dB"))
    if value.least_noise_dbu is not None:
        formula = f"sqrt(4 k T x {given.source_ohm:g} ohm x {given.bandwidth_hertz:g} Hz) + G - 1"
        lines.append(Line(_("noise, at least"), formula, f"{value.least_noise_dbu:.1f} dBu"))
    if value.most_noise_dbu is not None:
        how = _("by the sheet") if given.noise_dbu is not None else _("output less 50 dB")
        lines.append(Line(_("noise, at most"), how, f"{value.most_noise_dbu:.1f} dBu"))
    how = _("by the sheet") if given.crosstalk_db is not None else "DIN 45500"
    lines.append(Line(_("crosstalk"), how, f"{value.most_crosstalk_db:g} dB"))
    response = f"{LOW_HERTZ:g} Hz, {HIGH_HERTZ:g} Hz"
    lines.append(Line(_("response"), response, f"± {RESPONSE_DB:g} dB"))
    return Working(lines, _SOURCES, [_caution()], [_disagreement()])


def _caution() -> str:
    return _("No loudspeaker and no headphones on while the inputs are changed.")


def _disagreement() -> str:
    return _(
        "A-weighted and quasi-peak figures of a sheet differ from flat ones by up to 10 dB either "
        "way: compare only what was weighted alike."
    )


_SOURCES = [
    Source("40 Hz to 16 kHz within 1.5 dB of 1 kHz; channels within 3 dB; crosstalk 40 dB at "
           "1 kHz; 50 dB to the noise, DIN 45500", Status.SECOND_HAND,
           "extract of 1977, dl4cs.de/audio/others/hifi"),
    Source("1.5 dB for the level: half of the 3 dB between channels", Status.PROPOSED),
    Source("1 dB for band and meter; 600 ohm where no source is named", Status.PROPOSED),
    *NOISE_SOURCES,
    *LEVEL_SOURCES[:1],
]  # fmt: skip
