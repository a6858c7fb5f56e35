"""Copper in flexible cords: resistance, current by cross-section, and wire gauge."""

from __future__ import annotations

from math import log, pi, sqrt

import msgspec

from shop.calc.working import Source, Status

# milliohm per metre at 20 C, plain copper, class 5.
MILLIOHM_PER_METRE: dict[float, float] = {
    0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.25: 15.6, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30,
}  # fmt: skip
RESISTANCE_SOURCE = Source(
    "IEC 60228 class 5, plain copper at 20 C",
    Status.SECOND_HAND,
    "mycableengineering.com/knowledge-base/iec-60228-dc-resistance",
)
# The same, tinned copper.
TINNED_MILLIOHM_PER_METRE: dict[float, float] = {
    0.5: 40.1, 0.75: 26.7, 1.0: 20.0, 1.5: 13.7, 2.5: 8.21,
}  # fmt: skip
RESISTANCE_1_25 = Source("1.25 mm²: not in IEC 60228, 19.5 / 1.25", Status.FROM_MEMORY)
RESISTANCE_BETWEEN = Source("Other sizes: 19.5 mohm mm2/m over the area", Status.COMPUTED)
TEMPERATURE_COEFFICIENT = 0.00393


def ohm_per_metre(square_millimetre: float, celsius: float = 20.0) -> float:
    """Resistance of one core in ohm per metre.

    Table of IEC 60228 class 5; sizes between are 19.5 / area. Times 1 + 0.00393 (T - 20).
    """
    milliohm = MILLIOHM_PER_METRE.get(square_millimetre, 19.5 / square_millimetre)
    return milliohm / 1000 * (1 + TEMPERATURE_COEFFICIENT * (celsius - 20))


class CordSize(msgspec.Struct, frozen=True):
    """Current a cord of this size may serve, in ampere; None where the column has no row.

    `iec` is the upper end of the appliance current, `iec_short` the same for cords up to 2 m,
    `maker` what a maker of PVC cords prints.
    """

    square_millimetre: float
    iec: float | None
    iec_short: float | None
    uk: float
    maker: float | None = None


CORD_SIZES: tuple[CordSize, ...] = (
    # 0.5 mm2 is for cords up to 2 m only, so it stands in the short column alone.
    CordSize(0.5, None, 3, 3, 4),
    CordSize(0.75, 6, 10, 6, 7),
    CordSize(1.0, 10, 16, 10, 12),
    CordSize(1.25, None, None, 13),
    CordSize(1.5, 16, None, 15, 15),
    CordSize(2.5, 25, None, 20, 20),
    CordSize(4.0, 32, None, 25, 27),
)
MAKER_CORD_SOURCE = Source(
    "A cord maker's sheet: current of PVC cords", Status.SECOND_HAND, "darshancable.com/Y_flexible"
)
IEC_CORD_SOURCE = Source(
    "IEC 60335-1 table 11: cross-section by appliance current",
    Status.VERIFIED,
    "manualslib.mx/manual/604986 page 87",
)
SHORT_CORD_SOURCE = Source(
    "IEC 60335-1 part-2 standards and EN 60320: 0.75 mm2 to 10 A and 1.0 mm2 to 16 A up to 2 m",
    Status.SECOND_HAND,
    "bbs.wtoqc.net thread 66899; diynot.com/diy/threads/rating-of-flexible-cable.521339/page-2",
)
UK_CORD_SOURCE = Source(
    "Current of flexible cords, UK convention",
    Status.SECOND_HAND,
    "diynot.com/pages/el/el003.php; diynot.com/pages/el/el004.php",
)


class AwgSize(msgspec.Struct, frozen=True):
    """NEC table 400.5(A): ampere for two (column B) and three (column A) loaded cores."""

    awg: int
    square_millimetre: float
    milliohm_per_metre: float
    two_cores: float
    three_cores: float


AWG_SIZES: tuple[AwgSize, ...] = (
    AwgSize(18, 0.823, 20.95, 10, 7),
    AwgSize(17, 1.04, 16.61, 12, 9),
    AwgSize(16, 1.31, 13.17, 13, 10),
    AwgSize(14, 2.08, 8.29, 18, 15),
    AwgSize(12, 3.31, 5.21, 25, 20),
)
AWG_SOURCE = Source(
    "NEC table 400.5(A) column B, two current-carrying cores",
    Status.VERIFIED,
    "bbs.angui.org/thread-1137-2-1.html",
)
AWG_THREE_SOURCE = Source("NEC table 400.5(A) column A, three cores", Status.FROM_MEMORY)


# Number of the gauge to copper: d = 0.127 mm x 92^((36 - n) / 39), r = 17.241 mohm mm2/m / area.
MILLIOHM_MM2_PER_METRE = 17.241
GAUGE_SOURCE = Source("d = 0.127 mm × 92^((36 − n) / 39), r = 17.241 / A at 20 °C", Status.COMPUTED)


def millimetre_of_awg(awg: float) -> float:
    """Diameter of a solid wire in mm by its gauge number. d = 0.127 x 92^((36 - n) / 39)."""
    return 0.127 * float(92 ** ((36 - awg) / 39))


def mm2_of_awg(awg: float) -> float:
    """Copper area in mm2 by gauge number."""
    return pi / 4 * millimetre_of_awg(awg) ** 2


def awg_of_mm2(square_millimetre: float) -> float:
    """The gauge number of an area, with decimals: 0.823 mm2 is 18.0."""
    diameter = sqrt(4 * square_millimetre / pi)
    return 36 - 39 * log(diameter / 0.127) / log(92)
