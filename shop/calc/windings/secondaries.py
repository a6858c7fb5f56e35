"""Secondary voltages at the real line voltage, and the verdict on heaters."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import Name, WindingVolt, fit
from shop.calc.registry import calculator
from shop.calc.windings.verdicts import (
    FIVE_PERCENT,
    FLUX_WARN,
    HEATER_SOURCE,
    LINE_SOURCE,
    LOW_LINE,
    THORIATED_SOURCE,
    judge_heater,
    judge_volts,
    worst,
)
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

RATIO_SOURCE = Source(
    "V_sec = V_rated V_mains / V_tap; unloaded × (1 + regulation)", Status.COMPUTED
)


class Secondary(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One secondary with its rated (loaded) volts. Regulation is the rise without load, in %."""

    name: Annotated[Name, Meta(title="Winding")]
    rated_volt: Annotated[WindingVolt, Meta(title="Rated volts", description="under load")]
    is_heater: Annotated[
        bool, Meta(title="Feeds heaters", description="judged by what cathodes stand")
    ] = False
    cathode: Annotated[
        Literal["oxide", "thoriated"],
        Meta(
            title="Cathodes",
            description="of the valves it heats; thoriated tungsten stands 5 % only",
            extra_json_schema={
                "x-labels": {
                    "oxide": _noop("oxide-coated"),
                    "thoriated": _noop("thoriated tungsten"),
                }
            },
        ),
    ] = "oxide"
    regulation_percent: Annotated[
        float,
        Meta(
            ge=0,
            le=60,
            title="Regulation",
            description="rise without load, 0 to 60 percent",
            examples=[10.0],
        ),
    ] = 0.0


Secondaries = Annotated[list[Secondary], Meta(max_length=24, description="secondary windings")]


class SecondaryAt(msgspec.Struct, frozen=True):
    """A secondary at the line voltage. `verdict` is None for windings that feed no heater."""

    name: str
    rated_volt: float
    loaded_volt: float
    unloaded_volt: float
    deviation_percent: float
    heater_power_percent: float | None
    verdict: Outcome | None


class SecondariesIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The rated voltage of the primary in use, and what is really on it."""

    tap_volt: Annotated[
        WindingVolt, Meta(title="Tap in use", description="rated volts of the primary as it is set")
    ]
    mains_volt: Annotated[WindingVolt, Meta(title="Mains", description="as measured")]
    secondaries: Annotated[Secondaries, Meta(title="Secondaries")]


class SecondariesOut(msgspec.Struct, frozen=True):
    """Each secondary, the common factor, and the worst heater verdict (None without heaters)."""

    factor: float
    change_percent: float
    secondaries: list[SecondaryAt]
    heater_verdict: Outcome | None


def at_line(secondary: Secondary, factor: float) -> SecondaryAt:
    """This secondary when the line stands at `factor` times the primary's rated voltage."""
    loaded = secondary.rated_volt * factor
    off = (factor - 1) * 100
    return SecondaryAt(
        name=secondary.name,
        rated_volt=secondary.rated_volt,
        loaded_volt=loaded,
        unloaded_volt=loaded * (1 + secondary.regulation_percent / 100),
        deviation_percent=off,
        heater_power_percent=(factor**2 - 1) * 100 if secondary.is_heater else None,
        verdict=judge_heater(off, secondary.cathode) if secondary.is_heater else None,
    )


def heater_verdict(found: list[SecondaryAt]) -> Outcome | None:
    """The worst verdict of all heaters, None without heaters."""
    verdicts = [one.verdict for one in found if one.verdict is not None]
    return worst(verdicts) if verdicts else None


@calculator(
    "windings.secondaries",
    "Secondary voltages at the real line voltage",
    question="What do the secondaries and the heaters get at the measured line voltage?",
    # dms-audio.com/bucking-transformer-diy: 6.85 V were measured on such a unit.
    example={
        "tap_volt": 220.0,
        "mains_volt": 240.0,
        "secondaries": [{"name": "heaters", "rated_volt": 6.3, "is_heater": True}],
    },
)
def secondaries(given: SecondariesIn) -> Answer[SecondariesOut]:
    """Every secondary at the line voltage as measured.

    Units: V, %. Formula: V_sec = V_rated V_mains / V_tap. Heaters: 5 % ok, 10 % warn, above refuse.
    Without heaters too: from 106 % or below 90 % of the tap a warning, above 110 % refused.
    Source: turns ratio; heater limits second-hand and from memory; limits of the line proposed.
    """
    given = fit(given)
    factor = given.mains_volt / given.tap_volt
    found = [at_line(secondary, factor) for secondary in given.secondaries]
    heater = heater_verdict(found)
    value = SecondariesOut(factor, (factor - 1) * 100, found, heater)
    lines = [
        Line(_("factor"), f"{given.mains_volt:g} / {given.tap_volt:g}", f"{factor:.4f}"),
        *(Line(one.name, f"{one.rated_volt:g} V × {factor:.4f}", f"{one.loaded_volt:.4g} V")
          for one in found),
    ]  # fmt: skip
    sources = [RATIO_SOURCE, HEATER_SOURCE, FIVE_PERCENT, THORIATED_SOURCE, LINE_SOURCE]
    outcome = worst([heater or Outcome.OK, _line_verdict(factor)])
    return Answer(outcome, _text(value, outcome), value, Working(lines, sources, _cautions(value)))


def _line_verdict(factor: float) -> Outcome:
    """What the line does to everything that is not a heater: capacitors, rectifiers, the core."""
    return Outcome.WARN if factor < LOW_LINE - 1e-9 else judge_volts(factor)


def _text(value: SecondariesOut, outcome: Outcome) -> str:
    percent = f"{value.factor * 100:.1f} %"
    if outcome is not Outcome.REFUSE:
        return _("Secondaries at {percent} of their rated volts.", percent=percent)
    if value.factor < 1 or (value.heater_verdict is Outcome.REFUSE and value.factor <= FLUX_WARN):
        return _("Secondaries at {percent}: outside what the heaters stand.", percent=percent)
    return _("Secondaries at {percent}: too much, do not run it on this tap.", percent=percent)


def _cautions(value: SecondariesOut) -> list[str]:
    said = [_("Measure the heaters at their pins, under load.")]
    if _line_verdict(value.factor) is not Outcome.OK:
        said.append(
            _("Capacitors and rectifiers get the same share: compare with the unloaded volts.")
        )
    return [*said, _("Live readings are for a competent person; local codes come first.")]
