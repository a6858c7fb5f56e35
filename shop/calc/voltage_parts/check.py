"""The checklist of voltage-rated parts for a target supply."""

from __future__ import annotations

from typing import get_args

from shop.calc.fields import fit
from shop.calc.fuses.marking import read_mark
from shop.calc.registry import calculator
from shop.calc.voltage_parts.capacitors import leakage_milliampere
from shop.calc.voltage_parts.fittings import CHECKS
from shop.calc.voltage_parts.parts import CheckIn, CheckOut, Item, Kind, Part
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

TOUCH_LIMIT_SOURCE = Source(
    "EN 50678 / EN 50699: touch current 0.5 mA, protective conductor 3.5 mA",
    Status.SECOND_HAND,
    "instrument instructions, page 24 (German)",
)
_TO_EARTH = ("y_capacitor", "line_to_chassis_capacitor")


@calculator("voltage_parts.check", "Voltage-rated parts for a supply")
def check(given: CheckIn) -> Answer[CheckOut]:
    """Judge each part across the mains for the target supply.

    Units: V, Hz, A, F, ohm; currents to earth in mA. Currents of capacitors to earth or chassis are
    summed at the upper limit, I = 2 pi f C V, and compared with 0.5 mA (touch) or, in class I, with
    3.5 mA (protective conductor). Raises BadInput for impossible values.
    Source: IEC 60384-14, makers' selection rules; see `sources` of each item.
    """
    given = fit(given)
    high = _high(given)
    parts = given.parts or [Part(kind) for kind in get_args(Kind)]
    items = [_judged(given, place, part, high) for place, part in enumerate(parts)]
    value = _value(given, items, high, _leakage(given, high))
    named = dict.fromkeys(source for item in items for source in item.sources)
    working = Working(
        _lines(value), [*named, TOUCH_LIMIT_SOURCE], _cautions(given, value), _differ()
    )
    text = _(
        "{replace} to replace, {check} to check of {all} voltage-rated parts.",
        replace=len(value.to_replace),
        check=len(value.to_check),
        all=len(items),
    )
    clear = not value.to_replace and not value.to_check and value.leakage_within_limit
    return Answer(Outcome.OK if clear else Outcome.WARN, text, value, working)


def _high(given: CheckIn) -> float:
    high = given.high_volt
    if high is None:
        return round(given.nominal_volt * 1.1, 6)
    if not given.nominal_volt <= high <= 1100:
        raise BadInput("high_volt", _("the upper limit must not lie below the supply"))
    return high


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


def _value(given: CheckIn, items: list[Item], high: float, leakage: float) -> CheckOut:
    limit = 3.5 if given.protection_class == "I" else 0.5
    return CheckOut(
        items=items,
        high_volt=high,
        leakage_sum_milliampere=leakage,
        touch_limit_milliampere=limit,
        leakage_within_limit=leakage <= limit,
        to_replace=[item.name for item in items if item.verdict == "replace"],
        to_check=[item.name for item in items if item.verdict == "check"],
        plate_lines=_plate(given),
    )


def _plate(given: CheckIn) -> list[str]:
    """What the rating plate must say now; date and shop are added where it is printed."""
    lines = [f"{given.nominal_volt:g} V ~ {given.hz:g} Hz"]
    if given.rated_va is not None:
        lines.append(f"{given.rated_va:g} VA")
    if given.line_ampere is not None:
        lines.append(f"{given.line_ampere:.3g} A")
    if given.fuse_mark:
        fuse = read_mark(given.fuse_mark, "fuse_mark")
        lines.append(_("Fuse {mark}", mark=fuse.text()))
    if given.protection_class == "II":
        lines.append(_("Class II"))
    return lines


def _lines(value: CheckOut) -> list[Line]:
    said = {"keep": _("keep"), "replace": _("replace"), "check": _("check")}
    return [
        Line(_("upper limit of the supply"), "V_max", f"{value.high_volt:g} V"),
        Line(
            _("current to earth, sum"),
            "Σ 2 π f C V_max",
            f"{value.leakage_sum_milliampere:.3f} mA",
        ),
        *(Line(item.name, item.reason, said[item.verdict]) for item in value.items),
    ]


def _cautions(given: CheckIn, value: CheckOut) -> list[str]:
    said = [
        _("The maker's instructions for the target supply win over this list."),
        _("Mains work is for a competent person; local codes and licensed practice come first."),
    ]
    if not value.leakage_within_limit:
        said.append(
            _(
                "Capacitors to earth carry {sum:.2f} mA, above {limit:g} mA: take some out.",
                sum=value.leakage_sum_milliampere,
                limit=value.touch_limit_milliampere,
            )
        )
    if given.protection_class == "0":
        said.append(_("Unearthed unit: every capacitor from line to chassis is felt by touch."))
    return said


def _differ() -> list[str]:
    return [
        _("Varistor: by the supply's upper limit, or 20 to 30 % above nominal by another rule."),
        _("Y2 ends at 250 V in an older edition, at 300 V in a newer."),
    ]
