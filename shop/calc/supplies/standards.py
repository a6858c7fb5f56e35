"""What each standard or law allows a mains voltage, at the supply terminals or at the outlet."""

from __future__ import annotations

from typing import Literal

import msgspec

from shop.calc.supplies.bands import AU, EU, JP, NZ, UK, UK_BEFORE_1995, US_A, US_B, Band
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Source, Status

MeasuredAt = Literal["supply", "outlet"]
Standard = Literal[
    "iec_60038", "en_50160", "former_220", "former_240", "uk", "uk_before_1995", "australia",
    "new_zealand", "japan", "ansi_a", "ansi_b", "rma_1940",
]  # fmt: skip
TITLES: dict[str, str] = {
    "iec_60038": _noop("IEC 60038 (Europe and most of the world)"),
    "en_50160": _noop("EN 50160 (Europe, what the network delivers)"),
    "former_220": _noop("Former 220 V countries, in transition to 230 V"),
    "former_240": _noop("Former 240 V countries, in transition to 230 V"),
    "uk": _noop("United Kingdom, since 1995"),
    "uk_before_1995": _noop("United Kingdom, before 1995"),
    "australia": _noop("Australia, since 2000"),
    "new_zealand": _noop("New Zealand"),
    "japan": _noop("Japan"),
    "ansi_a": _noop("North America, range A (usual)"),
    "ansi_b": _noop("North America, range B (rare)"),
    "rma_1940": _noop("North America, design of valve sets (1940 on)"),
}
_IEC = "en.wikipedia.org/wiki/IEC_60038"
_STATE = "COMAR 20.50.07.02: dsd.state.md.us/comar/comarhtml/20/20.50.07.02.htm"
_SEEN, _LAW, _MEMORY = Status.SECOND_HAND, Status.VERIFIED, Status.FROM_MEMORY


class BandRule(msgspec.Struct, frozen=True):
    """One band of a standard. `share` says for how much of the time, empty for always."""

    standard: Standard
    measured_at: MeasuredAt
    band: Band
    share: str = ""


def _band(nominal: float, low: float, high: float, source: Source) -> Band:
    return Band(nominal, low, high, source)


_JP_202 = Source(
    "Electricity Business Act enforcement regulation (JP): 202 ± 20 V",
    _SEEN,
    "bizboard.nikkeibp.co.jp/kijiken/summary/20090408",
)
_ANNEX_A = Source("IEC 60038:2009 annex A: highest and lowest voltages", _MEMORY)
_A_240 = Source("ANSI C84.1 service range A, 240 V: 228 to 252 V", _LAW, _STATE)
_UTIL_A = Source(
    "ANSI C84.1 utilization range A: 108 to 126 V (110 with lighting in older text)", _MEMORY
)
_UTIL_B = Source("ANSI C84.1 utilization range B: 104 to 127 V (106 in older text)", _MEMORY)
_EN_50160 = "electrical-contractor.net/forums/ubbthreads.php/posts/135752.html"
_EN_95 = Source(
    "EN 50160: 230 V ± 10 % for 95 % of the 10-minute means of a week", _SEEN, _EN_50160
)
_EN_REST = Source("EN 50160: the rest of the week +10/−15 %", _SEEN, _EN_50160)
_FORMER_220 = Source("IEC 60038 amendment 2 (1997): 230 V +6/−10 %", _SEEN, _IEC)
_FORMER_240 = Source("IEC 60038 amendment 2 (1997): 230 V +10/−6 %", _SEEN, _IEC)
_RMA = Source("RMA M8-210 (1940): design centre 117 V, line swing ± 10 %", _MEMORY)

RULES: tuple[BandRule, ...] = (
    BandRule("iec_60038", "supply", EU),
    BandRule("iec_60038", "outlet", _band(230, 198, 253, _ANNEX_A)),
    BandRule("iec_60038", "supply", _band(120, 108, 132, _ANNEX_A)),
    BandRule("iec_60038", "outlet", _band(120, 103, 132, _ANNEX_A)),
    BandRule("en_50160", "supply", _band(230, 207, 253, _EN_95), "95 %"),
    BandRule("en_50160", "supply", _band(230, 195.5, 253, _EN_REST), "100 %"),
    BandRule("former_220", "supply", _band(230, 207, 243.8, _FORMER_220)),
    BandRule("former_240", "supply", _band(230, 216.2, 253, _FORMER_240)),
    BandRule("uk", "supply", UK),
    BandRule("uk_before_1995", "supply", UK_BEFORE_1995),
    BandRule("australia", "supply", AU),
    BandRule("new_zealand", "supply", NZ),
    BandRule("japan", "supply", JP),
    BandRule("japan", "supply", _band(200, 182, 222, _JP_202)),
    BandRule("ansi_a", "supply", US_A),
    BandRule("ansi_a", "outlet", _band(120, 108, 126, _UTIL_A)),
    BandRule("ansi_a", "supply", _band(240, 228, 252, _A_240)),
    BandRule("ansi_b", "supply", US_B),
    BandRule("ansi_b", "outlet", _band(120, 104, 127, _UTIL_B)),
    BandRule("rma_1940", "outlet", _band(117, 105.3, 128.7, _RMA)),
)
SYSTEMS_SOURCE = Source(
    "IEC 60038 table 1: 230/400 V at 50 Hz; 120/208, 240, 230/400, 277/480 and 347/600 V at 60 Hz",
    _SEEN,
    _IEC,
)
FREQUENCY_SOURCE = Source("EN 50160: 50 Hz ± 1 % for 99.5 % of a year, +4/−6 % always", _MEMORY)


def rules_for(nominal_volt: float, standard: str | None = None) -> list[BandRule]:
    """The bands of a nominal voltage, of one standard or of all."""
    return [
        rule
        for rule in RULES
        if rule.band.nominal_volt == nominal_volt and standard in (None, rule.standard)
    ]


def nominals_of(standard: str | None = None) -> list[float]:
    """The nominal voltages a standard knows, lowest first."""
    found = {rule.band.nominal_volt for rule in RULES if standard in (None, rule.standard)}
    return sorted(found)
