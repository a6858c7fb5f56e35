"""An interference capacitor on a supply: class, rated volts, impulse, leakage, verdict."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import MainsVolt, ProtectionClass, fit
from shop.calc.registry import calculator
from shop.calc.safety.schemes import DEFAULT, SCHEMES, Limit, current_differs, current_limit
from shop.calc.shown import farads
from shop.calc.voltage_parts.capacitors import (
    CLASS_SOURCE,
    LEAKAGE_SOURCE,
    RATED_SOURCE,
    ROLE_SOURCE,
    Y_LIMITS,
    check_x,
    check_y,
    impulse_volt,
    leakage_milliampere,
    y_class_for,
)
from shop.calc.voltage_parts.parts import (
    CheckIn,
    HighVolt,
    NewHertz,
    NewVolt,
    Part,
    RatingClass,
    SchemeOrNone,
    Verdict,
    upper_limit,
)
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Working

Position = Literal["line_to_line", "line_to_earth"]


class CapacitorIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The capacitor, where it sits, and the supply."""

    nominal_volt: NewVolt
    hz: NewHertz
    capacitance_farad: Annotated[
        float,
        Meta(
            ge=1e-12,
            le=1e-4,
            title="Capacitance",
            description="farad, 1 pF to 100 µF; of all in parallel at this place",
        ),
    ]
    position: Annotated[
        Position,
        Meta(
            title="Position",
            description="between what it sits",
            extra_json_schema={
                "x-labels": {
                    "line_to_line": _noop("line to neutral"),
                    "line_to_earth": _noop("line or neutral to earth or chassis"),
                }
            },
        ),
    ]
    rating_class: Annotated[
        RatingClass | None,
        Meta(title="Class", description="marked on it; none on old parts"),
    ] = None
    rated_volt: Annotated[
        MainsVolt | None, Meta(title="Rated voltage", description="volt a.c. marked on it")
    ] = None
    high_volt: HighVolt = None
    protection_class: ProtectionClass = "I"
    scheme: SchemeOrNone = None


class CapacitorOut(msgspec.Struct, frozen=True):
    """The verdict, and the figures. `impulse_volt` is None without a class.

    Currents are None from line to neutral: there they flow whatever is touched.
    """

    verdict: Verdict
    reason: str
    wanted_class: str
    upper_limit_volt: float
    impulse_volt: float | None
    leakage_milliampere: float | None
    leakage_at_limit_milliampere: float | None
    limit_milliampere: float | None
    within_limit: bool | None
    scheme: str | None


# A published case: X1 of 4.7 uF, 1845 V.
EXAMPLE = {
    "nominal_volt": 230,
    "hz": 50,
    "capacitance_farad": 4.7e-6,
    "position": "line_to_line",
    "rating_class": "X1",
    "rated_volt": 275,
}


@calculator(
    "voltage_parts.capacitor",
    "X or Y capacitor on a supply",
    question="May this interference capacitor stay, and what leaks through it?",
    example=EXAMPLE,
)
def capacitor(given: CapacitorIn) -> Answer[CapacitorOut]:
    """Judge one safety capacitor: class for its place, rated volts, impulse, current to earth.

    Units: F, V, Hz, mA. Impulse U = U1 / sqrt(C / 1 uF) above 1 uF for X1, X2, Y2; Y1 and Y4
    constant. Current I = 2 pi f C V, judged at the supply's upper limit by one scheme.
    Source: IEC 60384-14, second-hand; the scheme's own limit.
    """
    given = fit(given)
    high = upper_limit(given.nominal_volt, given.high_volt)
    limit = _limit(given)
    value = _value(given, high, limit)
    sources = [CLASS_SOURCE, ROLE_SOURCE, RATED_SOURCE, LEAKAGE_SOURCE]
    if limit is not None:
        sources.append(limit.source)
    working = Working(_lines(given, value), sources, _cautions(given, value), _differ(given))
    clear = value.verdict == "keep" and value.within_limit is not False
    text = _(
        "{size}: {verdict}, {reason}.",
        size=farads(given.capacitance_farad),
        verdict={"keep": _("keep"), "check": _("check"), "replace": _("replace")}[value.verdict],
        reason=value.reason,
    )
    return Answer(Outcome.OK if clear else Outcome.WARN, text, value, working)


def _limit(given: CapacitorIn) -> Limit | None:
    if given.position == "line_to_line":
        return None
    return current_limit(SCHEMES[given.scheme or DEFAULT], given.protection_class)


def _value(given: CapacitorIn, high: float, limit: Limit | None) -> CapacitorOut:
    verdict, reason = _judged(given, high)
    farad, rated = given.capacitance_farad, given.rating_class
    now = leakage_milliampere(farad, given.hz, given.nominal_volt)
    most = leakage_milliampere(farad, given.hz, high)
    return CapacitorOut(
        verdict=verdict,
        reason=reason,
        wanted_class=_wanted(given),
        upper_limit_volt=high,
        impulse_volt=impulse_volt(rated, farad) if rated else None,
        leakage_milliampere=now if limit else None,
        leakage_at_limit_milliampere=most if limit else None,
        limit_milliampere=limit.value if limit else None,
        within_limit=most <= limit.value if limit else None,
        scheme=(given.scheme or DEFAULT) if limit else None,
    )


def _judged(given: CapacitorIn, high: float) -> tuple[Verdict, str]:
    """The same rules as the checklist of a conversion."""
    is_earth = given.position == "line_to_earth"
    part = Part(
        "y_capacitor" if is_earth else "x_capacitor",
        rated_volt=given.rated_volt,
        capacitance_farad=given.capacitance_farad,
        rating_class=given.rating_class,
    )
    supply = CheckIn(
        given.nominal_volt, given.hz, high_volt=high, protection_class=given.protection_class
    )
    item = (check_y if is_earth else check_x)(supply, part, high)
    return item.verdict, item.reason


def _wanted(given: CapacitorIn) -> str:
    if given.position == "line_to_line":
        return "X2"
    return y_class_for(given.protection_class)


def _lines(given: CapacitorIn, value: CapacitorOut) -> list[Line]:
    lines = [
        Line(_("upper limit of the supply"), "V_high", f"{value.upper_limit_volt:g} V"),
        Line(_("class for this place"), "IEC 60384-14", value.wanted_class),
    ]
    if given.rating_class in Y_LIMITS:
        lines.append(
            Line(_("its class ends at"), given.rating_class, f"{Y_LIMITS[given.rating_class]:g} V")
        )
    if value.impulse_volt is not None:
        lines.append(
            Line(_("impulse"), _("U1 / √(C / 1 µF) above 1 µF"), f"{value.impulse_volt:.0f} V")
        )
    if value.leakage_at_limit_milliampere is not None:
        lines += [
            Line(_("current at nominal"), "2 π f C V", f"{value.leakage_milliampere:.3f} mA"),
            Line(
                _("current at the upper limit"),
                "2 π f C V_high",
                f"{value.leakage_at_limit_milliampere:.3f} mA",
            ),
            Line(
                _("limit"),
                SCHEMES[given.scheme or DEFAULT].title,
                f"{value.limit_milliampere:g} mA",
            ),
        ]
    return lines


def _cautions(given: CapacitorIn, value: CapacitorOut) -> list[str]:
    said = [
        _("Old paper capacitors across the mains leak and burst: replace them when in doubt."),
        _("Discharge it before touching; a switch may leave it charged."),
        _("Mains work is for a competent person; local codes come first."),
    ]
    if value.scheme is not None and given.scheme is None:
        title = SCHEMES[DEFAULT].title
        said.append(_("No scheme was named: currents are compared with {title}.", title=title))
    if value.within_limit is False:
        said.insert(
            0, _("More current than the scheme allows: a smaller one, an earth, or none at all.")
        )
    return said


def _differ(given: CapacitorIn) -> list[str]:
    said = []
    if given.position == "line_to_earth":
        said = [
            _("Y2 ends at 250 V in an older edition, at 300 V in a newer."),
            *current_differs(SCHEMES[given.scheme or DEFAULT]),
        ]
    return said
