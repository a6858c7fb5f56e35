"""The checklist of voltage-rated parts for a target supply."""

from __future__ import annotations

from typing import get_args

from shop.calc.fields import fit
from shop.calc.fuses.marking import read_mark
from shop.calc.registry import calculator
from shop.calc.safety.schemes import DEFAULT, SCHEMES, Scheme, current_differs, current_limit
from shop.calc.voltage_parts.capacitors import leakage_milliampere
from shop.calc.voltage_parts.fittings import CHECKS
from shop.calc.voltage_parts.parts import (
    KIND_LABELS,
    CheckIn,
    CheckOut,
    Item,
    Kind,
    Part,
    upper_limit,
)
from shop.calc.voltage_parts.plate import plate_lines
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Working

_TO_EARTH = ("y_capacitor", "line_to_chassis_capacitor")


# A unit from 120 V land for 230 V, with what was found across its mains.
EXAMPLE = {
    "nominal_volt": 230,
    "hz": 50,
    "high_volt": 253,
    "old_nominal_volt": 120,
    "old_hz": 60,
    "plug_letters": ["C", "F"],
    "scheme": "en_50678",
    "parts": [
        {"kind": "varistor", "rated_volt": 130},
        {"kind": "x_capacitor", "rated_volt": 275, "rating_class": "X2"},
        {"kind": "line_to_chassis_capacitor", "capacitance_farad": 1e-8},
        {"kind": "neon", "resistance_ohm": 47000},
        {"kind": "rear_outlet"},
    ],
}


@calculator(
    "voltage_parts.check",
    "Voltage-rated parts for a supply",
    question="Which parts across the mains must change for this supply?",
    example=EXAMPLE,
)
def check(given: CheckIn) -> Answer[CheckOut]:
    """Judge each part across the mains for the target supply.

    Units: V, Hz, A, F, ohm; currents to earth in mA. Currents of capacitors to earth or chassis are
    summed at the upper limit, I = 2 pi f C V, and compared with the scheme's limit of touch current
    or, in class I, of protective-conductor current. Without a scheme EN 50678 is used, and said.
    Raises BadInput for impossible values.
    Source: IEC 60384-14, makers' selection rules; see `sources` of each item.
    """
    given = fit(given)
    high = upper_limit(given.nominal_volt, given.high_volt)
    scheme = SCHEMES[given.scheme or DEFAULT]
    limit = current_limit(scheme, given.protection_class)
    parts = given.parts or [Part(kind) for kind in get_args(Kind)]
    items = [_judged(given, place, part, high) for place, part in enumerate(parts)]
    value = _value(given, items, high, limit.value)
    named = dict.fromkeys(source for item in items for source in item.sources)
    working = Working(
        _lines(value), [*named, limit.source], _cautions(given, value), _differ(scheme)
    )
    text = _(
        "{replace} to replace, {check} to check of {all} voltage-rated parts.",
        replace=len(value.to_replace),
        check=len(value.to_check),
        all=len(items),
    )
    clear = not value.to_replace and not value.to_check and value.leakage_within_limit
    return Answer(Outcome.OK if clear else Outcome.WARN, text, value, working)


def _judged(given: CheckIn, place: int, part: Part, high: float) -> Item:
    try:
        return CHECKS[part.kind](given, part, high)
    except BadInput as error:
        field = error.field.replace("parts.", f"parts[{place}].", 1)
        raise BadInput(field, error.reason) from error


def _leakage(given: CheckIn, high: float) -> float:
    return sum(
        leakage_milliampere(part.capacitance_farad, given.hz, high)
        for part in given.parts
        if part.kind in _TO_EARTH and part.capacitance_farad is not None
    )


def _value(given: CheckIn, items: list[Item], high: float, limit: float) -> CheckOut:
    leakage = _leakage(given, high)
    scheme = SCHEMES[given.scheme or DEFAULT]
    return CheckOut(
        items=items,
        high_volt=high,
        leakage_sum_milliampere=leakage,
        touch_limit_milliampere=limit,
        leakage_within_limit=leakage <= limit,
        to_replace=[item.name for item in items if item.verdict == "replace"],
        to_check=[item.name for item in items if item.verdict == "check"],
        plate_lines=_plate(given),
        scheme=scheme.key,
        scheme_title=scheme.title,
    )


def _plate(given: CheckIn) -> list[str]:
    """What the rating plate must say now; date and shop are added where it is printed."""
    fuse = read_mark(given.fuse_mark, "fuse_mark") if given.fuse_mark else None
    return plate_lines(
        volt=given.nominal_volt,
        hz=[given.hz],
        va=given.rated_va,
        ampere=given.line_ampere,
        fuse=fuse,
        protection_class=given.protection_class,
    )


def _named(item: Item) -> str:
    """A part without a name of its own by its kind, in words."""
    return _(KIND_LABELS[item.key]) if item.name == item.key else item.name


def _lines(value: CheckOut) -> list[Line]:
    said = {"keep": _("keep"), "replace": _("replace"), "check": _("check")}
    return [
        Line(_("upper limit of the supply"), "V_max", f"{value.high_volt:g} V"),
        Line(
            _("current to earth, sum"),
            "Σ 2 π f C V_max",
            f"{value.leakage_sum_milliampere:.3f} mA",
        ),
        Line(_("limit of the sum"), value.scheme_title, f"{value.touch_limit_milliampere:g} mA"),
        *(Line(_named(item), item.reason, said[item.verdict]) for item in value.items),
    ]


def _cautions(given: CheckIn, value: CheckOut) -> list[str]:
    said = [
        _("The maker's instructions for the target supply win over this list."),
        _("Mains work is for a competent person; local codes and licensed practice come first."),
    ]
    if not value.leakage_within_limit:
        said.append(
            _(
                "Capacitors to earth carry {sum:.2f} mA, above {limit:g} mA ({title}): take some "
                "out.",
                sum=value.leakage_sum_milliampere,
                limit=value.touch_limit_milliampere,
                title=value.scheme_title,
            )
        )
    if given.scheme is None:
        said.append(
            _("No scheme was named: currents are compared with {title}.", title=value.scheme_title)
        )
    if given.protection_class == "0":
        said.append(_("Unearthed unit: every capacitor from line to chassis is felt by touch."))
    return said


def _differ(scheme: Scheme) -> list[str]:
    return [
        *current_differs(scheme),
        _("Varistor: by the supply's upper limit, or 20 to 30 % above nominal by another rule."),
        _("Y2 ends at 250 V in an older edition, at 300 V in a newer."),
    ]
