"""What each plug letter is."""

from __future__ import annotations

import msgspec

from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Source, Status


class Plug(msgspec.Struct, frozen=True):
    """A plug letter. `fits_both_ways` plugs prove no polarity; `is_earthed` None is either."""

    letter: str
    text: str
    ampere: float
    volt: int
    is_earthed: bool | None
    fits_both_ways: bool
    status: Status


_SEEN, _MEMORY = Status.SECOND_HAND, Status.FROM_MEMORY
PLUGS: dict[str, Plug] = {
    plug.letter: plug
    for plug in (
        Plug("A", _noop("two flat blades; NEMA 1-15, JIS C 8303"), 15, 125, False, True, _MEMORY),
        Plug("B", _noop("two flat blades and earth; NEMA 5-15"), 15, 125, True, False, _MEMORY),
        Plug("C", _noop("two round 4 mm; CEE 7/16"), 2.5, 250, False, True, _MEMORY),
        Plug("D", _noop("three round, small; BS 546"), 5, 250, True, False, _SEEN),
        Plug(
            "E", _noop("two round, earth pin in the socket; CEE 7/5"), 16, 250, True, False, _MEMORY
        ),
        Plug("F", _noop("two round, earth clips; CEE 7/4"), 16, 250, True, True, _MEMORY),
        Plug("G", _noop("three rectangular, fused; BS 1363"), 13, 250, True, False, _MEMORY),
        Plug("H", _noop("three pins; SI 32"), 16, 250, True, False, _MEMORY),
        Plug("I", _noop("two slanted flat; AS/NZS 3112"), 10, 250, None, False, _MEMORY),
        Plug("J", _noop("three round; SEV 1011"), 10, 250, True, False, _MEMORY),
        Plug("K", _noop("three pins; DS 60884-2-D1"), 16, 250, True, False, _MEMORY),
        Plug("L", _noop("three round in line; CEI 23-50"), 10, 250, True, True, _MEMORY),
        Plug("M", _noop("three round, large; BS 546"), 15, 250, True, False, _MEMORY),
        Plug("N", _noop("three round; IEC 60906-1"), 10, 250, True, False, _MEMORY),
        Plug("O", _noop("three round; TIS 166"), 16, 250, True, False, _MEMORY),
    )
}
SHAPE_SOURCE = Source(
    "Letters group plugs that do not mate; they say nothing of polarity",
    Status.SECOND_HAND,
    "cncords.com/3830",
)
RATING_SOURCE = Source("Ratings of plugs by letter", Status.FROM_MEMORY)
