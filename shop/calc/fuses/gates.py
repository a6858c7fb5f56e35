"""What a fuse must carry, must open at, and can break: limits by standard sheet."""

from __future__ import annotations

from typing import Literal

import msgspec

from shop.calc.working import Source, Status


class Gate(msgspec.Struct, frozen=True):
    """Pre-arcing time limits at 23 C, in seconds, for rated currents from `low` to `high` mA.

    Pairs are (minimum, maximum) at 2.75, 4 and 10 times the rated current; None is no limit. At
    1.5 times every sheet must hold at least an hour.
    """

    sheet: int
    kind: str
    low_milliampere: float
    high_milliampere: float
    at_2_1_max: float
    at_2_75: tuple[float, float]
    at_4: tuple[float, float]
    at_10: tuple[float | None, float]
    status: Status


HOLD_AT_1_5_SECOND = 3600.0
_SEEN, _MEMORY = Status.SECOND_HAND, Status.FROM_MEMORY
GATES: tuple[Gate, ...] = (
    Gate(2, "FL", 32, 100, 1800, (0.010, 0.5), (0.003, 0.1), (None, 0.020), _SEEN),
    Gate(2, "FL", 125, 10000, 1800, (0.050, 2), (0.010, 0.3), (None, 0.020), _SEEN),
    Gate(1, "FH", 50, 3150, 1800, (0.010, 2), (0.003, 0.3), (None, 0.020), _MEMORY),
    Gate(1, "FH", 4000, 6300, 1800, (0.010, 3), (0.003, 0.3), (None, 0.020), _MEMORY),
    Gate(1, "FH", 8000, 10000, 1800, (0.040, 20), (0.010, 1), (None, 0.030), _MEMORY),
    Gate(3, "TL", 32, 100, 120, (0.200, 10), (0.040, 3), (0.010, 0.3), _MEMORY),
    Gate(3, "TL", 125, 10000, 120, (0.600, 10), (0.150, 3), (0.020, 0.3), _MEMORY),
    Gate(6, "TE", 32, 100, 120, (0.200, 10), (0.040, 3), (0.010, 0.3), _MEMORY),
    Gate(6, "TE", 125, 10000, 120, (0.600, 10), (0.150, 3), (0.020, 0.3), _MEMORY),
    Gate(5, "TH", 1000, 3150, 1800, (0.750, 80), (0.095, 5), (0.010, 0.1), _MEMORY),
    Gate(5, "TH", 4000, 10000, 1800, (0.750, 80), (0.150, 5), (0.010, 0.1), _MEMORY),
)
GATE_SOURCE = Source(
    "IEC 60127-2 sheet 2 time gates; hold at 1.5 times for an hour",
    Status.SECOND_HAND,
    "blog.csdn.net/weixin_39958911/article/details/111836789",
)
GATE_MEMORY = Source("IEC 60127-2 sheets 1, 3, 5 and 6 time gates", Status.FROM_MEMORY)
BREAKING_SOURCE = Source(
    "IEC 60127-2: L breaks 35 A or 10 times its current, E 150 A, H 1500 A at 250 V a.c.",
    Status.SECOND_HAND,
    "github.com/MakersWorkbench/component-marking-decoder/wiki/Fuse",
)
UL_GATE_SOURCE = Source(
    "UL 248-14: carries 100 %, opens at 135 % within an hour and at 200 % within 2 minutes",
    Status.SECOND_HAND,
    "a fuse maker's selection guide, page 12",
)
UL_DELAY_SOURCE = Source(
    "UL 248-14, time-delay: at 200 % holds 5 s up to 3 A, 12 s from 3.15 A to 10 A",
    Status.SECOND_HAND,
    "blog.csdn.net/weixin_39958911/article/details/111836789",
)
UL_BREAKING_SOURCE = Source(
    "UL 248-14: 10 kA at 125 V; at 250 V 35 A to 1500 A by rated current",
    Status.SECOND_HAND,
    "a fuse maker's selection guide, page 12",
)


def breaking_capacity_ampere(letter: Literal["L", "E", "H"], rated_ampere: float) -> float:
    """Breaking capacity at 250 V a.c. in ampere. Source: IEC 60127-2, sheets 1 to 6."""
    return {"L": max(35.0, 10 * rated_ampere), "E": 150.0, "H": 1500.0}[letter]


def gate_for(characteristic: str, letter: str, milliampere: float) -> Gate | None:
    """The row of time limits for this fuse, or None where no sheet covers it."""
    for gate in GATES:
        fits = gate.low_milliampere <= milliampere <= gate.high_milliampere
        if fits and gate.kind == characteristic + letter:
            return gate
    return None


def ul_breaking_ampere(rated_ampere: float, volt: int) -> float | None:
    """Interrupting rating at 125 or 250 V a.c. in ampere; None where the table has no row.

    Source: UL 248-14 (second-hand).
    """
    if volt <= 125:
        return 10000.0
    if volt > 250:
        return None
    steps = ((1.0, 35.0), (3.5, 100.0), (10.0, 200.0), (15.0, 750.0), (30.0, 1500.0))
    return next((breaks for upto, breaks in steps if rated_ampere <= upto), None)


def ul_must_open(rated_ampere: float) -> tuple[float, float]:
    """Currents at which a UL fuse up to 30 A opens within an hour and within two minutes.

    Source: UL 248-14 (second-hand).
    """
    return 1.35 * rated_ampere, 2.0 * rated_ampere
