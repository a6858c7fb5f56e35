"""The tests of a safety check, each with its limit in one scheme, in the order they are made."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Metre, PlugLetter, ProtectionClass, SquareMillimetre
from shop.calc.safety.schemes import Limit, Scheme, SchemeField
from shop.calc.supplies.plugs import PLUGS
from shop.calc.words import _
from shop.calc.working import BadInput, Source, Status

# Plugs that go into their sockets either way round.
REVERSIBLE = frozenset(letter for letter, plug in PLUGS.items() if plug.fits_both_ways)
ORDER_SOURCE = Source("Order of tests, common to all schemes", Status.FROM_MEMORY)
REVERSIBLE_SOURCE = Source(
    "Plugs C and F fit either way round; A and L too (from memory)", Status.FROM_MEMORY
)


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
        Meta(title="Cord cross-section", description="of one core; needed for class I"),
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


def tests_of(given: LimitsIn, scheme: Scheme) -> list[SafetyTest]:
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


def insulation_volt(protection_class: str, has_surge_parts: bool) -> int:
    """Test voltage in V d.c.: 500, or 250 where it would harm surge parts or safe low voltage."""
    return 250 if has_surge_parts or protection_class == "III" else 500


def _insulation(given: LimitsIn, scheme: Scheme) -> SafetyTest:
    found = scheme.insulation(given.protection_class, given.heating_kw)
    limit = found or Limit(0.0, Source(f"{scheme.title}: no figure", Status.FROM_MEMORY))
    volt = insulation_volt(given.protection_class, given.has_surge_parts)
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
