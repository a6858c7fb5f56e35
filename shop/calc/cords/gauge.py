"""Wire gauge and square millimetre, resistance, and what current each table allows."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.conductors import (
    AWG_SIZES,
    AWG_SOURCE,
    AWG_THREE_SOURCE,
    CORD_SIZES,
    GAUGE_SOURCE,
    IEC_CORD_SOURCE,
    MAKER_CORD_SOURCE,
    MILLIOHM_MM2_PER_METRE,
    MILLIOHM_PER_METRE,
    RESISTANCE_1_25,
    RESISTANCE_SOURCE,
    SHORT_CORD_SOURCE,
    TEMPERATURE_COEFFICIENT,
    TINNED_MILLIOHM_PER_METRE,
    UK_CORD_SOURCE,
    AwgSize,
    CordSize,
    awg_of_mm2,
    millimetre_of_awg,
    mm2_of_awg,
)
from shop.calc.fields import Ampere, Celsius, Metre, SquareMillimetre, fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Working

# Areas as printed have two or three digits: 0.82 mm2 is gauge 18.
SAME_AREA = 1.006


class GaugeIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A wire by its gauge or by its area, and the run it is for."""

    awg: Annotated[
        Annotated[int, Meta(ge=0, le=40)] | None,
        Meta(title="Gauge", description="AWG number, 0 to 40; or give the area"),
    ] = None
    area_mm2: Annotated[
        SquareMillimetre | None,
        Meta(title="Cross-section", description="of copper, 0.05 to 10; or give the gauge"),
    ] = None
    length_m: Annotated[
        Metre, Meta(title="Length", description="metre of cord; the drop counts there and back")
    ] = 1.0
    load_ampere: Annotated[
        Ampere | None, Meta(title="Current", description="ampere, for the drop in volts")
    ] = None
    core_celsius: Annotated[Celsius, Meta(title="Copper", description="°C; tables say 20")] = 20.0


class GaugeOut(msgspec.Struct, frozen=True):
    """The wire. Ampere are those of flexible cords, None where a table has no row for the size.

    `milliohm_solid` is by the formula, `milliohm_class_5` and `milliohm_tinned` by the table of
    stranded cords, None for a size it does not list; all per metre, at the temperature given.
    """

    awg: float
    nearest_awg: int
    area_mm2: float
    diameter_millimetre: float
    next_mm2: float | None
    milliohm_solid: float
    milliohm_class_5: float | None
    milliohm_tinned: float | None
    ohm: float
    drop_volt: float | None
    nec_two_ampere: float | None
    nec_three_ampere: float | None
    iec_ampere: float | None
    iec_short_ampere: float | None
    uk_ampere: float | None
    maker_ampere: float | None


EXAMPLE = {"awg": 18, "length_m": 1.8, "load_ampere": 5}


@calculator(
    "cords.gauge",
    "Wire gauge, area and resistance",
    question="What is this wire in mm² or AWG, and what may it carry?",
    example=EXAMPLE,
)
def gauge(given: GaugeIn) -> Answer[GaugeOut]:
    """Convert gauge and area, with resistance and the current each table of cords allows.

    Units: mm, mm2, mohm/m, ohm, V, A. d = 0.127 x 92^((36 - n) / 39), A = pi d^2 / 4,
    r = 17.241 / A; times 1 + 0.00393 (T - 20); drop = 2 L r I. A size between two rows carries
    what the thinner row does. WARN when the load is more than one of the tables allows. Raises
    BadInput unless exactly one of gauge and area is given.
    Source: definition of the gauge; IEC 60228 class 5; NEC 400.5(A); IEC 60335-1 table 11.
    """
    given = fit(given)
    if (given.awg is None) == (given.area_mm2 is None):
        raise BadInput("awg", _("give either the gauge or the area"), "one_of_two")
    value = _value(given)
    over = given.load_ampere is not None and given.load_ampere > _least(value)
    working = Working(_lines(given, value), _sources(), _cautions(given, value), _differ(value))
    text = _(
        "AWG {awg:.3g} is {area:.3g} mm², {milliohm:.3g} mΩ/m.",
        awg=value.awg,
        area=value.area_mm2,
        milliohm=value.milliohm_class_5 or value.milliohm_solid,
    )
    return Answer(Outcome.WARN if over else Outcome.OK, text, value, working)


def _value(given: GaugeIn) -> GaugeOut:
    area = given.area_mm2 if given.area_mm2 is not None else mm2_of_awg(given.awg or 0)
    awg = float(given.awg) if given.awg is not None else awg_of_mm2(area)
    warm = 1 + TEMPERATURE_COEFFICIENT * (given.core_celsius - 20)
    solid = MILLIOHM_MM2_PER_METRE / area * warm
    stranded = MILLIOHM_PER_METRE.get(area)
    tinned = TINNED_MILLIOHM_PER_METRE.get(area)
    ohm = (stranded * warm if stranded else solid) / 1000 * given.length_m
    american, cord = _american(area), _cord(area)
    return GaugeOut(
        awg=awg,
        nearest_awg=round(awg),
        area_mm2=area,
        diameter_millimetre=millimetre_of_awg(awg),
        next_mm2=next((size for size in MILLIOHM_PER_METRE if size * SAME_AREA >= area), None),
        milliohm_solid=solid,
        milliohm_class_5=stranded * warm if stranded else None,
        milliohm_tinned=tinned * warm if tinned else None,
        ohm=ohm,
        drop_volt=2 * ohm * given.load_ampere if given.load_ampere is not None else None,
        nec_two_ampere=american.two_cores if american else None,
        nec_three_ampere=american.three_cores if american else None,
        iec_ampere=cord.iec if cord else None,
        iec_short_ampere=(cord.iec_short or cord.iec) if cord else None,
        uk_ampere=cord.uk if cord else None,
        maker_ampere=cord.maker if cord else None,
    )


def _american(area: float) -> AwgSize | None:
    """The thickest row that is no thicker than the wire."""
    rows = [row for row in AWG_SIZES if row.square_millimetre <= area * SAME_AREA]
    return rows[-1] if rows else None


def _cord(area: float) -> CordSize | None:
    rows = [row for row in CORD_SIZES if row.square_millimetre <= area * SAME_AREA]
    return rows[-1] if rows else None


def _allowed(value: GaugeOut) -> list[float]:
    """What the tables allow, without the one for three loaded cores."""
    columns = (
        value.nec_two_ampere, value.iec_ampere, value.iec_short_ampere, value.uk_ampere,
        value.maker_ampere,
    )  # fmt: skip
    return [ampere for ampere in columns if ampere is not None]


def _least(value: GaugeOut) -> float:
    """What every table with a row allows; nothing below their thinnest row."""
    return min(_allowed(value), default=0.0)


def _lines(given: GaugeIn, value: GaugeOut) -> list[Line]:
    lines = [
        Line(_("diameter, solid"), "0.127 × 92^((36 − n) / 39)",
             f"{value.diameter_millimetre:.3g} mm"),
        Line(_("area"), "π d² / 4", f"{value.area_mm2:.4g} mm²"),
        Line(_("resistance, solid"), "17.241 / A", f"{value.milliohm_solid:.4g} mΩ/m"),
    ]  # fmt: skip
    if value.milliohm_class_5 is not None:
        lines.append(Line(_("resistance, cord"), "IEC 60228", f"{value.milliohm_class_5:.4g} mΩ/m"))
    if value.drop_volt is not None:
        lines.append(Line(_("drop"), "2 L r I", f"{value.drop_volt:.3g} V"))
    allowed = (
        (_("North America, two loaded cores"), "NEC 400.5(A)", value.nec_two_ampere),
        (_("North America, three"), "NEC 400.5(A)", value.nec_three_ampere),
        (_("IEC, any length"), "IEC 60335-1 table 11", value.iec_ampere),
        (_("IEC, up to 2 m"), "L ≤ 2 m", value.iec_short_ampere),
        (_("UK convention"), "", value.uk_ampere),
        (_("a maker's sheet"), "", value.maker_ampere),
    )
    lines += [Line(one, how, f"{a:g} A") for one, how, a in allowed if a is not None]
    return lines


def _sources() -> list[Source]:
    return [
        GAUGE_SOURCE, RESISTANCE_SOURCE, RESISTANCE_1_25, AWG_SOURCE, AWG_THREE_SOURCE,
        IEC_CORD_SOURCE, SHORT_CORD_SOURCE, UK_CORD_SOURCE, MAKER_CORD_SOURCE,
    ]  # fmt: skip


def _cautions(given: GaugeIn, value: GaugeOut) -> list[str]:
    said = [
        _("Currents are those of flexible cords in free air at up to 30 °C; coiled up, less."),
        _("A mains cord is never thinner than AWG 18 in North America, 0.5 mm² by IEC."),
        _("Local codes and licensed practice come first."),
    ]
    ampere = given.load_ampere
    if ampere is not None and ampere > max(_allowed(value), default=0.0):
        said.insert(0, _("{ampere:g} A is more than any of the tables allows.", ampere=ampere))
    elif ampere is not None and ampere > _least(value):
        said.insert(0, _("{ampere:g} A is more than some of the tables allow.", ampere=ampere))
    return said


def _differ(value: GaugeOut) -> list[str]:
    said = [_("The tables allow different currents for one size: take that of the unit's market.")]
    if value.uk_ampere == 15:
        said.append(_("1.5 mm²: 15 A by the UK page, 16 A elsewhere."))
    return said
