"""The rated currents a miniature fuse can have, and the nearest one by ratio."""

from __future__ import annotations

from collections.abc import Sequence
from math import log

from shop.calc.working import Source, Status

# mA. The 5 x 20 mm sheets end at 10 A; the two above belong to IEC 60127-7 sheet 1.
R10_MILLIAMPERE: tuple[int, ...] = (
    32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000,
    2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
)  # fmt: skip
# mA. Members between the R10 ones that are seen on fuses.
R20_BETWEEN_MILLIAMPERE: tuple[int, ...] = (
    36, 45, 56, 71, 90, 112, 140, 180, 224, 280, 355, 450, 560, 710, 900, 1120, 1400, 1800,
    2240, 2800, 3550, 4500, 5600, 7100, 9000,
)  # fmt: skip
# mA. Ratings in use on North American 6.3 x 32 mm and 5 x 20 mm fuses.
UL_MILLIAMPERE: tuple[int, ...] = (
    31, 62, 63, 100, 125, 150, 187, 188, 200, 250, 300, 315, 375, 400, 500, 600, 630, 700, 750, 800,
    1000, 1250, 1500, 1600, 1800, 2000, 2250, 2500, 3000, 3150, 3200, 3500, 4000, 5000, 6000, 6250,
    6300, 7000, 8000, 10000, 12000, 15000, 20000, 25000, 30000,
)  # fmt: skip
ANY_IEC = tuple(sorted(R10_MILLIAMPERE + R20_BETWEEN_MILLIAMPERE))

SERIES_SOURCE = Source(
    "IEC 60127-1 annex A table A.1 and IEC 60127-7 standard sheet 1: R10 rated currents",
    Status.VERIFIED,
    "ajdocs.ru/gsp/31172/16; 123doc.top/trich-doan/5011623",
)
SERIES_MEMORY = Source(
    "40 mA, the reach of the 5 x 20 mm sheets (32 mA to 10 A), R20 members below 355 mA and "
    "above 1.8 A",
    Status.FROM_MEMORY,
    "IEC 60127-2",
)
UL_SERIES_SOURCE = Source("Ratings in use on UL 248-14 fuses", Status.FROM_MEMORY)


def nearest(milliampere: float, members: Sequence[int] = R10_MILLIAMPERE) -> int:
    """The member nearest by ratio (on a log scale), in mA."""
    return min(members, key=lambda member: abs(log(member / milliampere)))


def around(
    milliampere: float, members: Sequence[int] = R10_MILLIAMPERE
) -> tuple[int | None, int | None]:
    """The next member strictly below and the next strictly above, in mA; None past either end."""
    below = [member for member in members if member < milliampere * (1 - 1e-9)]
    above = [member for member in members if member > milliampere * (1 + 1e-9)]
    return (below[-1] if below else None, above[0] if above else None)


def reaches(milliampere: float) -> bool:
    """Whether the R10 list has a member within half a step (12.2 %) of this current."""
    half_step = 10**0.05
    return R10_MILLIAMPERE[0] / half_step <= milliampere <= R10_MILLIAMPERE[-1] * half_step


def in_words(milliampere: float) -> str:
    """`315 mA`, `3.15 A`."""
    return f"{milliampere:g} mA" if milliampere < 1000 else f"{milliampere / 1000:g} A"
