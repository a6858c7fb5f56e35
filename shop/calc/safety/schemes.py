"""The limits of each scheme. A shop works by one of them; nothing here mixes two."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.conductors import ohm_per_metre
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Source, Status

SchemeKey = Literal["en_50678", "iet_4", "iet_5", "asnzs_3760"]
DEFAULT: SchemeKey = "en_50678"
SCHEME_LABELS = {
    "en_50678": _noop("EN 50678 / EN 50699"),
    "iet_4": _noop("IET code of practice, edition 4"),
    "iet_5": _noop("IET code of practice, edition 5"),
    "asnzs_3760": _noop("AS/NZS 3760"),
}

_SEEN, _MEMORY = Status.SECOND_HAND, Status.FROM_MEMORY

SchemeField = Annotated[
    SchemeKey,
    Meta(
        title="Scheme",
        description="the shop's scheme; limits come from it alone",
        extra_json_schema={"x-labels": SCHEME_LABELS},
    ),
]


class Limit(msgspec.Struct, frozen=True):
    """A figure with its source and the condition it is measured under."""

    value: float
    source: Source
    condition: str = ""


class Scheme(msgspec.Struct, frozen=True):
    """One scheme: ohm by cord, megohm by class and heating, milliampere by class and heating.

    Each function answers None where the scheme gives no figure.
    """

    key: str
    title: str
    earth: Callable[[float, float], Limit]
    insulation: Callable[[str, float], Limit | None]
    conductor_current: Callable[[float, bool], Limit]
    touch_current: Limit
    disagreements: Callable[[], list[str]]


def _en_earth(length_m: float, mm2: float) -> Limit:
    """0.3 ohm to 5 m, 0.1 ohm more for each 7.5 m begun, at most 1 ohm; thicker cords computed."""
    condition = _("at least 0.2 A (from memory), cord moved while reading")
    if mm2 > 1.5:
        source = Source(
            "EN 50699, above 1.5 mm2: computed resistance, 0.1 ohm at least; here 1 ohm at most",
            _SEEN,
            "instrument support page on the change from 300 to 100 milliohm",
        )
        # A thick cord never has a laxer limit than a thin one of the same length may have at most.
        return Limit(min(1.0, max(0.1, length_m * ohm_per_metre(mm2))), source, condition)
    source = Source(
        "EN 50678 / EN 50699: 0.3 ohm to 5 m, then 0.1 ohm for each 7.5 m begun, at most 1 ohm",
        _SEEN,
        "manualsbrain.com/en/manuals/526744/?page=15",
    )
    # The small allowance keeps exactly 12.5 m at 0.4 ohm.
    begun = 0 if length_m <= 5 else ceil((length_m - 5) / 7.5 - 1e-9)
    return Limit(min(1.0, 0.3 + 0.1 * begun), source, condition)


def _iet_earth(edition: int) -> Callable[[float, float], Limit]:
    source = Source(
        f"IET code of practice, edition {edition}: 0.1 ohm + resistance of the cord's "
        "protective core",
        _SEEN,
        "test-meter.co.uk/blog/why-does-my-pat-tester-keep-failing-long-extension-leads",
    )

    def earth(length_m: float, mm2: float) -> Limit:
        condition = _("1.5 times the fuse up to 25 A for 5 to 20 s, or 20 to 200 mA")
        return Limit(0.1 + length_m * ohm_per_metre(mm2), source, condition)

    return earth


def _asnzs_earth(_length_m: float, _mm2: float) -> Limit:
    source = Source(
        "AS/NZS 3760: 1.0 ohm", _SEEN, "abctestandtag.com.au/faq/index.php?action=artikel&id=31"
    )
    return Limit(1.0, source, _("at most 12 V; 100 to 200 mA, or 10 A, or 1.5 times up to 25 A"))


def _en_insulation(protection: str, heating_kw: float) -> Limit | None:
    text = "EN 50678 / EN 50699 insulation resistance"
    at = "instrument catalogue, page 195 (Czech)"
    if protection == "III":
        return Limit(0.25, Source(f"{text}, class III", _SEEN, at))
    if protection == "II":
        return Limit(2.0, Source(f"{text}, class II", _MEMORY))
    # Heating may leak because its body is earthed: class 0 gets nothing of it.
    if protection == "I" and heating_kw > 3.5:
        return Limit(0.3, Source(f"{text}, class I heating above 3.5 kW", _SEEN, at))
    return Limit(1.0, Source(f"{text}, class I", _MEMORY))


def _iet_insulation(edition: int) -> Callable[[str, float], Limit | None]:
    source = Source(
        f"IET code of practice, edition {edition}: insulation resistance",
        _SEEN,
        "pswservices.co.uk/electrical-tests.asp",
    )

    def insulation(protection: str, heating_kw: float) -> Limit | None:
        if protection == "I" and 0 < heating_kw < 3:
            return Limit(0.3, source)
        return Limit({"III": 0.25, "II": 2.0}.get(protection, 1.0), source)

    return insulation


def _asnzs_insulation(protection: str, heating_kw: float) -> Limit | None:
    if protection == "III":
        return None
    if protection == "II":
        at = "studylib.net/doc/7587325/as-nzs-3760-2003"
        return Limit(1.0, Source("AS/NZS 3760 insulation, class II", Status.VERIFIED, at))
    if protection == "I" and heating_kw > 0:
        return Limit(0.01, Source("AS/NZS 3760 insulation, class I heating", _MEMORY))
    return Limit(1.0, Source("AS/NZS 3760 insulation, class I", _MEMORY))


def _en_conductor(heating_kw: float, _hand_held: bool) -> Limit:
    source = Source(
        "EN 50678 / EN 50699: 3.5 mA; heating above 3.5 kW 1 mA/kW to 10 mA",
        _SEEN,
        "instrument instructions, page 24 (German)",
    )
    return Limit(min(10.0, heating_kw) if heating_kw > 3.5 else 3.5, source)


def _iet_4_conductor(heating_kw: float, hand_held: bool) -> Limit:
    source = Source(
        "IET code of practice, edition 4: 0.75 mA hand-held, 3.5 mA other, heating 0.75 mA/kW to "
        "5 mA",
        _SEEN,
        "pat-testing-training.net/articles/iet-code-of-practice-5th-edition.php",
    )
    if heating_kw > 0:
        return Limit(min(5.0, max(0.75, 0.75 * heating_kw)), source)
    return Limit(0.75 if hand_held else 3.5, source)


_IET_5_CURRENT = Source(
    "IET code of practice, edition 5 (2020): 5 mA, all equipment",
    _SEEN,
    "pat-testing-training.net/articles/iet-code-of-practice-5th-edition.php",
)
_ASNZS_CURRENT = Source(
    "AS/NZS 3760: 5 mA protective conductor, 1 mA touch",
    _SEEN,
    "safetysolutions.net.au/content/business/news/leakage-testing-now-mandatory-707187946",
)


def _iet_differs() -> list[str]:
    return [
        _("IET leakage limits: edition 4 says 0.25, 0.75 and 3.5 mA, edition 5 says 5 mA."),
        _("Protective earth: one UK trainer teaches 0.1 ohm flat, without the cord."),
    ]


def _en_differs() -> list[str]:
    return [_("Class II insulation: 2 megohm here; another scheme asks for 1 megohm.")]


def _asnzs_differs() -> list[str]:
    return [_("Class II insulation: 1 megohm; a 2010 draft asked whether to raise it to 2.")]


def current_differs(scheme: Scheme) -> list[str]:
    """What other texts say about currents to earth: shown beside the scheme's limit, not mixed."""
    editions = [_iet_differs()[0]] if scheme.key.startswith("iet") else []
    return [
        *editions,
        _(
            "Standards for new products, for comparison: IEC 62368-1 0.5 mA touch and 3.5 mA "
            "earthed; IEC 60065 0.7 mA peak (both from memory)."
        ),
        _("North American practice for audio goods: 0.5 mA earthed, 0.25 mA double insulated."),
    ]


def current_limit(scheme: Scheme, protection: str, hand_held: bool = False) -> Limit:
    """What may flow to earth in mA: in the protective core of class I, else through a hand."""
    if protection == "I":
        return scheme.conductor_current(0.0, hand_held)
    return scheme.touch_current


SCHEMES: dict[str, Scheme] = {
    "en_50678": Scheme(
        "en_50678",
        SCHEME_LABELS["en_50678"],
        _en_earth,
        _en_insulation,
        _en_conductor,
        Limit(
            0.5,
            Source(
                "EN 50678 / EN 50699: touch current 0.5 mA",
                _SEEN,
                "instrument instructions, page 24 (German)",
            ),
        ),
        _en_differs,
    ),
    "iet_4": Scheme(
        "iet_4",
        SCHEME_LABELS["iet_4"],
        _iet_earth(4),
        _iet_insulation(4),
        _iet_4_conductor,
        Limit(
            0.25,
            Source(
                "IET code of practice, edition 4: touch current 0.25 mA",
                _SEEN,
                "pswservices.co.uk/electrical-tests.asp",
            ),
        ),
        _iet_differs,
    ),
    "iet_5": Scheme(
        "iet_5",
        SCHEME_LABELS["iet_5"],
        _iet_earth(5),
        _iet_insulation(5),
        lambda _heating_kw, _hand_held: Limit(5.0, _IET_5_CURRENT),
        Limit(5.0, _IET_5_CURRENT),
        _iet_differs,
    ),
    "asnzs_3760": Scheme(
        "asnzs_3760",
        SCHEME_LABELS["asnzs_3760"],
        _asnzs_earth,
        _asnzs_insulation,
        lambda _heating_kw, _hand_held: Limit(5.0, _ASNZS_CURRENT),
        Limit(1.0, _ASNZS_CURRENT),
        _asnzs_differs,
    ),
}
