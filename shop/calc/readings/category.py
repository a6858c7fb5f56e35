"""Whether a meter may be connected here: measurement category and rated voltage."""

from __future__ import annotations

from math import ceil
from typing import Annotated, Final, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import MainsVolt, fit
from shop.calc.registry import calculator
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

Place = Literal["behind_transformer", "socket_or_appliance", "building_wiring", "origin"]
MeterCategory = Literal["none", "cat_ii", "cat_iii", "cat_iv"]
CATEGORIES: Final[tuple[MeterCategory, ...]] = ("none", "cat_ii", "cat_iii", "cat_iv")
CATEGORY_NAMES: Final[dict[MeterCategory, str]] = {
    "none": gettext_noop("no category"),
    "cat_ii": "CAT II",
    "cat_iii": "CAT III",
    "cat_iv": "CAT IV",
}
NEEDED: Final[dict[Place, MeterCategory]] = {
    "behind_transformer": "none",
    "socket_or_appliance": "cat_ii",
    "building_wiring": "cat_iii",
    "origin": "cat_iv",
}
PLACE_LABELS: Final = {
    "behind_transformer": "isolated from the mains, behind a transformer",
    "socket_or_appliance": "mains side of an appliance, socket outlet",
    "building_wiring": "building wiring, distribution board",
    "origin": "where the supply enters the building",
}
# Highest voltage to earth: peak volt of the impulse and r.m.s. volt of the 5 s test, CAT II to IV.
TESTS: Final[dict[int, dict[MeterCategory, tuple[int, int]]]] = {
    150: {"cat_ii": (1550, 840), "cat_iii": (2500, 1390), "cat_iv": (4000, 2210)},
    300: {"cat_ii": (2500, 1390), "cat_iii": (4000, 2210), "cat_iv": (6000, 3310)},
    600: {"cat_ii": (4000, 2210), "cat_iii": (6000, 3310), "cat_iv": (8000, 4260)},
    1000: {"cat_ii": (6000, 3310), "cat_iii": (8000, 4260), "cat_iv": (12000, 6600)},
}


class CategoryIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Where the meter is to be connected, and what is printed beside its jacks."""

    place: Annotated[
        Place,
        Meta(
            title="Where",
            description="what the two points hang on",
            extra_json_schema={"x-labels": PLACE_LABELS},
        ),
    ]
    to_earth_volt: Annotated[
        MainsVolt,
        Meta(
            title="Voltage to earth",
            description="highest at either point, 1 to 1000; rectified mains counts 1.41-fold",
        ),
    ]
    meter_category: Annotated[
        MeterCategory,
        Meta(
            title="Category of the meter",
            description="printed beside the jacks; the leads and probes have their own",
            extra_json_schema={"x-labels": CATEGORY_NAMES},
        ),
    ]
    meter_volt: Annotated[
        float,
        Meta(ge=1, le=1000, title="Voltage beside it", description="rated volt of that category"),
    ]


class Category(msgspec.Struct, frozen=True):
    """Whether it may be connected, what is needed, and what the rating was tested with."""

    may_connect: bool
    needed_category: MeterCategory
    needed_volt: int
    impulse_volt: int | None
    test_5_s_volt: int | None


@calculator(
    "readings.category",
    "Meter and measurement category",
    question="May I connect this meter here?",
    # A meter's manual: a 600 V CAT II device passed 4000 V impulse and 2210 V for 5 s.
    example={
        "place": "socket_or_appliance",
        "to_earth_volt": 230,
        "meter_category": "cat_ii",
        "meter_volt": 600,
    },
)
def category(given: CategoryIn) -> Answer[Category]:
    """The verdict, with the tests behind the rating. REFUSE where the meter falls short.

    Warns where its volts would do, but are below the row of the table (300 V at 230 V mains).

    Units: V. Source: IEC 61010-2-030 as a meter's manual prints it.
    """
    given = fit(given)
    if given.meter_category != "none" and given.meter_volt < min(TESTS):
        reason = _("A category is rated for 150 V or more.")
        raise BadInput("meter_volt", reason, "below_range")
    faults = _faults(given)
    value = _value(given, may_connect=not faults)
    good = _("The meter may be connected here, with leads and probes of the same rating.")
    working = Working(_lines(given, value), SOURCES, [*faults, *_cautions(given)])
    if faults:
        return Answer(Outcome.REFUSE, faults[0], value, working)
    if given.meter_volt < value.needed_volt:
        text = _("The next rating up is {volt} V: rather take a meter of that.",
                 volt=value.needed_volt)  # fmt: skip
        return Answer(Outcome.WARN, f"{good} {text}", value, working)
    return Answer(Outcome.OK, good, value, working)


def _faults(given: CategoryIn) -> list[str]:
    needed = NEEDED[given.place]
    faults = []
    if CATEGORIES.index(given.meter_category) < CATEGORIES.index(needed):
        names = {
            "needed": _(CATEGORY_NAMES[needed]),
            "has": _(CATEGORY_NAMES[given.meter_category]),
        }
        faults.append(_("Do not connect it: {needed} is needed, the meter has {has}.", **names))
    if given.meter_volt < given.to_earth_volt:
        faults.append(
            _("Do not connect it: {volt:g} V to earth is above the meter's {rated:g} V.",
              volt=given.to_earth_volt, rated=given.meter_volt)
        )  # fmt: skip
    return faults


def _value(given: CategoryIn, *, may_connect: bool) -> Category:
    needed_volt = next(row for row in TESTS if given.to_earth_volt <= row)
    if NEEDED[given.place] == "none":  # the rows are those of the categories
        needed_volt = ceil(given.to_earth_volt)
    rated = max((row for row in TESTS if row <= given.meter_volt), default=min(TESTS))
    impulse, test = TESTS[rated].get(given.meter_category, (None, None))
    return Category(may_connect, NEEDED[given.place], needed_volt, impulse, test)


def _lines(given: CategoryIn, value: Category) -> list[Line]:
    needed = f"{_(CATEGORY_NAMES[value.needed_category])} {value.needed_volt} V"
    has = f"{_(CATEGORY_NAMES[given.meter_category])} {given.meter_volt:g} V"
    lines = [
        Line(_("needed"), f"{_(PLACE_LABELS[given.place])}, {given.to_earth_volt:g} V", needed),
        Line(_("meter"), _("as printed beside the jacks"), has),
    ]
    if value.impulse_volt is not None:
        tests = _("{impulse} V impulse, {test} V for 5 s", impulse=value.impulse_volt,
                  test=value.test_5_s_volt)  # fmt: skip
        lines.append(Line(_("tested with"), has, tests))
    return lines


def _cautions(given: CategoryIn) -> list[str]:
    cautions = [_("Leads, probes and fuses inside the meter must have the rating too.")]
    if given.place == "behind_transformer":
        cautions.append(_("A live chassis is not behind a transformer: it is the mains."))
    else:
        cautions.append(_("Work on live mains only as local rules and your training allow."))
        if given.meter_volt < 600 or given.meter_category in ("none", "cat_ii"):
            cautions.append(_("Many shops ask for 600 V CAT III on the mains side."))
    return cautions


SOURCES: Final = [
    Source("impulse and 5 s tests by category and voltage to earth", Status.SECOND_HAND,
           "IEC 61010-2-030 as quoted in a meter's manual at manualshive.com"),
    Source("what belongs to which category", Status.SECOND_HAND,
           "IEC 61010-2-030 as quoted in two meters' manuals"),
    Source("at least 300 V CAT II at 230 V; 600 V CAT III on the mains side", Status.PROPOSED),
]  # fmt: skip
