"""Copper in flexible cords: resistance, current by cross-section, and core colours."""

from __future__ import annotations

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

    `iec` is the upper end of the appliance current, `iec_short` the same for cords up to 2 m.
    """

    square_millimetre: float
    iec: float | None
    iec_short: float | None
    uk: float


CORD_SIZES: tuple[CordSize, ...] = (
    # 0.5 mm2 is for cords up to 2 m only, so it stands in the short column alone.
    CordSize(0.5, None, 3, 3),
    CordSize(0.75, 6, 10, 6),
    CordSize(1.0, 10, 16, 10),
    CordSize(1.25, None, None, 13),
    CordSize(1.5, 16, None, 15),
    CordSize(2.5, 25, None, 20),
    CordSize(4.0, 32, None, 25),
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


class CoreColours(msgspec.Struct, frozen=True):
    """Colours of line, neutral and protective core in one country and time."""

    where: str
    line: str
    neutral: str
    earth: str
    status: Status


_SEEN, _MEMORY = Status.SECOND_HAND, Status.FROM_MEMORY
CORE_COLOURS: tuple[CoreColours, ...] = (
    CoreColours("IEC 60445, Europe", "brown", "light blue", "green/yellow", _SEEN),
    CoreColours("North America", "black", "white or grey", "green or green/yellow", _SEEN),
    CoreColours("UK, Ireland, Australia before 1969", "red", "black", "green", _SEEN),
    CoreColours("Germany, old", "grey or black", "black or grey", "red", _SEEN),
    CoreColours("Belgium, old", "red, yellow or blue", "grey", "black", _SEEN),
    CoreColours("Netherlands, old", "any but grey or red", "red", "grey", _SEEN),
    CoreColours("Russia, old", "red", "grey", "black", _SEEN),
    CoreColours("Switzerland, old", "red", "grey", "yellow or yellow/red", _SEEN),
    CoreColours("Sweden, Finland, Norway, Austria, old", "", "", "red", _SEEN),
    CoreColours("Poland, old", "", "", "grey", _SEEN),
)
COLOUR_SOURCE = Source(
    "IEC 60445 and older national core colours",
    Status.SECOND_HAND,
    "electrical-contractor.net/forums/ubbthreads.php/posts/133586.html",
)
