"""How warm a unit may get in a soak test, and how long and how often to look.

A winding may reach, on the mean, what its class leaves: T = class - 10 K - (warmest room - room).
Its ohms then: R2 / R1 = (k + T) / (k + t1), the resistance method turned round.
Units: degree Celsius, kelvin, watt, second.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import Celsius, fit
from shop.calc.rails.winding_rise import (
    CLASS_CELSIUS,
    CONSTANT,
    HOT_SPOT_KELVIN,
    OLD_CELSIUS,
    WARMEST_ROOM_CELSIUS,
    Metal,
)
from shop.calc.rails.winding_rise import SOURCES as WINDING_SOURCES
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

USUAL_SECONDS: Final = 4 * 3600.0
INTERVAL_SECONDS: Final = 1800.0
IDLE_LOW, IDLE_HIGH = 0.8, 1.2
CASE_RISE_KELVIN, HELD_RISE_KELVIN = 40.0, 30.0
# A room that drifts by more than this makes the cold ohms those of another room.
ROOM_KELVIN: Final = 5.0
# Four wires read down to here; more ohms than this has no winding of a unit on a bench.
LEAST_OHM, MOST_OHM = 0.01, 100_000.0

EXAMPLE = {"room_celsius": 22, "idle_watt": 20, "seconds": 14400}


class SoakIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A unit before it runs for hours, cold, in the room of the test."""

    room_celsius: Annotated[
        Celsius, Meta(title="Room", description="degree Celsius of room and unit before the test")
    ]
    idle_watt: Annotated[
        Annotated[float, Meta(ge=0.01, le=5000)] | None,
        Meta(title="Idle power", description="by the model sheet, W; left out: not judged"),
    ] = None
    rated_watt: Annotated[
        Annotated[float, Meta(ge=0.01, le=5000)] | None,
        Meta(title="Rated power", description="by the rating plate, W; idling is below it"),
    ] = None
    seconds: Annotated[
        float,
        Meta(ge=600, le=172_800, title="Length", description="of the soak; four hours are usual"),
    ] = USUAL_SECONDS
    interval_seconds: Annotated[
        float, Meta(ge=60, le=14_400, title="Every", description="time from reading to reading")
    ] = INTERVAL_SECONDS
    insulation_class: Annotated[
        Literal["A", "E", "B", "F", "H"] | None,
        Meta(title="Insulation class", description="from the label; left out: A"),
    ] = None
    metal: Annotated[Metal, Meta(title="Wire", description="copper, but for some late parts")] = (
        Metal.COPPER
    )
    warmest_room_celsius: Annotated[
        Celsius, Meta(title="Warmest room", description="in which it must run: a full rack")
    ] = WARMEST_ROOM_CELSIUS


class Soak(msgspec.Struct, frozen=True):
    """Limits of the test. `winding_points` are (ohm cold, lowest, highest ohm hot).

    `readings` is how many times to read on the way; idle limits are None without the sheet's.
    """

    seconds: float
    readings: int
    room_low_celsius: float
    room_high_celsius: float
    case_celsius: float
    held_celsius: float
    most_winding_celsius: float
    winding_factor: float
    winding_points: list[tuple[float, float, float]]
    idle_low_watt: float | None
    idle_high_watt: float | None


@calculator(
    "rails.soak",
    "Limits of a soak test",
    question="How warm may this unit get in a soak test, and how often do I read?",
    example=EXAMPLE,
)
def soak(given: SoakIn) -> Answer[Soak]:
    """Length, number of readings, and limits of case, winding and idle power.

    Units: second, degree Celsius, ohm, watt. Formula: head of the module.
    Raises BadInput if the room is so warm that the class leaves the winding nothing.
    Source: `rails.winding_rise`; rises of touchable parts by IEC 60065 (from memory).
    """
    given = fit(given)
    value = _value(given)
    text = _(
        "{hours:.3g} h with {count} readings. Winding at most {winding:.0f} °C on the mean: "
        "{factor:.3f} times its cold ohms. Case at most {case:.0f} °C.",
        hours=value.seconds / 3600,
        count=value.readings,
        winding=value.most_winding_celsius,
        factor=value.winding_factor,
        case=value.case_celsius,
    )
    return Answer(Outcome.OK, text, value, _working(given, value))


def _most_winding(given: SoakIn) -> float:
    limit = CLASS_CELSIUS[given.insulation_class] if given.insulation_class else OLD_CELSIUS
    most = limit - HOT_SPOT_KELVIN - max(given.warmest_room_celsius - given.room_celsius, 0.0)
    if most <= given.room_celsius:
        reason = _("In so warm a room the insulation leaves the winding no rise at all.")
        raise BadInput("room_celsius", reason, "too_warm")
    return most


def _value(given: SoakIn) -> Soak:
    k = CONSTANT[given.metal]
    most = _most_winding(given)
    factor = (k + most) / (k + given.room_celsius)
    return Soak(
        seconds=given.seconds,
        readings=max(1, int(given.seconds // given.interval_seconds)),
        room_low_celsius=given.room_celsius - ROOM_KELVIN,
        room_high_celsius=given.room_celsius + ROOM_KELVIN,
        case_celsius=given.room_celsius + CASE_RISE_KELVIN,
        held_celsius=given.room_celsius + HELD_RISE_KELVIN,
        most_winding_celsius=most,
        winding_factor=factor,
        winding_points=[(ohm, ohm, ohm * factor) for ohm in (LEAST_OHM, MOST_OHM)],
        idle_low_watt=None if given.idle_watt is None else given.idle_watt * IDLE_LOW,
        idle_high_watt=_idle_high(given),
    )


def _idle_high(given: SoakIn) -> float | None:
    """120 % of the sheet's idle power, never above the rating plate."""
    known = [
        watt
        for watt in (given.idle_watt and given.idle_watt * IDLE_HIGH, given.rated_watt)
        if watt is not None
    ]
    return min(known, default=None)


def _working(given: SoakIn, value: Soak) -> Working:
    k = CONSTANT[given.metal]
    letter = given.insulation_class or "A"
    lines = [
        Line(_("readings"), f"{given.seconds:g} s / {given.interval_seconds:g} s",
             str(value.readings)),
        Line(_("room"), f"{given.room_celsius:g} ± {ROOM_KELVIN:g} K",
             f"{value.room_low_celsius:.0f} – {value.room_high_celsius:.0f} °C"),
        Line(_("case"), f"{given.room_celsius:g} + {CASE_RISE_KELVIN:g} K",
             f"{value.case_celsius:.0f} °C"),
        Line(_("handles and knobs"), f"{given.room_celsius:g} + {HELD_RISE_KELVIN:g} K",
             f"{value.held_celsius:.0f} °C"),
        Line(_("winding on the mean, class {letter}", letter=letter),
             _("class less 10 K less what a warmer room adds"),
             f"{value.most_winding_celsius:.1f} °C"),
        Line(_("hot ohms over cold ohms"),
             f"({k:g} + {value.most_winding_celsius:.1f}) / ({k:g} + {given.room_celsius:g})",
             f"{value.winding_factor:.4f}"),
    ]  # fmt: skip
    if value.idle_low_watt is not None and value.idle_high_watt is not None:
        span = f"{value.idle_low_watt:.3g} – {value.idle_high_watt:.3g} W"
        lines.append(Line(_("idle power"), _("the sheet's, 20 % to either side"), span))
    return Working(lines, _SOURCES, _cautions(), [_disagreement()])


def _cautions() -> list[str]:
    return [
        _("Nobody leaves a unit alone on its first soak: stay within sight, smell and hearing."),
        _("Unplugged and discharged before the ohmmeter is clipped on: a winding hangs on rails."),
    ]


def _disagreement() -> str:
    return _(
        "A rise of 40 K on metal is more than a hand likes: one table of burns has 49 °C for more "
        "than five minutes and 60 °C for less than five seconds."
    )


_SOURCES = [
    *WINDING_SOURCES,
    Source("outside in normal use: metal case 40 K, handles and knobs of metal 30 K, IEC 60065",
           Status.FROM_MEMORY),
    Source("49 °C burns after more than 5 min, 60 °C in less than 5 s", Status.SECOND_HAND,
           "mail-archive.com/emc-pstc@listserv.ieee.org/msg08884"),
    Source("four hours, a reading every half hour, a room that stays within 5 K", Status.PROPOSED),
    Source("80 to 120 % of the idle power: 10 % for the specimen, 10 % for 5 % of line",
           Status.PROPOSED),
]  # fmt: skip
