"""The tests of a safety check, in order, with the limits of the shop's scheme."""

from __future__ import annotations

from decimal import Decimal

import msgspec

from shop.calc.fields import fit
from shop.calc.quantities import Quantity
from shop.calc.readings import format_reading
from shop.calc.registry import calculator
from shop.calc.safety.measurements import (
    REVERSIBLE,
    REVERSIBLE_SOURCE,
    LimitsIn,
    SafetyTest,
    tests_of,
)
from shop.calc.safety.schemes import SCHEMES
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

CLASS_SOURCE = Source(
    "IEC 61140: classes of protection", Status.SECOND_HAND, "handwiki.org/wiki/IEC_61140"
)
# The units of the schemes: the quantity they measure and the power of ten to its SI unit.
IN_SI = {
    "ohm": (Quantity.RESISTANCE, 0),
    "megohm": (Quantity.RESISTANCE, 6),
    "mA": (Quantity.CURRENT_AC, -3),
}
OURS = Source("Class 0 units: touch current only, said on the record", Status.PROPOSED)


class LimitsOut(msgspec.Struct, frozen=True):
    """The tests in the order they are made, all from one scheme, with notes for the record."""

    scheme: str
    scheme_title: str
    protection_class: str
    tests: list[SafetyTest]
    notes: list[str]


EXAMPLE = {
    "scheme": "iet_5",
    "protection_class": "I",
    "cord_length_m": 3,
    "cord_mm2": 1.0,
    "plug": "G",
}


@calculator(
    "safety.limits",
    "Limits of the safety check",
    question="Which tests before hand-back, and with what limits?",
    example=EXAMPLE,
)
def limits(given: LimitsIn) -> Answer[LimitsOut]:
    """List the tests of one scheme for one unit, with their limits.

    Units: ohm, megohm, milliampere, m, mm2, kW. Protective earth: EN 0.3 ohm to 5 m, then
    0.1 ohm per 7.5 m begun; IET 0.1 ohm + L r; AS/NZS 1.0 ohm. Raises BadInput for an unknown
    scheme or class, or a class I unit whose cord is unknown.
    Source: the scheme's own; see `source` of each test.
    """
    given = fit(given)
    scheme = SCHEMES[given.scheme]
    tests = tests_of(given, scheme)
    value = LimitsOut(given.scheme, scheme.title, given.protection_class, tests, _notes(given))
    working = Working(
        [Line(test.title, test.source.text, _span(test)) for test in tests if test.required],
        [*dict.fromkeys(test.source for test in tests), CLASS_SOURCE, REVERSIBLE_SOURCE, OURS],
        _cautions(),
        scheme.disagreements(),
    )
    text = _(
        "{title}, class {protection}: {count} tests.",
        title=scheme.title,
        protection=given.protection_class,
        count=sum(test.required for test in tests),
    )
    doubtful = given.protection_class == "0" or (
        given.two_pin_cord and given.protection_class == "I"
    )
    return Answer(Outcome.WARN if doubtful else Outcome.OK, text, value, working)


def _span(test: SafetyTest) -> str:
    """The limit written as readings are, so that one report has one style."""
    if test.high is not None:
        return _("at most {limit}", limit=_as_reading(test.high, test.unit))
    if test.low is not None:
        return _("at least {limit}", limit=_as_reading(test.low, test.unit))
    return _("by eye")


def _as_reading(value: float, unit: str) -> str:
    quantity, power = IN_SI[unit]
    return format_reading(f"{Decimal(repr(value)).scaleb(power).normalize():f}", quantity)


def _notes(given: LimitsIn) -> list[str]:
    notes = []
    if given.protection_class == "0":
        notes.append(
            _(
                "Class 0: fit an earth and test as class I, or record that only touch "
                "current was taken."
            )
        )
    if given.protection_class == "I" and given.two_pin_cord:
        notes.append(
            _("Class I with a two-pin cord is class 0 in fact: fit an earthed cord first.")
        )
    if given.protection_class == "II":
        notes.append(_("Class II has no protective conductor: no test of it."))
    if given.plug is None or given.plug in REVERSIBLE:
        notes.append(
            _("A single-pole fuse or switch cannot be relied on with a plug that fits both ways.")
        )
    if given.has_surge_parts:
        notes.append(
            _("Varistors to earth are taken out or 250 V is used for the insulation test.")
        )
    return notes


def _cautions() -> list[str]:
    return [
        _("Limits come from one scheme only; the shop chooses it."),
        _("Figures from memory or second hand need a look at the paper before they are relied on."),
        _("Tests with mains applied are for a competent person; local codes come first."),
    ]
