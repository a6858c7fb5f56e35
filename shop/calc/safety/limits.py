"""The tests of a safety check, in order, with the limits of the shop's scheme."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Metre, PlugLetter, ProtectionClass, SquareMillimetre, fit
from shop.calc.quantities import Quantity
from shop.calc.readings import format_reading
from shop.calc.registry import calculator
from shop.calc.safety.schemes import SCHEMES, Limit, Scheme, SchemeField
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# Plugs that go into their sockets either way round.
REVERSIBLE = frozenset("ACFL")
ORDER_SOURCE = Source("Order of tests, common to all schemes", Status.FROM_MEMORY)
CLASS_SOURCE = Source(
    "IEC 61140: classes of protection", Status.SECOND_HAND, "handwiki.org/wiki/IEC_61140"
)
REVERSIBLE_SOURCE = Source(
    "Plugs C and F fit either way round; A and L too (from memory)", Status.FROM_MEMORY
)
# The units of the schemes: the quantity they measure and the power of ten to its SI unit.
IN_SI = {
    "ohm": (Quantity.RESISTANCE, 0),
    "megohm": (Quantity.RESISTANCE, 6),
    "mA": (Quantity.CURRENT_AC, -3),
}
OURS = Source("Class 0 units: touch current only, said on the record", Status.PROPOSED)


class LimitsIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The scheme, and what of the unit its limits depend on."""

    scheme: SchemeField
    protection_class: ProtectionClass
    cord_length_m: Annotated[
        Metre | None,
        Meta(title="Cord length", description="metre; needed for the earth limit of class I"),
    ] = None
    cord_mm2: Annotated[
        SquareMillimetre | None,
        Meta(title="Cord cross-section", description="mm² of one core; needed for class I"),
    ] = None
    heating_kw: Annotated[
        float,
        Meta(
            ge=0,
            le=50,
            title="Heating elements",
            description="kilowatt of heating elements, 0 for none",
        ),
    ] = 0.0
    plug: Annotated[
        PlugLetter | None,
        Meta(title="Plug letter", description="if left out, both ways round are tried"),
    ] = None
    is_hand_held: Annotated[
        bool, Meta(title="Hand-held", description="held in the hand while in use")
    ] = False
    has_surge_parts: Annotated[
        bool,
        Meta(
            title="Surge parts",
            description="varistors or electronics that 500 V d.c. would harm",
        ),
    ] = False
    two_pin_cord: Annotated[
        bool, Meta(title="Two-pin cord", description="cord without a protective core")
    ] = False


class SafetyTest(msgspec.Struct, frozen=True):
    """One test. `low`/`high` are None where there is no limit on that side or it is looked at only.

    `required` is false where the class has no such test. `orientations` are the ways round the plug
    must be tried.
    """

    key: str
    title: str
    quantity: str
    unit: str
    low: float | None
    high: float | None
    condition: str
    required: bool
    orientations: list[str]
    source: Source


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
    tests = _tests(given, scheme)
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


def _tests(given: LimitsIn, scheme: Scheme) -> list[SafetyTest]:
    return [
        _seen("inspection", _("Inspection"), _("unplugged, cover off and on"), True),
        _earth(given, scheme),
        _insulation(given, scheme),
        _conductor_current(given, scheme),
        _touch_current(given, scheme),
        _polarity(given),
        _seen("function", _("Function"), _("on its own supply"), True),
    ]


def _seen(key: str, title: str, condition: str, required: bool) -> SafetyTest:
    return SafetyTest(
        key, title, "look", "", None, None, condition, required, ["normal"], ORDER_SOURCE
    )


def _earth(given: LimitsIn, scheme: Scheme) -> SafetyTest:
    is_earthed = given.protection_class == "I" and not given.two_pin_cord
    if is_earthed and given.cord_length_m is None:
        raise BadInput(
            "cord_length_m", _("the earth limit of class I depends on the cord's length")
        )
    if is_earthed and given.cord_mm2 is None:
        raise BadInput("cord_mm2", _("the earth limit of class I depends on the cross-section"))
    limit = scheme.earth(given.cord_length_m or 5.0, given.cord_mm2 or 0.75)
    return SafetyTest(
        "protective_earth",
        _("Protective earth"),
        "resistance",
        "ohm",
        None,
        limit.value if is_earthed else None,
        limit.condition,
        is_earthed,
        ["normal"],
        limit.source,
    )


def _insulation(given: LimitsIn, scheme: Scheme) -> SafetyTest:
    found = scheme.insulation(given.protection_class, given.heating_kw)
    limit = found or Limit(0.0, Source(f"{scheme.title}: no figure", Status.FROM_MEMORY))
    gentle = given.has_surge_parts or given.protection_class == "III"
    volt = 250 if gentle else 500
    required = found is not None and given.protection_class != "0"
    return SafetyTest(
        "insulation",
        _("Insulation resistance"),
        "resistance",
        "megohm",
        limit.value if required else None,
        None,
        _("{volt} V d.c., mains switch on, line and neutral joined, unplugged", volt=volt),
        required,
        ["normal"],
        limit.source,
    )


def _conductor_current(given: LimitsIn, scheme: Scheme) -> SafetyTest:
    limit = scheme.conductor_current(given.heating_kw, given.is_hand_held)
    required = given.protection_class == "I" and not given.two_pin_cord
    return SafetyTest(
        "protective_conductor_current",
        _("Protective-conductor current"),
        "current",
        "mA",
        None,
        limit.value if required else None,
        _("mains applied, mains switch on"),
        required,
        orientations(given.plug),
        limit.source,
    )


def _touch_current(given: LimitsIn, scheme: Scheme) -> SafetyTest:
    required = given.protection_class != "III"
    where = (
        _("mains applied, every touchable part that is not earthed")
        if given.protection_class == "I"
        else _("mains applied, every touchable conductive part")
    )
    return SafetyTest(
        "touch_current",
        _("Touch current"),
        "current",
        "mA",
        None,
        scheme.touch_current.value if required else None,
        where,
        required,
        orientations(given.plug),
        scheme.touch_current.source,
    )


def _polarity(given: LimitsIn) -> SafetyTest:
    condition = (
        _("plug fits either way round: no polarity to prove; continuity of both cores")
        if given.plug is None or given.plug in REVERSIBLE
        else _("line to line, neutral to neutral; switch and fuse in the line")
    )
    return _seen("polarity", _("Polarity"), condition, given.protection_class != "III")


def orientations(plug: str | None) -> list[str]:
    """Ways round to try; both when the plug is unknown."""
    if plug is None or plug in REVERSIBLE:
        return ["normal", "reversed"]
    return ["normal"]


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
