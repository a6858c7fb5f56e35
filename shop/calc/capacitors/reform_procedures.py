"""Published ways to re-form an electrolytic that lay idle, each as its source has it.

They disagree on resistor and time, so they stand side by side. MIL-HDBK-1131 is known here only by
what others say of it (10 mA), so it is named and not built in.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import msgspec

from shop.calc.words import _
from shop.calc.working import Source, Status

MINUTE: Final = 60.0
HOUR: Final = 3600.0


class Stage(msgspec.Struct, frozen=True):
    """A supply voltage and how long to hold it; two times where the source gives a span."""

    volt: float
    seconds: float
    most_seconds: float | None = None


class Procedure(msgspec.Struct, frozen=True):
    """One source's way. No stages: not needed, or it gives no times; `remark` says which.

    `resistor_ohm` None: the source names none. `short_watt` is what the resistor takes if the part
    is a short, `short_ampere` the current then.
    """

    name: str
    status: Status
    at: str
    stages: list[Stage]
    remark: str
    resistor_ohm: float | None = None
    short_watt: float | None = None
    short_ampere: float | None = None


class Part(msgspec.Struct, frozen=True):
    """What the procedures ask about: rated volts, years idle."""

    rated_volt: float
    idle_years: float


def procedures(part: Part) -> list[Procedure]:
    """Every published procedure for a part, in the order of the table."""
    return [write(part) for write in _ALL]


def _made(
    part: Part,
    name: str,
    source: Source,
    stages: list[Stage],
    remark: str,
    ohm: float | None = None,
    supply_volt: float | None = None,
) -> Procedure:
    volt = supply_volt or part.rated_volt
    watt = None if ohm is None else volt**2 / ohm
    ampere = None if ohm is None else volt / ohm
    return Procedure(name, source.status, source.at, stages, remark, ohm, watt, ampere)


def _eia(part: Part) -> Procedure:
    ohm = 100.0 if part.rated_volt <= 100 else 1000.0
    remark = _("Discharge through about 1 ohm per volt, then let it rest for 12 to 48 h.")
    return _made(part, "EIA-815 (1999)", EIA, [Stage(part.rated_volt, HOUR)], remark, ohm)


def _seventies(part: Part) -> Procedure:
    remark = _("For parts of the 1970s or earlier.")
    stages = [Stage(part.rated_volt, HOUR)]
    return _made(part, _("encyclopaedia"), ENCYCLOPAEDIA, stages, remark, 1000.0)


def maker_ohm(rated_volt: float) -> float:
    """10 kohm to 75 V, 100 kohm above: a maker's advice of 1993."""
    return 10e3 if rated_volt <= 75 else 100e3


def _maker_1993(part: Part) -> Procedure:
    shelf = ((1, _("no need by this source")), (3, _("test it first")), (10, _("usually needed")))
    said = next((text for years, text in shelf if part.idle_years <= years), None)
    remark = _("Raise slowly, at most 1 mA; then 4 h or more at rated volts, and test again. Idle "
               "for {years:g} years: {said}.", years=part.idle_years,
               said=said or _("past its end by this source"))  # fmt: skip
    stages = [Stage(part.rated_volt, 4 * HOUR)]
    return _made(part, _("a maker, 1993"), MAKER_1993, stages, remark, maker_ohm(part.rated_volt))


def _by_months(part: Part) -> Procedure:
    seconds = 5 * MINUTE + MINUTE * 12 * part.idle_years
    remark = _("5 minutes and 1 more for every month idle; through a resistor it does not name.")
    return _made(part, _("rule by months"), BY_MONTHS, [Stage(part.rated_volt, seconds)], remark)


def _thirty_minutes(part: Part) -> Procedure:
    stages = [Stage(part.rated_volt, 30 * MINUTE)]
    return _made(part, _("half an hour"), THIRTY_MINUTES, stages, _("At rated volts."), 1000.0)


def _can_reformer(part: Part) -> Procedure:
    remark = _("450 V regulated, 5 mA into a short, 2 to 3 mA at first; it gives no times.")
    if part.rated_volt < 450:
        remark += " " + _("Not for this part: its rating is below 450 V.")
        return _made(part, _("can re-former"), CAN_REFORMER, [], remark)
    return _made(part, _("can re-former"), CAN_REFORMER, [], remark, 90e3, 450.0)


def _drives_a(part: Part) -> Procedure:
    volt, half = part.rated_volt, 30 * MINUTE
    if part.idle_years < 2:
        stages, remark = [], _("Under 2 years: none needed.")
    elif part.idle_years <= 3:
        stages, remark = [Stage(volt, half)], _("2 to 3 years: rated volts, no load.")
    else:
        stages = [Stage(volt * share, half) for share in (0.5, 0.75, 1.0)]
        remark = _("Over 3 years: in three steps.")
    return _made(part, _("motor drives, A"), DRIVES_A, stages, remark)


def _drives_b(part: Part) -> Procedure:
    if part.idle_years < 1:
        return _made(part, _("motor drives, B"), DRIVES_B, [], _("Under 12 months: none needed."))
    must = _("must be done") if part.idle_years > 2 else _("said to help")
    remark = _("First step at 30 to 50 %. Idle for {years:g} years: {must}.",
               years=part.idle_years, must=must)  # fmt: skip
    stages = [
        Stage(0.3 * part.rated_volt, HOUR, 2 * HOUR),
        Stage(0.7 * part.rated_volt, HOUR, 2 * HOUR),
        Stage(part.rated_volt, 2 * HOUR, 4 * HOUR),
    ]
    return _made(part, _("motor drives, B"), DRIVES_B, stages, remark)


def _drives_c(part: Part) -> Procedure:
    below = [100.0 * step for step in range(1, 21) if 100.0 * step < part.rated_volt]
    stages = [Stage(volt, 5 * MINUTE, 10 * MINUTE) for volt in below]
    stages.append(Stage(part.rated_volt, 15 * MINUTE))
    return _made(part, _("motor drives, C"), DRIVES_C, stages, _("In steps of 100 V."))


_ALL: Final[tuple[Callable[[Part], Procedure], ...]] = (
    _eia, _seventies, _maker_1993, _by_months, _thirty_minutes, _can_reformer, _drives_a,
    _drives_b, _drives_c,
)  # fmt: skip

EIA: Final = Source(
    "rated volts, 100 ohm to 100 V, 1000 ohm above, 1 h", Status.SECOND_HAND,
    "EIA-815 (1999): globalstandardslibrary.com/product/ecia-eia-815",
)  # fmt: skip
ENCYCLOPAEDIA: Final = Source(
    "rated volts through about 1 kohm, 1 h, for parts of the 1970s or earlier", Status.SECOND_HAND,
    "encyclopaedia article on aluminium electrolytic capacitors",
)  # fmt: skip
MAKER_1993: Final = Source(
    "10 or 100 kohm, at most 1 mA, 4 h at rated volts", Status.SECOND_HAND,
    "a maker's advice of 1993 on a radio amateur's page",
)  # fmt: skip
BY_MONTHS: Final = Source(
    "5 minutes + 1 minute for each month", Status.SECOND_HAND,
    "konferencjaskd2024.pl/08_11_17_9641.html, a collected page",
)  # fmt: skip
THIRTY_MINUTES: Final = Source(
    "30 minutes through 1 kohm at rated volts", Status.SECOND_HAND,
    "allpcb.com/sns/electroytic-capacitor-shelf-life-definit_3949.html",
)  # fmt: skip
CAN_REFORMER: Final = Source(
    "450 V, 90 kohm, 5 mA into a short", Status.SECOND_HAND,
    "mail-archive.com/amradio@mailman.qth.net/msg21215.html",
)  # fmt: skip
DRIVES_A: Final = Source(
    "none, 30 minutes, or three steps of 30 minutes", Status.SECOND_HAND,
    "a forum that quotes a bulletin for motor drives",
)  # fmt: skip
DRIVES_B: Final = Source(
    "30 to 50 %, 70 %, 100 %, up to 8 h", Status.SECOND_HAND,
    "industrialmonitordirect.com: shelf life and reforming of drive capacitors",
)  # fmt: skip
DRIVES_C: Final = Source(
    "100 V steps of 5 to 10 minutes, then 15", Status.SECOND_HAND,
    "swirlzcupcakes.com/samples/what-is-capacitor-reforming, a collected page",
)  # fmt: skip
EVERY_SOURCE: Final = [
    EIA, ENCYCLOPAEDIA, MAKER_1993, BY_MONTHS, THIRTY_MINUTES, CAN_REFORMER, DRIVES_A, DRIVES_B,
    DRIVES_C,
]  # fmt: skip
