"""Watts into a load from volts, volts from watts, and whether an amplifier makes what it should.

P = V^2 / R, V = sqrt(P R), I = V / R. Peak by the crest factor of a sine.
Units: volt r.m.s., ohm, ampere, watt, decibel.
"""

from __future__ import annotations

from math import log10, sqrt
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.levels.convert import TOUCH_VOLT
from shop.calc.levels.scales import SINE_CREST, LoadOhm, dbu_of
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# A decibel below what the plate says is within line voltage, load and distortion; more is not.
SHORT_DB: Final = -1.0

EXAMPLE = {"load_ohm": 8, "volt": 2.83}


class PowerIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A load, and either the volts across it or the watts in it; a sine is taken."""

    load_ohm: Annotated[LoadOhm, Meta(title="Load", description="ohm, a resistor on the bench")]
    volt: Annotated[
        Annotated[float, Meta(ge=1e-6, le=1e4)] | None,
        Meta(title="Volts", description="across the load, r.m.s., just before clipping"),
    ] = None
    watt: Annotated[
        Annotated[float, Meta(ge=1e-12, le=1e5)] | None, Meta(title="Watts", description="wanted")
    ] = None
    rated_watt: Annotated[
        Annotated[float, Meta(ge=1e-3, le=1e5)] | None,
        Meta(title="Rated power", description="of the amplifier into this load, W; left out: not "
             "judged"),
    ] = None  # fmt: skip


class Power(msgspec.Struct, frozen=True):
    """Volts, amperes and watts; `short_db` against the rated power, None if it is not given."""

    volt: float
    peak_volt: float
    peak_to_peak_volt: float
    ampere: float
    peak_ampere: float
    watt: float
    dbu: float
    short_db: float | None


@calculator(
    "levels.power",
    "Watts into a load",
    question="How many watts are these volts into the load, or how many volts do I need?",
    example=EXAMPLE,
)
def power(given: PowerIn) -> Answer[Power]:
    """Watts from volts or volts from watts. Raises BadInput unless exactly one is given.

    Units: volt r.m.s., ohm, ampere, watt. Formula: P = V^2 / R.
    Source: Ohm's law; chart of audioroundtable.com/ProSpeakers/messages/378.html.
    """
    given = fit(given)
    value = _value(given)
    text = _(
        "{watt:.4g} W into {ohm:g} ohm at {volt:.4g} V r.m.s.",
        watt=value.watt,
        ohm=given.load_ohm,
        volt=value.volt,
    )
    if value.short_db is not None and value.short_db < SHORT_DB:
        text += " " + _("{db:.1f} dB short of what it should make.", db=-value.short_db)
        return Answer(Outcome.WARN, text, value, _working(given, value))
    return Answer(Outcome.OK, text, value, _working(given, value))


def _value(given: PowerIn) -> Power:
    volt = _volt(given)
    watt = volt**2 / given.load_ohm
    short = None if given.rated_watt is None else 10 * log10(watt / given.rated_watt)
    ampere = volt / given.load_ohm
    return Power(
        volt=volt,
        peak_volt=volt * SINE_CREST,
        peak_to_peak_volt=2 * volt * SINE_CREST,
        ampere=ampere,
        peak_ampere=ampere * SINE_CREST,
        watt=watt,
        dbu=dbu_of(volt),
        short_db=short,
    )


def _volt(given: PowerIn) -> float:
    if given.volt is not None and given.watt is None:
        return given.volt
    if given.watt is not None and given.volt is None:
        return sqrt(given.watt * given.load_ohm)
    raise BadInput("volt", _("Give volts or watts, one of them."), "one_of_two")


def _working(given: PowerIn, value: Power) -> Working:
    is_from_volt = given.volt is not None
    lines = [
        Line(_("volts r.m.s."), _("as measured") if is_from_volt else "sqrt(P R)",
             f"{value.volt:.4g} V"),
        Line(_("watts"), "V^2 / R" if is_from_volt else _("as wanted"), f"{value.watt:.4g} W"),
        Line(_("current"), "V / R", f"{value.ampere:.3g} A, {value.peak_ampere:.3g} A peak"),
        Line(_("swing"), "x 2 sqrt(2)", f"{value.peak_to_peak_volt:.4g} V peak to peak"),
    ]  # fmt: skip
    if value.short_db is not None:
        against = f"10 lg(P / {given.rated_watt:g} W)"
        lines.append(Line(_("against its rating"), against, f"{value.short_db:+.2f} dB"))
    return Working(lines, _SOURCES, _cautions(value))


def _cautions(value: Power) -> list[str]:
    found = [_("Dummy loads get hot enough to burn: rated for the watts, clear of the bench top.")]
    if value.volt > TOUCH_VOLT:
        found.append(_("Above 30 V r.m.s. at the terminals: connect only with the unit off."))
    return found


_SOURCES = [
    Source("P = V^2 / R: 2.83 V is 1 W in 8 ohm, 2 W in 4 ohm", Status.SECOND_HAND,
           "audioroundtable.com/ProSpeakers/messages/378.html"),
    Source("30 V r.m.s. as the limit to touch, IEC 62368-1", Status.FROM_MEMORY),
    Source("more than 1 dB short is worth a look", Status.PROPOSED),
]  # fmt: skip
