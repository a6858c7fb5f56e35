"""Tolerance bands of mains supplies by standard or law."""

from __future__ import annotations

import msgspec

from shop.calc.working import Source, Status

_SEEN, _LAW, _MEMORY = Status.SECOND_HAND, Status.VERIFIED, Status.FROM_MEMORY


class Band(msgspec.Struct, frozen=True):
    """Nominal, lowest and highest supply volts with their source."""

    nominal_volt: float
    low_volt: float
    high_volt: float
    source: Source


EU = Band(
    230, 207, 253, Source("IEC 60038: 230 V ± 10 %", _SEEN, "en.wikipedia.org/wiki/IEC_60038")
)
UK = Band(
    230,
    216.2,
    253,
    Source(
        "ESQCR 2002: 230 V +10/−6 %", _LAW, "mail-archive.com/emc-pstc@listserv.ieee.org/msg57189"
    ),
)
UK_BEFORE_1995 = Band(
    240, 225.6, 254.4, Source("Electricity Supply Regulations: 240 V ± 6 %", _SEEN)
)
AU = Band(
    230,
    216.2,
    253,
    Source("AS 60038:2000: 230 V +10/−6 %", _SEEN, "de.scribd.com/document/352323801"),
)
NZ = Band(
    230,
    216.2,
    243.8,
    Source(
        "Electrical (Safety) Regulations 2010 (NZ): 230 V ± 6 %",
        _SEEN,
        "de.scribd.com/document/352323801",
    ),
)
JP = Band(
    100,
    95,
    107,
    Source(
        "Electricity Business Act enforcement regulation (JP): 101 ± 6 V",
        _SEEN,
        "bizboard.nikkeibp.co.jp/kijiken/summary/20090408",
    ),
)
US_A = Band(
    120,
    114,
    126,
    Source(
        "ANSI C84.1 service range A: 114 to 126 V",
        _LAW,
        "COMAR 20.50.07.02: dsd.state.md.us/comar/comarhtml/20/20.50.07.02.htm",
    ),
)
US_B = Band(120, 110, 127, Source("ANSI C84.1 service range B: 110 to 127 V", _MEMORY))

BANDS: dict[str, Band] = {
    "EU": EU,
    "UK": UK,
    "UK_BEFORE_1995": UK_BEFORE_1995,
    "AU": AU,
    "NZ": NZ,
    "US_A": US_A,
    "US_B": US_B,
    "JP": JP,
}
BAND_OF_PLACE: dict[str, Band] = {
    "GB": UK, "AU": AU, "NZ": NZ, "JP": JP, "US": US_A, "PR": US_A,
    **dict.fromkeys((
        "AT", "BE", "BG", "CH", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU",
        "IE", "IS", "IT", "LI", "LT", "LU", "LV", "MT", "NL", "NO", "PL", "PT", "RO", "SE", "SI",
        "SK",
    ), EU),
}  # fmt: skip
TEN_PERCENT = Source("± 10 % where no national figure is known", Status.PROPOSED)


def band_for(place: str, nominal_volt: float) -> Band:
    """The band of a place at one of its nominal voltages; ± 10 % where no figure is known."""
    known = BAND_OF_PLACE.get(place)
    if known is not None and known.nominal_volt == nominal_volt:
        return known
    low, high = round(nominal_volt * 0.9, 6), round(nominal_volt * 1.1, 6)
    return Band(nominal_volt, low, high, TEN_PERCENT)
