"""Appliance couplers of IEC 60320-1: which inlet carries what, at what pin temperature."""

from __future__ import annotations

import msgspec

from shop.calc.working import Source, Status


class Coupler(msgspec.Struct, frozen=True):
    """A connector and its inlet; pin temperature in C.

    `north_american_ampere` is the rating of the same shape at 125 V there, None where not known.
    """

    connector: str
    inlet: str
    protection_class: str
    ampere: float
    pin_celsius: float
    north_american_ampere: float | None = None


COUPLERS: tuple[Coupler, ...] = (
    Coupler("C1", "C2", "II", 0.2, 70),
    Coupler("C5", "C6", "I", 2.5, 70, 7),
    Coupler("C7", "C8", "II", 2.5, 70, 7),
    Coupler("C9", "C10", "II", 6, 70),
    Coupler("C13", "C14", "I", 10, 70, 15),
    Coupler("C15", "C16", "I", 10, 120),
    Coupler("C15A", "C16A", "I", 10, 155),
    Coupler("C17", "C18", "II", 10, 70),
    Coupler("C19", "C20", "I", 16, 70, 20),
    Coupler("C21", "C22", "I", 16, 155),
    Coupler("C23", "C24", "II", 16, 70),
)
COUPLER_SOURCE = Source(
    "IEC 60320-1 (AS/NZS 60320.1:2004): couplers by class, current and pin temperature",
    Status.SECOND_HAND,
    "accesscomms.com.au/reference/IEC320.htm",
)

AMERICAN_SOURCE = Source(
    "North America: C5 and C7 7 A at 125 V",
    Status.SECOND_HAND,
    "blog.stayonline.com/2026/01/12/What-is-an-IEC-60320-connector.html",
)
AMERICAN_MEMORY = Source("North America (UL 60320): C13 15 A, C19 20 A", Status.FROM_MEMORY)
MATING_SOURCE = Source(
    "A connector may feed an inlet of equal or lower temperature, never the reverse",
    Status.SECOND_HAND,
    "netipedia.com/index.php/IEC_connector",
)


def inlets_for(protection_class: str, ampere: float, pin_celsius: float) -> list[Coupler]:
    """Inlets that carry this current at this pin temperature, the closest first.

    Class 0 and III units have no inlet in the table. Source: IEC 60320-1 (second-hand).
    """
    fitting = [
        coupler
        for coupler in COUPLERS
        if coupler.protection_class == protection_class
        and coupler.ampere >= ampere
        and coupler.pin_celsius >= pin_celsius
    ]
    return sorted(fitting, key=lambda coupler: (coupler.ampere, coupler.pin_celsius))


def may_feed(connector: str, inlet: str) -> bool:
    """Whether a connector may go on an inlet: same shape family, equal or higher temperature class.

    A hot connector (C15) fits the cool inlet (C14), never the reverse. KeyError for unknown names.
    """
    by_connector = {coupler.connector: coupler for coupler in COUPLERS}
    by_inlet = {coupler.inlet: coupler for coupler in COUPLERS}
    one, other = by_connector[connector], by_inlet[inlet]
    same_family = (one.protection_class, one.ampere) == (other.protection_class, other.ampere)
    return same_family and one.pin_celsius >= other.pin_celsius
