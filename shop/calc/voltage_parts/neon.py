"""The resistor in series with a neon pilot lamp."""

from __future__ import annotations

from math import sqrt
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import MainsVolt, fit
from shop.calc.preferred_values import SERIES_SOURCE, around
from shop.calc.registry import calculator
from shop.calc.shown import ohms, watts
from shop.calc.voltage_parts.fittings import (
    FITTED_MORE,
    LEAST_ABOVE_MAINTAIN_VOLT,
    NEON_SOURCE,
    STRIKE_SOURCE,
    neon_resistor,
)
from shop.calc.voltage_parts.parts import HighVolt, MaintainVolt, NeonAmpere, upper_limit
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

RATINGS_WATT = (0.125, 0.25, 0.5, 1.0, 2.0, 3.0, 5.0)
LOADED = 0.5  # a resistor in a closed case is loaded to half its rating
RATING_SOURCE = Source("Half the resistor's rating is used, in a closed case", Status.PROPOSED)
CHANGE_SOURCE = Source(
    "47 to 100 kΩ on 120 V becomes 150 to 270 kΩ on 240 V; 350 V types", Status.FROM_MEMORY
)


class NeonIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The supply and the lamp."""

    supply_volt: Annotated[MainsVolt, Meta(title="Supply voltage", description="volt, nominal")]
    maintain_volt: MaintainVolt = 65.0
    lamp_ampere: NeonAmpere = 0.0006
    high_volt: HighVolt = None
    strike_volt: Annotated[
        float,
        Meta(ge=50, le=250, title="Strike voltage", description="volt, about 90; aged lamps more"),
    ] = 90.0
    fitted_ohm: Annotated[
        Annotated[float, Meta(ge=100, le=1e8)] | None,
        Meta(title="Resistor fitted", description="ohm; if given, it is judged"),
    ] = None


class NeonOut(msgspec.Struct, frozen=True):
    """The resistor by the formula and as sold, its heat, and what the one fitted lets through."""

    exact_ohm: float
    exact_watt: float
    ohm: float
    lamp_ampere: float
    watt_at_limit: float
    rating_watt: float | None
    crest_volt: float
    strikes: bool
    fitted_ampere: float | None
    fitted_may_stay: bool | None


# A published case: 240 V, 60 V, 2 mA gives 90 kohm and 0.36 W.
EXAMPLE = {"supply_volt": 240, "maintain_volt": 60, "lamp_ampere": 0.002}


@calculator(
    "voltage_parts.neon",
    "Resistor of a neon pilot lamp",
    question="Which resistor does the neon need on this supply?",
    example=EXAMPLE,
)
def neon(given: NeonIn) -> Answer[NeonOut]:
    """The series resistor of a neon on a supply, with its heat and voltage.

    Units: V r.m.s., A, ohm, W. R = (V - V_m) / I, then the next E24 value above; P = (V_high -
    V_m)^2 / R. The lamp strikes if the crest of the supply reaches its strike voltage.
    Raises BadInput where the supply hardly exceeds the lamp's own volts.
    Source: hobby and training pages, see sources; E24 of IEC 60063.
    """
    given = fit(given)
    if given.supply_volt < given.maintain_volt + LEAST_ABOVE_MAINTAIN_VOLT:
        raise BadInput("supply_volt", _("the neon would not light on this supply"), "too_low")
    value = _value(given)
    sources = [NEON_SOURCE, STRIKE_SOURCE, SERIES_SOURCE, RATING_SOURCE, CHANGE_SOURCE]
    working = Working(_lines(given, value), sources, _cautions(value), _differ())
    unsure = not value.strikes or value.fitted_may_stay is False or value.rating_watt is None
    return Answer(Outcome.WARN if unsure else Outcome.OK, _text(value), value, working)


def _value(given: NeonIn) -> NeonOut:
    high = upper_limit(given.supply_volt, given.high_volt)
    exact, exact_watt = neon_resistor(given.supply_volt, given.maintain_volt, given.lamp_ampere)
    ohm = around(exact, "E24")[1]
    watt = (high - given.maintain_volt) ** 2 / ohm
    fitted = None
    if given.fitted_ohm is not None:
        fitted = (given.supply_volt - given.maintain_volt) / given.fitted_ohm
    return NeonOut(
        exact_ohm=exact,
        exact_watt=exact_watt,
        ohm=ohm,
        lamp_ampere=(given.supply_volt - given.maintain_volt) / ohm,
        watt_at_limit=watt,
        rating_watt=next((one for one in RATINGS_WATT if one * LOADED >= watt), None),
        crest_volt=sqrt(2) * high,
        strikes=sqrt(2) * given.supply_volt * 0.9 >= given.strike_volt,
        fitted_ampere=fitted,
        fitted_may_stay=None if fitted is None else fitted <= given.lamp_ampere * FITTED_MORE,
    )


def _text(value: NeonOut) -> str:
    rating = _("{watt} type", watt=watts(value.rating_watt)) if value.rating_watt else _("none")
    text = _(
        "{ohm}, {rating}: {current:.2g} mA through the lamp.",
        ohm=ohms(value.ohm),
        rating=rating,
        current=value.lamp_ampere * 1000,
    )
    if value.fitted_ampere is None:
        return text
    said = _("may stay") if value.fitted_may_stay else _("must go")
    return text + " " + _(
        "The fitted one lets {current:.2g} mA through: it {said}.",
        current=value.fitted_ampere * 1000,
        said=said,
    )  # fmt: skip


def _lines(given: NeonIn, value: NeonOut) -> list[Line]:
    return [
        Line(_("resistor"), "(V − V_m) / I", f"{value.exact_ohm:.0f} Ω"),
        Line(_("its heat"), "I² R", f"{value.exact_watt:.3g} W"),
        Line(_("as sold"), _("next E24 above"), ohms(value.ohm)),
        Line(_("heat at the upper limit"), "(V_high − V_m)² / R", f"{value.watt_at_limit:.3g} W"),
        Line(_("crest it must stand"), "√2 × V_high", f"{value.crest_volt:.0f} V"),
        Line(
            _("strikes at the lower limit"),
            f"√2 × 0.9 V ≥ {given.strike_volt:g} V",
            _("yes") if value.strikes else _("no"),
        ),
    ]


def _cautions(value: NeonOut) -> list[str]:
    said = [
        _("A small resistor stands 200 to 350 V (from memory): check it, or take two in series."),
        _("A dark neon proves nothing: measure before touching."),
        _("Mains work is for a competent person; local codes come first."),
    ]
    if value.rating_watt is None:
        said.insert(0, _("More heat than any resistor of the list: take a lamp made for it."))
    return said


def _differ() -> list[str]:
    return [_("Standard lamps: 0.3 to 1 mA by one page, 2 mA in the worked case of another.")]
