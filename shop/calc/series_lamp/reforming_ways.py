"""Published ways to reform an electrolytic capacitor. They disagree, so they stand side by side."""

from __future__ import annotations

from typing import Final

import msgspec

from shop.calc.words import _, gettext_noop
from shop.calc.working import Source, Status

_SEEN = Status.SECOND_HAND


class Way(msgspec.Struct, frozen=True, kw_only=True):
    """One published procedure: resistor up to and above an edge of rated volts, and the time."""

    name: str
    title: str
    low_ohm: float
    high_ohm: float
    edge_volt: float
    seconds: int
    seconds_per_month: int = 0
    then: str = ""
    source: Source

    def ohm_for(self, rated_volt: float) -> float:
        """The resistor for a capacitor of these rated volts."""
        return self.low_ohm if rated_volt <= self.edge_volt else self.high_ohm


WAYS: Final = (
    Way(
        name="preconditioning",
        title=gettext_noop("preconditioning before a test"),
        low_ohm=100,
        high_ohm=1000,
        edge_volt=100,
        seconds=3600,
        then=gettext_noop("Discharge through about 1 ohm per volt and let it rest 12 to 48 h."),
        source=Source(
            "rated volts through 100 or 1000 ohm for 1 h",
            _SEEN,
            "EIA-815 (1999), at globalstandardslibrary.com/product/ecia-eia-815",
        ),
    ),
    Way(
        name="slow",
        title=gettext_noop("slow, at most 1 mA"),
        low_ohm=10_000,
        high_ohm=100_000,
        edge_volt=75,
        seconds=4 * 3600,
        then=gettext_noop("Raise slowly at 1 mA at most; 4 h at rated volts; then test leakage."),
        source=Source(
            "10 or 100 kohm, at most 1 mA, 4 h at rated volts",
            _SEEN,
            "a capacitor maker's advice of 1993, quoted on an amateur radio page",
        ),
    ),
    Way(
        name="old_parts",
        title=gettext_noop("parts of the 1970s or older"),
        low_ohm=1000,
        high_ohm=1000,
        edge_volt=1000,
        seconds=3600,
        source=Source(
            "rated volts through about 1 kohm for 1 h",
            _SEEN,
            "encyclopaedia article on aluminium electrolytic capacitors",
        ),
    ),
    Way(
        name="half_hour",
        title=gettext_noop("half an hour"),
        low_ohm=1000,
        high_ohm=1000,
        edge_volt=1000,
        seconds=1800,
        source=Source(
            "30 min through 1 kohm at rated volts",
            _SEEN,
            "allpcb.com/sns/electroytic-capacitor-shelf-life-definit_3949.html",
        ),
    ),
    Way(
        name="by_age",
        title=gettext_noop("by months in store"),
        low_ohm=1000,
        high_ohm=1000,
        edge_volt=1000,
        seconds=300,
        seconds_per_month=60,
        source=Source(
            "5 min and 1 min more per month stored; its resistor is not given, 1 kohm taken",
            _SEEN,
            "konferencjaskd2024.pl/08_11_17_9641.html (collected text)",
        ),
    ),
    Way(
        name="can_tester",
        title=gettext_noop("tester for can capacitors"),
        low_ohm=90_000,
        high_ohm=90_000,
        edge_volt=1000,
        seconds=0,
        then=gettext_noop("2 to 3 mA at first, until it stops falling."),
        source=Source(
            "450 V regulated through 90 kohm, 5 mA into a short",
            _SEEN,
            "mail-archive.com/amradio@mailman.qth.net/msg21215.html",
        ),
    ),
)


def procedure_words() -> list[str]:
    """What published procedures for idle equipment say, and where they part."""
    return [
        _(
            "Drives, one maker's bulletin (quoted in a forum): idle below 2 years nothing; 2 to 3 "
            "years 30 min at rated volts without load; longer 50, 75, 100 %, 30 min each."
        ),
        _(
            "Drives, industrialmonitordirect.com: below 12 months nothing, above 24 months always; "
            "30 to 50 % 1 to 2 h, 70 % 1 to 2 h, 100 % 2 to 4 h."
        ),
        _("Drives, a third page: 100 V steps of 5 to 10 min, then 15 min."),
        _(
            "Shelf life: a maker (1993) says 1 year fine, 3 years test, 4 years usually re-age, 10 "
            "years the end; a museum had none of 100 parts fail after 20 idle years and slow "
            "reforming."
        ),
        _(
            "A limit of 10 mA is cited from MIL-HDBK-1131C by two project notes; the handbook "
            "itself was not seen."
        ),
    ]
