"""What ESR a good part has by two guide tables, and by its loss factor."""

from __future__ import annotations

from enum import StrEnum
from math import pi
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.capacitors.esr_tables import TABLES, GuideTable, columns_for, read_column
from shop.calc.capacitors.inputs import Farad, Ohm, RatedVolt
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.shown import farads, ohms
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

METER_HERTZ: Final = 100_000.0


class Says(StrEnum):
    """What a measured ESR says against one guide value."""

    WITHIN = "within"
    BELOW_DOUBLE = "below_double"
    ABOVE_DOUBLE = "above_double"
    ABOVE_TRIPLE = "above_triple"


class EsrIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part, and what an ESR meter (about 100 kHz) reads on it out of circuit."""

    farad: Farad
    rated_volt: RatedVolt
    measured_ohm: Annotated[
        Ohm | None, Meta(title="Measured ESR", description="ohm at 100 kHz, leads zeroed")
    ] = None


class Guide(msgspec.Struct, frozen=True):
    """One column of one table for this part; `ohm` None where the table says nothing."""

    table: str
    column_volt: int
    ohm: float | None
    is_printed: bool
    is_uneven: bool
    times: float | None
    says: Says | None


class Esr(msgspec.Struct, frozen=True):
    """Every guide value that there is, table by table; no value is made from two tables."""

    guides: list[Guide]


# Lower than any sound part of the tables by far; a proposal.
SHORT_SHARE: Final = 1 / 20

EXAMPLE = {"farad": 100e-6, "rated_volt": 63.0, "measured_ohm": 0.8}


@calculator(
    "capacitors.esr",
    "ESR by two guide tables",
    question="What ESR would a good capacitor of this size have, and is mine too high?",
    example=EXAMPLE,
)
def esr(given: EsrIn) -> Answer[Esr]:
    """Guide values of two published tables side by side, and the reading against each.

    Units: farad, volt, ohm at about 100 kHz and room temperature. Between rows of a column:
    straight on log-log scales; between columns both are shown. No answer outside of both tables.
    Source: glodark.com/design/esrchart.htm; ESR meter guide, page 9.
    """
    given = fit(given)
    guides = guides_for(given.farad, given.rated_volt, given.measured_ohm)
    known = [guide for guide in guides if guide.ohm is not None]
    working = Working(_lines(given, guides), SOURCES, _cautions(known), _differ(given, known))
    if not known:
        text = _("Neither table has this size and voltage: use the maker's figure or tan δ.")
        return Answer(Outcome.NO_ANSWER, text, Esr(guides), working)
    outcome, text = _said(given, known)
    return Answer(outcome, text, Esr(guides), working)


def guides_for(farad: float, rated_volt: float, measured_ohm: float | None) -> list[Guide]:
    """Each column of each table that concerns a part, judged if there is a reading."""
    return [
        _guide(table, column, farad, measured_ohm)
        for table in TABLES
        for column in columns_for(table, rated_volt)
    ]


def _guide(table: GuideTable, column: int, farad: float, measured_ohm: float | None) -> Guide:
    read = read_column(table, column, farad * 1e6)
    times = None if read.ohm is None or measured_ohm is None else measured_ohm / read.ohm
    says = None if times is None else says_of(times)
    return Guide(_(table.name), column, read.ohm, read.is_printed, read.is_uneven, times, says)


def says_of(times: float) -> Says:
    """A ratio of reading to guide in words: 1, 2 and 3 times are the borders."""
    for most, says in ((1, Says.WITHIN), (2, Says.BELOW_DOUBLE), (3, Says.ABOVE_DOUBLE)):
        if times <= most * (1 + 1e-9):
            return says
    return Says.ABOVE_TRIPLE


def _said(given: EsrIn, known: list[Guide]) -> tuple[Outcome, str]:
    shown = "; ".join(f"{one.table} {one.column_volt} V: {ohms(one.ohm or 0)}" for one in known)
    is_uneven = any(one.is_uneven for one in known)
    if given.measured_ohm is None:
        return (Outcome.WARN if is_uneven else Outcome.OK), _("Guide only. {all}.", all=shown)
    high = [one for one in known if one.says in (Says.ABOVE_DOUBLE, Says.ABOVE_TRIPLE)]
    is_short = all(SHORT_SHARE * (one.ohm or 0.0) > given.measured_ohm for one in known)
    if is_short:
        text = _("{ohm} is far below every guide value: rule out a short, which reads the same.",
                 ohm=ohms(given.measured_ohm))  # fmt: skip
    elif not high:
        text = _("{ohm} is below double of every guide value.", ohm=ohms(given.measured_ohm))
    elif len(high) == len(known):
        text = _("{ohm} is above double of every guide value.", ohm=ohms(given.measured_ohm))
    else:
        text = _("The tables disagree on {ohm}: see each.", ohm=ohms(given.measured_ohm))
    outcome = Outcome.WARN if high or is_uneven or is_short else Outcome.OK
    return outcome, f"{text} {shown}."


def _lines(given: EsrIn, guides: list[Guide]) -> list[Line]:
    head = [Line(_("part"), "C, U", f"{farads(given.farad)}, {given.rated_volt:g} V")]
    return head + [
        Line(
            f"{one.table}, {one.column_volt} V",
            _("as printed") if one.is_printed else _("between two rows, log-log"),
            _result(one),
        )
        for one in guides
    ]


def _result(one: Guide) -> str:
    if one.ohm is None:
        return _("no value")
    result = ohms(one.ohm)
    if one.times is not None:
        result += " " + _("({times:.2g} times)", times=one.times)
    return result + (" " + _("uneven here") if one.is_uneven else "")


def _cautions(known: list[Guide]) -> list[str]:
    said = [
        _("Discharge the part first; an ESR meter may not survive a charged one."),
        _("Guide only: a low-impedance part is far below, a small or cheap one may be above."),
        _("A shorted part reads like a very good one: check it with the ohms range or by leakage."),
    ]
    if any(one.is_uneven for one in known):
        said.append(_("The table is not even here: a larger part stands with a higher ESR."))
    return said


def _differ(given: EsrIn, known: list[Guide]) -> list[str]:
    tables = {one.table for one in known}
    differ = [_("The two tables differ by up to seven times, in both directions; never averaged.")]
    if len(tables) == 2:
        shown = [one.ohm or 0.0 for one in known]
        differ.append(_("Here by {times:.2g} times.", times=max(shown) / min(shown)))
    if abs(given.farad / 100e-6 - 1) < 1e-6 and any(one.column_volt == 63 for one in known):
        differ.append(_("A copy of the meter guide prints 0.09 Ω for 100 µF 63 V: a slipped point, "
                        "the guide itself has 0.93 Ω."))  # fmt: skip
    return differ


SOURCES: Final = [
    *(table.source for table in TABLES),
    Source("wary above double, replace above three times", Status.PROPOSED),
    Source("below a twentieth of every guide value: rule out a short", Status.PROPOSED),
    Source("a short reads as a low ESR", Status.COMMON_PRACTICE),
    Source("0.09 ohm for 100 µF 63 V, a misprint", Status.SECOND_HAND,
           "circuitsgallery.com/electrolytic-capacitor-esr-chart"),
]  # fmt: skip


class EsrFromLossIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A loss factor from a data sheet, the frequency it belongs to, and perhaps a reading."""

    tan_delta: Annotated[
        float,
        Meta(
            title="Loss factor tan δ",
            ge=1e-5,
            le=10,
            description="a plain number: 0.16, not 16 %; from the data sheet, for this voltage",
            examples=[0.16],
        ),
    ]
    farad: Farad
    at_hertz: Annotated[
        float,
        Meta(
            title="Frequency of tan δ",
            ge=10,
            le=1e6,
            description="hertz, 120 if left out; European sheets say 100",
        ),
    ] = 120.0
    measured_ohm: Annotated[
        Ohm | None, Meta(title="Measured ESR", description="ohm, to compare with")
    ] = None
    meter_hertz: Annotated[
        float,
        Meta(title="Frequency of the meter", ge=10, le=1e6, description="hertz, 100 k if empty"),
    ] = METER_HERTZ


class EsrFromLoss(msgspec.Struct, frozen=True):
    """ESR and reactance at the frequency of tan δ; `times` only where both are comparable."""

    ohm: float
    reactance_ohm: float
    is_comparable: bool
    times: float | None


LOSS_EXAMPLE = {"tan_delta": 0.16, "farad": 1000e-6, "at_hertz": 120.0}


def esr_ohm(tan_delta: float, farad: float, hertz: float) -> float:
    """ESR = tan δ / (2 π f C), ohm."""
    return tan_delta / (2 * pi * hertz * farad)


@calculator(
    "capacitors.esr_from_loss",
    "ESR from the loss factor",
    question="Which ESR does the tan δ of the data sheet allow?",
    example=LOSS_EXAMPLE,
)
def esr_from_loss(given: EsrFromLossIn) -> Answer[EsrFromLoss]:
    """ESR at the frequency at which tan δ was stated; a reading is compared only near it.

    Units: farad, hertz, ohm. Formula: ESR = tan δ / (2 π f C). Valid for: series model, f well
    below resonance. A reading at more than twice or less than half the frequency is not judged,
    unless it is too high even at a higher frequency.
    Source: definition of the loss factor.
    """
    given = fit(given)
    ohm = esr_ohm(given.tan_delta, given.farad, given.at_hertz)
    is_near = 0.5 <= given.meter_hertz / given.at_hertz <= 2
    times = given.measured_ohm / ohm if given.measured_ohm is not None and is_near else None
    value = EsrFromLoss(ohm, ohm / given.tan_delta, is_near, times)
    lines = [
        Line(_("part"), "C", farads(given.farad)),
        Line(_("reactance"), "1 / (2 π f C)", ohms(value.reactance_ohm)),
        Line(_("ESR"), "tan δ / (2 π f C)", ohms(ohm)),
    ]
    if times is not None:
        lines.append(Line(_("measured over that"), "R / ESR", f"{times:.2g}"))
    sources = [Source("ESR = tan δ / (2 π f C)", Status.COMPUTED)]
    working = Working(lines, sources, disagreements=[_not_alike()])
    return Answer(*_loss_said(given, value), value, working)


def _not_alike() -> str:
    return _(
        "A meter reads at 100 kHz and shows less than this figure at 100 or 120 Hz: compare like "
        "with like."
    )


def _loss_said(given: EsrFromLossIn, value: EsrFromLoss) -> tuple[Outcome, str]:
    text = _("At most {ohm} at {hertz:g} Hz.", ohm=ohms(value.ohm), hertz=given.at_hertz)
    if given.measured_ohm is None:
        return Outcome.OK, text
    # ESR falls as the frequency rises, so what is too much at 100 kHz is too much at 120 Hz.
    is_higher = value.times is None and given.meter_hertz > given.at_hertz
    if is_higher and given.measured_ohm > value.ohm:
        more = _("The reading is above that even at a higher frequency, where ESR is lower.")
        return Outcome.WARN, f"{text} {more}"
    if value.times is None:
        return Outcome.WARN, f"{text} " + _("The reading is at another frequency: not judged.")
    if value.times <= 1 + 1e-9:
        return Outcome.OK, f"{text} " + _("The reading is within.")
    return Outcome.WARN, f"{text} " + _("The reading is {times:.2g} times that.", times=value.times)
