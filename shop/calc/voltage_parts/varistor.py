"""The varistor for a supply, and whether the one fitted may stay."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import MainsVolt, fit
from shop.calc.registry import calculator
from shop.calc.voltage_parts.parts import HighVolt, NewVolt, Verdict, upper_limit
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

EARTH_1MA_VOLT = 430  # least volts at 1 mA from line to earth, on 100 V systems too
OTHER_MARGIN = (1.2, 1.3)
FAR_ABOVE = 1.45  # times the type wanted: it would clamp too late to protect much


class VaristorType(msgspec.Struct, frozen=True):
    """A standard type: volts a.c. and d.c. it stands all the time, and volts at 1 mA."""

    ac_volt: int
    dc_volt: int
    one_milliampere_volt: int


SERIES: tuple[VaristorType, ...] = tuple(
    VaristorType(*row)
    for row in (
        (95, 125, 150), (115, 150, 171), (130, 170, 200), (150, 200, 240), (175, 225, 270),
        (230, 300, 360), (250, 320, 390), (275, 350, 430), (300, 385, 470), (320, 420, 510),
    )
)  # fmt: skip
VARISTOR_SOURCE = Source(
    "Smallest standard varistor at or above the supply's upper limit",
    Status.SECOND_HAND,
    "pe2bz.philpem.me.uk/Parts-Active/VaristorsMOV/MOV.html",
)
VARISTOR_SERIES = Source("Standard varistor voltages above 115 V a.c.", Status.FROM_MEMORY)
VARISTOR_EARTH = Source(
    "Line to earth: at least 430 V at 1 mA, out for insulation tests",
    Status.SECOND_HAND,
    "varistor maker's FAQ, question 29A8Z3Y",
)
MARGIN_SOURCE = Source(
    "Another rule: 20 to 30 % above nominal",
    Status.SECOND_HAND,
    "ewskills.com/circuit-protection/mov",
)
HABIT_SOURCE = Source(
    "Habit: 130 or 150 V types on 120 V, 275 or 300 V types on 230 and 240 V", Status.FROM_MEMORY
)


def type_for(high_volt: float, is_line_to_earth: bool = False) -> VaristorType | None:
    """Smallest standard type for an upper limit in V, None past the series."""
    return next(
        (
            one
            for one in SERIES
            if one.ac_volt >= high_volt - 1e-9
            and (not is_line_to_earth or one.one_milliampere_volt >= EARTH_1MA_VOLT)
        ),
        None,
    )


class VaristorIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The supply, where the varistor sits, and what is marked on the one fitted."""

    nominal_volt: NewVolt
    high_volt: HighVolt = None
    is_line_to_earth: Annotated[
        bool, Meta(title="Line to earth", description="else from line to neutral")
    ] = False
    fitted_volt: Annotated[
        MainsVolt | None,
        Meta(title="Fitted type", description="volt a.c. marked on it, highest continuous"),
    ] = None


class VaristorOut(msgspec.Struct, frozen=True):
    """The type wanted (None past the series), the other rule's span in V, and the verdict."""

    upper_limit_volt: float
    wanted: VaristorType | None
    other_low_volt: float
    other_high_volt: float
    verdict: Verdict


# A published case: 220 V + 10 % is 242 V, next 250 V.
EXAMPLE = {"nominal_volt": 220}


@calculator(
    "voltage_parts.varistor",
    "Varistor for a supply",
    question="Which varistor belongs across this supply?",
    example=EXAMPLE,
)
def varistor(given: VaristorIn) -> Answer[VaristorOut]:
    """Choose the smallest standard varistor that stands the supply's upper limit.

    Units: V a.c., V d.c., V at 1 mA. Line to earth at least 430 V at 1 mA. NO_ANSWER past 320 V.
    Raises BadInput for a limit below the supply.
    Source: a maker's selection text; another rule's margin stands beside it.
    """
    given = fit(given)
    high = upper_limit(given.nominal_volt, given.high_volt)
    wanted = type_for(high, given.is_line_to_earth)
    low_margin, high_margin = (given.nominal_volt * share for share in OTHER_MARGIN)
    verdict = _verdict(given, high, wanted)
    value = VaristorOut(high, wanted, low_margin, high_margin, verdict)
    working = Working(_lines(given, value), _sources(), _cautions(given), _differ(value))
    if wanted is None:
        text = _("No standard varistor of the table stands {high:g} V.", high=high)
        return Answer(Outcome.NO_ANSWER, text, value, working)
    needs_work = given.fitted_volt is not None and verdict != "keep"
    outcome = Outcome.WARN if needs_work else Outcome.OK
    return Answer(outcome, _text(given, wanted, verdict), value, working)


def _verdict(given: VaristorIn, high: float, wanted: VaristorType | None) -> Verdict:
    fitted = given.fitted_volt
    if fitted is None or wanted is None:
        return "check"
    # Line to earth the volts at 1 mA decide, which only the type wanted and larger ones have.
    if fitted < (wanted.ac_volt if given.is_line_to_earth else high):
        return "replace"
    return "check" if fitted > FAR_ABOVE * wanted.ac_volt else "keep"


def _text(given: VaristorIn, wanted: VaristorType, verdict: Verdict) -> str:
    text = _(
        "A {ac} V a.c. type ({one} V at 1 mA).",
        ac=wanted.ac_volt,
        one=wanted.one_milliampere_volt,
    )
    if given.fitted_volt is None:
        return text
    said = {
        "keep": _("The {volt:g} V type fitted may stay.", volt=given.fitted_volt),
        "replace": _("The {volt:g} V type fitted must go.", volt=given.fitted_volt),
        "check": _("The {volt:g} V type fitted would protect little.", volt=given.fitted_volt),
    }[verdict]
    return f"{text} {said}"


def _lines(given: VaristorIn, value: VaristorOut) -> list[Line]:
    how = _("as given") if given.high_volt is not None else "V × 1.1"
    lines = [Line(_("upper limit of the supply"), how, f"{value.upper_limit_volt:g} V")]
    if value.wanted is not None:
        lines += [
            Line(_("highest continuous"), "V_ac ≥ V_high",
                 f"{value.wanted.ac_volt} V~, {value.wanted.dc_volt} V="),
            Line(_("at 1 mA"), "", f"{value.wanted.one_milliampere_volt} V"),
        ]  # fmt: skip
    return lines


def _sources() -> list[Source]:
    return [VARISTOR_SOURCE, VARISTOR_SERIES, VARISTOR_EARTH, MARGIN_SOURCE, HABIT_SOURCE]


def _cautions(given: VaristorIn) -> list[str]:
    said = [
        _("A varistor ages with every surge: one that is discoloured or cracked goes in any case."),
        _("It stands behind the fuse, so that its short circuit blows the fuse."),
    ]
    if given.is_line_to_earth:
        said.append(_("Take it out for the insulation test, or test with 250 V."))
    return [*said, _("Mains work is for a competent person; local codes come first.")]


def _differ(value: VaristorOut) -> list[str]:
    return [
        _(
            "By another rule, 20 to 30 % above nominal: {low:g} to {high:g} V a.c.",
            low=round(value.other_low_volt, 1),
            high=round(value.other_high_volt, 1),
        ),
        _("Habit: 130 or 150 V types on 120 V, 275 or 300 V types on 230 and 240 V (from memory)."),
    ]
