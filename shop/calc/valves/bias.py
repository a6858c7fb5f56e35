"""Cathode bias: volts, current and resistor, any two of which give the third.

I = V / R; the grid stands V below the cathode. Heat in the resistor P = V I.
Units: volt, ampere, ohm, watt.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.shown import amperes, ohms, volts
from shop.calc.valves.cautions import high_voltage
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# A resistor in a warm chassis is taken at half of what it is rated for.
RESERVE: Final = 2.0

EXAMPLE = {"cathode_volt": 22.5, "cathode_ohm": 390}

CathodeVolt = Annotated[float, Meta(ge=0.01, le=500)]
CathodeOhm = Annotated[float, Meta(ge=0.1, le=1e6)]
CathodeAmpere = Annotated[float, Meta(ge=1e-6, le=10)]


class BiasIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Two of the three; `sharing` valves stand on the one resistor."""

    cathode_volt: Annotated[
        CathodeVolt | None,
        Meta(title="Volts across it", description="over the cathode resistor, V d.c."),
    ] = None
    cathode_ohm: Annotated[
        CathodeOhm | None, Meta(title="Cathode resistor", description="measured, unplugged, ohm")
    ] = None
    cathode_ampere: Annotated[
        CathodeAmpere | None,
        Meta(title="Current of each valve", description="cathode current wanted or known, A"),
    ] = None
    sharing: Annotated[
        int, Meta(ge=1, le=12, title="Valves on it", description="that share the resistor, 1 to 12")
    ] = 1


class Bias(msgspec.Struct, frozen=True):
    """All three; `total_ampere` runs through the resistor, `ampere` through each valve."""

    cathode_volt: float
    cathode_ohm: float
    ampere: float
    total_ampere: float
    resistor_watt: float
    rating_watt: float


@calculator(
    "valves.bias",
    "Cathode bias",
    question="What current flows through this cathode resistor, or which one do I need?",
    example=EXAMPLE,
)
def bias(given: BiasIn) -> Answer[Bias]:
    """The third of volts, ohm and ampere. Raises BadInput unless exactly two are given.

    Units: volt, ohm, ampere, watt. Formula: I = V / R.
    Source: Ohm's law; worked cases of tubes.nekhbet.com/math.shtml.
    """
    given = fit(given)
    volt, ohm, total = _solved(given)
    watt = volt * total
    each = total / given.sharing
    value = Bias(volt, ohm, each, total, watt, watt * RESERVE)
    parts = {"volt": volts(volt), "ohm": ohms(ohm), "current": amperes(each)}
    text = _("{volt} across {ohm}: {current}", **parts)
    text += " " + (_("in each valve.") if given.sharing > 1 else _("in the valve."))
    return Answer(Outcome.OK, text, value, _working(given, value))


def _solved(given: BiasIn) -> tuple[float, float, float]:
    """(V, ohm, A through the resistor)."""
    volt, ohm = given.cathode_volt, given.cathode_ohm
    total = given.cathode_ampere and given.cathode_ampere * given.sharing
    if volt and ohm and not total:
        return volt, ohm, volt / ohm
    if volt and total and not ohm:
        return volt, volt / total, total
    if ohm and total and not volt:
        return ohm * total, ohm, total
    reason = _("Give two of the three: volts, resistor, current.")
    raise BadInput("cathode_volt", reason, "two_of_three")


def _working(given: BiasIn, value: Bias) -> Working:
    lines = [
        Line(
            _("through the resistor"),
            f"{volts(value.cathode_volt)} / {ohms(value.cathode_ohm)}",
            amperes(value.total_ampere),
        ),
        Line(
            _("each valve"),
            f"/ {given.sharing}",
            amperes(value.ampere),
        ),
        Line(_("heat in the resistor"), "V I", f"{value.resistor_watt:.3g} W"),
        Line(_("rating wanted"), "x 2", f"{value.rating_watt:.3g} W"),
    ]
    cautions = [
        *high_voltage(),
        _("A cathode capacitor that leaks shares the current: lift it if the reading looks high."),
    ]
    return Working(lines, _SOURCES, cautions)


_SOURCES = [
    Source("I_k = E_k / R_k", Status.SECOND_HAND, "tubes.nekhbet.com/math.shtml"),
    Source("resistors at half their rating", Status.FROM_MEMORY),
]
