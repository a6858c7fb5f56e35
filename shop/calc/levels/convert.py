"""A level from one scale to all the others."""

from __future__ import annotations

from typing import Final

import msgspec

from shop.calc.fields import fit
from shop.calc.levels.scales import (
    SCALE_WORDS,
    SOURCES,
    Level,
    dbm_of,
    dbu_of,
    dbv_of,
    disagreements,
    load_of,
    volts_of,
)
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Working

# Above this the terminals of an amplifier are no toy: IEC 62368-1 draws a line at 30 V r.m.s.
TOUCH_VOLT: Final = 30.0

EXAMPLE = {"number": 4, "scale": "dbu", "load_ohm": 600}


class Converted(msgspec.Struct, frozen=True):
    """The level on every scale; watts and dBm are None without a load."""

    volt_rms: float
    volt_peak: float
    volt_peak_to_peak: float
    dbu: float
    dbv: float
    load_ohm: float | None
    watt: float | None
    dbm: float | None


@calculator(
    "levels.convert",
    "Convert an audio level",
    question="How many volts, dBu, dBV or watts is this level?",
    example=EXAMPLE,
)
def convert(given: Level) -> Answer[Converted]:
    """One level on every scale. Raises BadInput for watts without a load, or no signal.

    Units: volt, watt, ohm, decibel. Formula: L = 20 lg(V / V0), P = V^2 / R.
    Source: see `scales`.
    """
    given = fit(given)
    volt, load = volts_of(given), load_of(given)
    watt = None if load is None else volt**2 / load
    value = Converted(
        volt_rms=volt,
        volt_peak=volt * given.crest_factor,
        volt_peak_to_peak=2 * volt * given.crest_factor,
        dbu=dbu_of(volt),
        dbv=dbv_of(volt),
        load_ohm=load,
        watt=watt,
        dbm=None if watt is None else dbm_of(watt),
    )
    text = _(
        "{volt:.4g} V r.m.s., {dbu:+.2f} dBu, {dbv:+.2f} dBV.",
        volt=value.volt_rms,
        dbu=value.dbu,
        dbv=value.dbv,
    )
    return Answer(Outcome.OK, text, value, _working(given, value))


def _working(given: Level, value: Converted) -> Working:
    lines = [
        Line(_("volts r.m.s."), f"{given.number:g} {_(SCALE_WORDS[given.scale])}",
             f"{value.volt_rms:.5g} V"),
        Line(_("peak, peak to peak"), f"x {given.crest_factor:.4g}, x 2",
             f"{value.volt_peak:.4g} V, {value.volt_peak_to_peak:.4g} V"),
        Line("dBu", "20 lg(V / 0.7746)", f"{value.dbu:+.2f}"),
        Line("dBV", "20 lg(V / 1)", f"{value.dbv:+.2f}"),
    ]  # fmt: skip
    if value.watt is not None and value.dbm is not None:
        into = _("into {ohm:g} ohm", ohm=value.load_ohm)
        lines.append(Line(into, "V^2 / R", f"{value.watt:.4g} W, {value.dbm:+.2f} dBm"))
    return Working(lines, SOURCES, _cautions(value.volt_rms), disagreements())


def _cautions(volt: float) -> list[str]:
    if volt <= TOUCH_VOLT:
        return []
    return [_("Above 30 V r.m.s. (IEC 62368-1, from memory): do not touch the output terminals.")]
