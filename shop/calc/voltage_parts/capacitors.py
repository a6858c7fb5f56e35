"""Varistors and interference capacitors for a supply."""

from __future__ import annotations

from math import pi, sqrt

from shop.calc.voltage_parts.parts import CheckIn, Item, Part, Verdict
from shop.calc.voltage_parts.varistor import (
    EARTH_1MA_VOLT,
    FAR_ABOVE,
    OTHER_MARGIN,
    VARISTOR_EARTH,
    VARISTOR_SERIES,
    VARISTOR_SOURCE,
    type_for,
)
from shop.calc.words import _
from shop.calc.working import BadInput, Source, Status

CLASS_SOURCE = Source(
    "IEC 60384-14: X1 4 kV, X2 2.5 kV; Y1 8 kV, Y2 5 kV, Y4 2.5 kV",
    Status.SECOND_HAND,
    "techoverflow.net/2019/08/07",
)
ROLE_SOURCE = Source(
    "IEC 60384-14: Y1 for double or reinforced insulation, Y2 for basic or supplementary",
    Status.SECOND_HAND,
    "fuhua-cn.com/en/classification-and-selection-of-x-and-y-capacitors/",
)
RATED_SOURCE = Source("Rated volts at least the upper limit of the supply", Status.COMPUTED)
LEAKAGE_SOURCE = Source("I = 2 pi f C V", Status.COMPUTED)
Y_LIMITS = {"Y1": 500.0, "Y2": 300.0, "Y4": 150.0}
# X3 is no longer made.
_IMPULSE = {"X1": 4000.0, "X2": 2500.0, "X3": 1200.0, "Y1": 8000.0, "Y2": 5000.0, "Y4": 2500.0}


def varistor_class(high_volt: float) -> tuple[int, int] | None:
    """Smallest standard varistor for an upper limit in V: (a.c. volts, volts at 1 mA), or None."""
    wanted = type_for(high_volt)
    return None if wanted is None else (wanted.ac_volt, wanted.one_milliampere_volt)


def impulse_volt(rating_class: str, farad: float) -> float:
    """Impulse test voltage of a safety capacitor in V.

    Above 1 uF X1, X2 and Y2 fall as 1 / sqrt(C / 1 uF). Source: IEC 60384-14 (second-hand).
    """
    base = _IMPULSE[rating_class]
    shrinks = rating_class in ("X1", "X2", "Y2") and farad > 1e-6
    return base / sqrt(farad / 1e-6) if shrinks else base


def leakage_milliampere(farad: float, hz: float, volt: float) -> float:
    """Current through a capacitor in mA. Formula: 2 pi f C V."""
    return 2 * pi * hz * farad * volt * 1000


def y_class_for(protection_class: str) -> str:
    """Y2 where touchable metal is earthed; Y1, which bridges double insulation, where it is not."""
    return "Y2" if protection_class == "I" else "Y1"


def check_varistor(given: CheckIn, part: Part, high: float) -> Item:
    """Replace a varistor below the upper limit; look at one far above it."""
    wanted = varistor_class(high)
    numbers = {"upper_limit_volt": high}
    sources = [VARISTOR_SOURCE, VARISTOR_SERIES]
    if wanted is None:
        reason = _("no standard varistor of the table reaches {high:g} V", high=high)
        return _item(part, "check", reason, numbers, sources)
    numbers |= {"wanted_volt": wanted[0], "wanted_1mA_volt": wanted[1]}
    numbers["other_margin_volt"] = given.nominal_volt * OTHER_MARGIN[0]
    if part.is_line_to_earth:
        numbers["line_to_earth_1mA_volt"] = max(EARTH_1MA_VOLT, wanted[1])
        reason = _("line to earth: at least 430 V at 1 mA; take it out for insulation tests")
        return _item(part, "check", reason, numbers, [*sources, VARISTOR_EARTH])
    if part.rated_volt is None:
        reason = _("rating unknown; {volt} V a.c. type wanted", volt=wanted[0])
        return _item(part, "check", reason, numbers, sources)
    if part.rated_volt < high:
        reason = _(
            "{have:g} V lies below the supply's upper limit of {high:g} V", have=part.rated_volt,
            high=high,
        )  # fmt: skip
        return _item(part, "replace", reason, numbers, sources)
    if part.rated_volt > FAR_ABOVE * wanted[0]:
        reason = _("rated far above this supply: it would protect little")
        return _item(part, "check", reason, numbers, sources)
    return _item(part, "keep", _("rated at or above the upper limit"), numbers, sources)


def check_x(_given: CheckIn, part: Part, high: float) -> Item:
    """Line to line: rated volts at least the upper limit."""
    numbers = {"upper_limit_volt": high}
    farad = _farad(part)
    if farad and part.rating_class:
        numbers["impulse_volt"] = impulse_volt(part.rating_class, farad)
    verdict, reason = _by_rated(part, high)
    if part.rating_class is not None and part.rating_class.startswith("Y"):
        reason = _("a Y class stands in for X; {reason}", reason=reason)
    if part.rating_class is None and verdict == "keep":
        verdict, reason = "check", _("no class marked: an X2 type is the present part")
    if part.rating_class == "X3" and verdict == "keep":
        verdict, reason = "check", _("class X3 is no longer made; X2 is the replacement")
    return _item(part, verdict, reason, numbers, [CLASS_SOURCE, RATED_SOURCE])


def check_y(given: CheckIn, part: Part, high: float) -> Item:
    """Line to earth or chassis: class, rated volts, and its current."""
    farad = _farad(part)
    numbers = {"upper_limit_volt": high}
    if farad:
        numbers["leakage_milliampere"] = leakage_milliampere(farad, given.hz, given.nominal_volt)
        numbers["leakage_at_upper_limit_milliampere"] = leakage_milliampere(farad, given.hz, high)
    sources = [CLASS_SOURCE, RATED_SOURCE, LEAKAGE_SOURCE]
    if part.rating_class is None and farad is None:
        reason = _("read class and capacitance: only Y1 or Y2 between line and touchable parts")
        return _item(part, "check", reason, numbers, sources)
    if part.rating_class is None or not part.rating_class.startswith("Y"):
        reason = _("no Y class between line and a touchable part: fit Y1 or Y2, or leave it out")
        return _item(part, "replace", reason, numbers, sources)
    verdict, reason = _by_rated(part, high, Y_LIMITS[part.rating_class])
    if verdict == "keep" and y_class_for(given.protection_class) == "Y1" != part.rating_class:
        verdict, reason = "check", _("touchable parts without an earth want Y1")
    return _item(part, verdict, reason, numbers, [*sources, ROLE_SOURCE])


def _by_rated(part: Part, high: float, class_limit: float | None = None) -> tuple[Verdict, str]:
    if class_limit is not None and class_limit < high:
        return "replace", _("its class ends at {limit:g} V", limit=class_limit)
    if part.rated_volt is None:
        return "check", _("rated voltage unknown; at least {high:g} V wanted", high=high)
    if part.rated_volt >= high:
        return "keep", _("rated {volt:g} V", volt=part.rated_volt)
    # 250 V capacitors were made for 230 V systems, whose limit lies 3 V above.
    if part.rated_volt >= 250 and high <= 254:
        return "check", _("250 V is the older rating for this supply; 275 V or more is better")
    return "replace", _(
        "{have:g} V lies below the supply's upper limit of {high:g} V",
        have=part.rated_volt,
        high=high,
    )


def _farad(part: Part) -> float | None:
    farad = part.capacitance_farad
    if farad is not None and not 1e-12 <= farad <= 1e-4:
        raise BadInput("parts.capacitance_farad", _("a capacitance lies between 1 pF and 100 µF"))
    return farad


def _item(
    part: Part, verdict: Verdict, reason: str, numbers: dict[str, float], sources: list[Source]
) -> Item:
    return Item(part.kind, part.name or part.kind, verdict, reason, numbers, sources)
