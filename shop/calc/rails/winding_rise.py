"""How warm a winding is inside, from its resistance cold and hot.

The mean temperature follows the resistance: (R2 / R1) (k + t1) - k, with k = 234.5 for copper.
Rise over the room: (R2 - R1) / R1 (k + t1) - (t2 - t1), t2 being the room at the end.
Units: ohm, degree Celsius, kelvin. Source: the resistance method of IEC 60034-1 and IEC 61558-1.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Final, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import Celsius, fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

CONSTANT: Final = {"copper": 234.5, "aluminium": 225.0}
CLASS_CELSIUS: Final = {"A": 105.0, "E": 120.0, "B": 130.0, "F": 155.0, "H": 180.0}
# An old transformer that does not tell its class is best taken as the lowest; a proposal.
OLD_CELSIUS: Final = CLASS_CELSIUS["A"]
# The inside of a winding is warmer than its mean.
HOT_SPOT_KELVIN: Final = 10.0
WARMEST_ROOM_CELSIUS: Final = 40.0
# What two resistance readings and a thermometer may be off together.
READING_KELVIN: Final = 2.0
# Enamel of any class is gone by then: one of the readings is not of this winding.
MOST_CELSIUS: Final = 300.0

EXAMPLE = {
    "cold_ohm": 80,
    "cold_celsius": 20,
    "hot_ohm": 100,
    "room_celsius": 20,
    "insulation_class": "B",
}


class Metal(StrEnum):
    """What the winding is wound of."""

    COPPER = "copper"
    ALUMINIUM = "aluminium"


WindingOhm = Annotated[float, Meta(ge=1e-4, le=1e6)]


class WindingRiseIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One winding, unplugged, measured cold and again straight after it ran."""

    cold_ohm: Annotated[
        WindingOhm,
        Meta(title="Cold resistance", description="after a night in the room, d.c., four wires"),
    ]
    cold_celsius: Annotated[
        Celsius, Meta(title="Winding cold", description="degree Celsius of room and winding then")
    ]
    hot_ohm: Annotated[
        WindingOhm,
        Meta(title="Hot resistance", description="within seconds of unplugging, same leads"),
    ]
    room_celsius: Annotated[
        Celsius, Meta(title="Room at the end", description="degree Celsius beside the unit")
    ]
    insulation_class: Annotated[
        Literal["A", "E", "B", "F", "H"] | None,
        Meta(
            title="Insulation class",
            description="from the label; A is the safe guess for an old transformer without one",
        ),
    ] = None
    metal: Annotated[Metal, Meta(title="Wire", description="copper, but for some late parts")] = (
        Metal.COPPER
    )
    warmest_room_celsius: Annotated[
        Celsius,
        Meta(title="Warmest room", description="in which it must run, degree Celsius: a full rack"),
    ] = WARMEST_ROOM_CELSIUS


class WindingRise(msgspec.Struct, frozen=True):
    """Mean temperature, rise over the room, and what it would be in the warmest room.

    `hot_spot_celsius` is the mean in the warmest room and 10 K more; `margin_kelvin` is what the
    class leaves above that, None without a class.
    """

    mean_celsius: float
    rise_kelvin: float
    in_warmest_room_celsius: float
    hot_spot_celsius: float
    limit_celsius: float | None
    margin_kelvin: float | None


def mean_celsius(cold_ohm: float, cold_celsius: float, hot_ohm: float, k: float) -> float:
    """Mean temperature of the hot winding: (R2 / R1) (k + t1) - k."""
    return hot_ohm / cold_ohm * (k + cold_celsius) - k


@calculator(
    "rails.winding_rise",
    "Temperature rise of a winding",
    question="How warm does this winding get inside, and does its insulation stand it?",
    example=EXAMPLE,
)
def winding_rise(given: WindingRiseIn) -> Answer[WindingRise]:
    """Mean temperature and rise by the resistance method, against the insulation class.

    Units: ohm, degree Celsius, kelvin. Formula: T2 = (R2 / R1) (k + T1) - k.
    Raises BadInput if the hot resistance is below the cold one or says more than 300 °C, or the
    winding would be cooler than its room.
    Source: IEC 60034-1 (from memory), UL clause 49.8 as quoted; classes of IEC 60085.
    """
    given = fit(given)
    value = _value(given)
    outcome = _judge(value)
    text = _(
        "{mean:.0f} °C on the mean, {rise:.0f} K above the room.",
        mean=value.mean_celsius,
        rise=value.rise_kelvin,
    )
    return Answer(outcome, f"{text} {_verdict(given, value)}", value, _working(given, value))


def _value(given: WindingRiseIn) -> WindingRise:
    k = CONSTANT[given.metal]
    if given.hot_ohm < given.cold_ohm:
        reason = _("Hot copper has more resistance than cold: are the two readings swapped?")
        raise BadInput("hot_ohm", reason, "below_cold")
    mean = mean_celsius(given.cold_ohm, given.cold_celsius, given.hot_ohm, k)
    if mean > MOST_CELSIUS:
        reason = _("That would be {mean:.0f} °C: read both again, same leads.", mean=mean)
        raise BadInput("hot_ohm", reason, "too_hot")
    rise = mean - given.room_celsius
    if rise < -READING_KELVIN:
        reason = _("The winding would be cooler than the room: was it warm, and is this its room?")
        raise BadInput("room_celsius", reason, "cooler_than_room")
    in_warmest = given.warmest_room_celsius + rise
    limit = CLASS_CELSIUS[given.insulation_class] if given.insulation_class else None
    hot_spot = in_warmest + HOT_SPOT_KELVIN
    margin = None if limit is None else limit - hot_spot
    return WindingRise(mean, rise, in_warmest, hot_spot, limit, margin)


def _judge(value: WindingRise) -> Outcome:
    """Hot spot within the class: ok. Only the mean within it: warn. Else refuse.

    Without a class: ok only if it would do for A, the lowest.
    """
    if value.limit_celsius is None:
        return Outcome.WARN if value.hot_spot_celsius > OLD_CELSIUS + 1e-9 else Outcome.OK
    if value.hot_spot_celsius <= value.limit_celsius + 1e-9:
        return Outcome.OK
    is_mean_within = value.in_warmest_room_celsius <= value.limit_celsius + 1e-9
    return Outcome.WARN if is_mean_within else Outcome.REFUSE


def _verdict(given: WindingRiseIn, value: WindingRise) -> str:
    if value.margin_kelvin is None:
        said = _("Without an insulation class it cannot be judged.")
        over = value.hot_spot_celsius - OLD_CELSIUS
        if over <= 1e-9:
            return said
        more = _("As class A, like most old ones, it is too warm by {over:.0f} K.", over=over)
        return f"{said} {more}"
    if value.margin_kelvin < 0:
        return _(
            "Too warm for class {letter} in a room of {room:.0f} °C, by {over:.0f} K at the hot "
            "spot.",
            letter=given.insulation_class,
            room=given.warmest_room_celsius,
            over=-value.margin_kelvin,
        )
    return _(
        "Class {letter} leaves {margin:.0f} K in a room of {room:.0f} °C.",
        letter=given.insulation_class,
        margin=value.margin_kelvin,
        room=given.warmest_room_celsius,
    )


def _working(given: WindingRiseIn, value: WindingRise) -> Working:
    k = CONSTANT[given.metal]
    lines = [
        Line(
            _("mean temperature"),
            f"{given.hot_ohm:g} / {given.cold_ohm:g} x ({k:g} + {given.cold_celsius:g}) - {k:g}",
            f"{value.mean_celsius:.1f} °C",
        ),
        Line(
            _("rise over the room"),
            f"{value.mean_celsius:.1f} - {given.room_celsius:g}",
            f"{value.rise_kelvin:.1f} K",
        ),
        Line(
            _("hot spot in the warmest room"),
            f"{given.warmest_room_celsius:g} + {value.rise_kelvin:.1f} + {HOT_SPOT_KELVIN:g}",
            f"{value.hot_spot_celsius:.1f} °C",
        ),
    ]
    if value.limit_celsius is not None:
        letter = given.insulation_class
        lines.append(Line(_("insulation class"), f"{letter}", f"{value.limit_celsius:g} °C"))
    return Working(lines, SOURCES, _cautions(), [_disagreement()])


def _cautions() -> list[str]:
    return [
        _("Unplugged and discharged before the ohmmeter is clipped on: a winding hangs on rails."),
        _("Read at once: a small transformer cools by a kelvin every few seconds."),
    ]


def _disagreement() -> str:
    return _("Aluminium: 225 in standards for equipment, 228 on one engineering page.")


SOURCES: Final = [
    Source(
        "resistance method, k = 234.5 for copper and 225 for aluminium",
        Status.SECOND_HAND,
        "clause 49.8 of a UL test standard, www1.woaifanyi.com/Pdd2W-ZBUHA=d",
    ),
    Source(
        "rise = (t1 + 234.5) (R2 - R1) / R1",
        Status.SECOND_HAND,
        "electrical-engineering-portal.com/resources/knowledge/temperature-rise",
    ),
    Source("the method of IEC 60034-1 and IEC 61558-1", Status.FROM_MEMORY),
    Source(
        "classes A 105, E 120, B 130, F 155, H 180 °C at the hot spot, IEC 60085",
        Status.SECOND_HAND,
        "croylek.com/pages/temperature-classes-of-electrical-insulation",
    ),
    Source("hot spot 10 K above the mean; 40 °C as the warmest room", Status.PROPOSED),
    Source("an old transformer without a class is taken as A", Status.PROPOSED),
]
