"""Gain between two levels, each on its own scale: decibels and ratio.

G = 20 lg(V2 / V1); with both loads also the power gain 10 lg(P2 / P1).
"""

from __future__ import annotations

from math import log10
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.levels.scales import SOURCES, Level, disagreements, load_of, volts_of
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

EXAMPLE = {
    "before": {"number": -10, "scale": "dbv"},
    "after": {"number": 4, "scale": "dbu"},
}


class GainIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A level at the input and one at the output; or wanted and unwanted, for crosstalk."""

    before: Annotated[Level, Meta(title="First level", description="input, or the wanted channel")]
    after: Annotated[Level, Meta(title="Second level", description="output, or what leaks over")]


class Gain(msgspec.Struct, frozen=True):
    """Voltage gain; `power_db` is None unless both loads are known."""

    gain_db: float
    ratio: float
    before_volt: float
    after_volt: float
    power_db: float | None


@calculator(
    "levels.gain",
    "Gain between two levels",
    question="How many decibels lie between these two levels?",
    example=EXAMPLE,
)
def gain(given: GainIn) -> Answer[Gain]:
    """Voltage gain from the first level to the second, in dB and as a ratio.

    Units: volt, ohm, decibel. Formula: G = 20 lg(V2 / V1). Raises BadInput as `volts_of`.
    Source: definition of the decibel.
    """
    given = fit(given)
    before, after = volts_of(given.before, "before."), volts_of(given.after, "after.")
    db = 20 * log10(after / before)
    value = Gain(db, after / before, before, after, _power_db(given, db))
    text = _("{db:+.2f} dB, {ratio:.4g} times the volts.", db=db, ratio=value.ratio)
    return Answer(Outcome.OK, text, value, _working(value))


def _power_db(given: GainIn, db: float) -> float | None:
    """P = V^2 / R, so the power gain is that of the volts less that of the resistances."""
    before, after = load_of(given.before), load_of(given.after)
    if before is None or after is None:
        return None
    return db - 10 * log10(after / before)


def _working(value: Gain) -> Working:
    lines = [
        Line(_("first"), _("in volts r.m.s."), f"{value.before_volt:.4g} V"),
        Line(_("second"), _("in volts r.m.s."), f"{value.after_volt:.4g} V"),
        Line(
            _("gain"),
            f"20 lg({value.after_volt:.4g} / {value.before_volt:.4g})",
            f"{value.gain_db:+.2f} dB",
        ),
    ]
    if value.power_db is not None:
        lines.append(Line(_("power gain"), "10 lg(P2 / P1)", f"{value.power_db:+.2f} dB"))
    definition = Source("G = 20 lg(V2 / V1)", Status.COMPUTED, "definition of the decibel")
    return Working(lines, [definition, *SOURCES], [], disagreements())
