"""What to know about the supply of single places."""

from __future__ import annotations

from shop.calc.words import _

# Voltages that a place has had or has in part, beyond what the data sets list.
_ALSO: dict[str, str] = {
    "CU": "220 V", "KR": "110 V", "LB": "110 V", "SR": "220 V", "TW": "220 V",
    "MY": "240 V", "SA": "127 V",
}  # fmt: skip
# Where the nominal value of the data sets is said to be another one now: both are in the cautions.
OTHER_NOMINAL = frozenset({"CY", "PH", "TH"})


def remarks(place: str, volts: tuple[float, ...], hertz: tuple[float, ...]) -> list[str]:
    """Cautions for a place: several voltages, odd frequency, two live poles, older supplies."""
    said = [*general(volts, hertz), *_particular(place)]
    if _ALSO.get(place):
        said.append(_("{volt} is or was found here as well (from memory).", volt=_ALSO[place]))
    return said


def general(volts: tuple[float, ...], hertz: tuple[float, ...]) -> list[str]:
    """What any tech should check from the voltages and frequencies alone."""
    said = []
    if len(volts) > 1:
        listed = " / ".join(f"{volt:g}" for volt in volts)
        said.append(_("{volts} V are in use: ask where the unit will stand.", volts=listed))
    if len(hertz) > 1:
        said.append(_("50 Hz and 60 Hz are in use: ask where the unit will stand."))
    if max(volts) < 140 and 50 in hertz:
        said.append(_("Low voltage at 50 Hz: check the flux of transformers made for 60 Hz."))
    if min(volts) > 140 and 60 in hertz:
        said.append(_("High voltage at 60 Hz: synchronous motors made for 50 Hz run fast."))
    return said


def _particular(place: str) -> list[str]:
    return {
        "AU": [_("Real values are often near 240 V.")],
        "GB": [_("Real values are often near 240 V.")],
        "CN": [_("Plug A is unearthed 220 V here, not 120 V (from memory).")],
        "CY": [_("The harmonised nominal is 230 V (from memory); both data sets still say 240 V.")],
        "IN": [_("Rated 240 V before 230 V (from memory).")],
        "JP": [_("50 Hz in the east, 60 Hz in the west (from memory).")],
        "BR": [_("127 V or 220 V by municipality.")],
        "ID": [_("One data set lists 110 and 220 V; the national standard is cited at 230 V.")],
        "PH": [_("Many sockets have both poles live; 230 V between lines (from memory).")],
        "TH": [_("Nominal 230 V, national plug O in newer lists (from memory).")],
        "SA": [_("230 V at 60 Hz is the present national choice (from memory).")],
        "MX": [_("127 V from one line to neutral of 220Y/127 V (from memory).")],
        "US": [_("Split phase 120/240 V; 240 V outlets have other shapes (from memory).")],
        "CA": [_("Split phase 120/240 V (from memory).")],
        "ZA": [_("N is the newer national plug, M still dominates (from memory).")],
        "CH": [_("Outlets of plug J are fused at 10 A (from memory).")],
        "DK": [_("Hybrid outlets for plugs E and F are found beside K (from memory).")],
        "HK": [_("Small outlets for round pins, D and M, are still found (from memory).")],
        "IT": [_("Plug L has a 10 A and a 16 A size (from memory).")],
        "AR": [_("Line and neutral of plug I are the other way round here (from memory).")],
    }.get(place, [])
