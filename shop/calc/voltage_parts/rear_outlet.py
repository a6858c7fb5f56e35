"""Mains outlets on a unit's rear: what they carry after a change of voltage."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, MainsVolt, VoltAmpere, fit
from shop.calc.registry import calculator
from shop.calc.voltage_parts.fittings import is_other_voltage
from shop.calc.voltage_parts.parts import NewVolt, Verdict
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

OUTLET_SOURCE = Source("An outlet carries the unit's own supply, whatever its plate says",
                       Status.COMPUTED)  # fmt: skip
SHAPE_SOURCE = Source(
    "An outlet of another voltage is removed, blanked or relabelled", Status.PROPOSED
)


class RearOutletIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The outlet's plate, both supplies, and what stands before it."""

    old_volt: Annotated[
        MainsVolt, Meta(title="Voltage before", description="volt the outlet is marked for")
    ]
    new_volt: NewVolt
    marked_watt: Annotated[
        VoltAmpere | None,
        Meta(title="Marked load", description="watt in all on its plate, at the voltage before"),
    ] = None
    unit_ampere: Annotated[
        Ampere | None, Meta(title="Unit's own current", description="ampere at the new voltage")
    ] = None
    inlet_ampere: Annotated[
        Ampere | None,
        Meta(title="Inlet and cord", description="ampere, the lower rating of the two"),
    ] = None


class RearOutletOut(msgspec.Struct, frozen=True):
    """The verdict; the outlet's current before and now for the marked watts; what may be marked.

    `current_ampere` is the old limit of the outlet's contacts and switch: it does not grow.
    """

    verdict: Verdict
    current_ampere: float | None
    most_watt: float | None
    total_ampere: float | None
    inlet_suffices: bool | None


EXAMPLE = {
    "old_volt": 117,
    "new_volt": 120,
    "marked_watt": 300,
    "unit_ampere": 1.3,
    "inlet_ampere": 10,
}


@calculator(
    "voltage_parts.rear_outlet",
    "Mains outlets on the rear",
    question="What becomes of the outlets on the rear at the new voltage?",
    example=EXAMPLE,
)
def rear_outlet(given: RearOutletIn) -> Answer[RearOutletOut]:
    """Judge rear outlets after a change of voltage, and the load that may be marked.

    Units: V, W, A. Contacts keep their current: I = W_marked / V_old, so that the load is at most
    I x V_new, and never more than the mark says. The inlet carries the unit and its outlets.
    Source: power balance; the verdict is a proposal.
    """
    given = fit(given)
    value = _value(given)
    working = Working(_lines(given, value), [OUTLET_SOURCE, SHAPE_SOURCE], _cautions(value))
    clear = value.verdict == "keep" and value.inlet_suffices is not False
    return Answer(Outcome.OK if clear else Outcome.WARN, _text(given, value), value, working)


def _value(given: RearOutletIn) -> RearOutletOut:
    changed = is_other_voltage(given.old_volt, given.new_volt)
    current = most = total = suffices = None
    if given.marked_watt is not None:
        current = given.marked_watt / given.old_volt
        most = min(given.marked_watt, current * given.new_volt)
        total = most / given.new_volt + (given.unit_ampere or 0.0)
    if total is not None and given.inlet_ampere is not None:
        suffices = total <= given.inlet_ampere
    return RearOutletOut("replace" if changed else "keep", current, most, total, suffices)


def _text(given: RearOutletIn, value: RearOutletOut) -> str:
    if value.verdict == "replace":
        return _(
            "The outlets carry {volt:g} V now: remove, blank or relabel them.", volt=given.new_volt
        )
    if value.most_watt is None:
        return _("The outlets carry about the voltage they are marked for.")
    return _("The outlets may stay, for {watt:.0f} W in all.", watt=value.most_watt)


def _lines(given: RearOutletIn, value: RearOutletOut) -> list[Line]:
    change = given.new_volt / given.old_volt - 1
    lines = [Line(_("change of voltage"), "V_new / V_old − 1", f"{change * 100:+.1f} %")]
    if value.current_ampere is not None and value.most_watt is not None:
        lines += [
            Line(_("current of its contacts"), "W / V_old", f"{value.current_ampere:.3g} A"),
            Line(_("load that may be marked"), "min(W, I V_new)", f"{value.most_watt:.0f} W"),
        ]
    if value.total_ampere is not None:
        lines.append(Line(_("unit and outlets"), "W / V_new + I", f"{value.total_ampere:.3g} A"))
    return lines


def _cautions(value: RearOutletOut) -> list[str]:
    said = [
        _("Old outlets have no earth: never feed a class I unit from one."),
        _("Outlets behind the unit's fuse load that fuse; those before it have none."),
        _("Mains work is for a competent person; local codes come first."),
    ]
    if value.verdict == "replace":
        said.insert(0, _("A device of the old voltage plugged in here would be destroyed."))
    if value.inlet_suffices is False:
        said.insert(0, _("Unit and outlets together are more than inlet or cord may carry."))
    return said
