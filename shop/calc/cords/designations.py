"""Reading the print on a cord: harmonised European and North American designations."""

from __future__ import annotations

import re

import msgspec

from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Source, Status

VOLTS: dict[str, tuple[int, int]] = {
    "01": (100, 100), "03": (300, 300), "05": (300, 500), "07": (450, 750),
}  # fmt: skip
MATERIALS: dict[str, str] = {
    "V": _noop("PVC"),
    "V2": _noop("PVC, 90 °C"),
    "V3": _noop("PVC for the cold"),
    "V4": _noop("cross-linked PVC"),
    "V5": _noop("PVC, oil resistant"),
    "R": _noop("rubber, 60 °C"),
    "N": _noop("neoprene"),
    "B": _noop("EPR rubber, 90 °C"),
    "S": _noop("silicone"),
    "Q": _noop("polyurethane"),
    "T": _noop("textile braid"),
    "G": _noop("EVA"),
    "J": _noop("glass fibre braid"),
    "Z": _noop("cross-linked, low smoke"),
    "Z1": _noop("thermoplastic, low smoke"),
}
CONDUCTORS: dict[str, str] = {
    "F": _noop("flexible, for cords"),
    "H": _noop("very flexible, for cords"),
    "Y": _noop("tinsel, for cords"),
    "K": _noop("fine strands, for fixed wiring"),
    "R": _noop("strands, for fixed wiring"),
    "U": _noop("solid, for fixed wiring"),
}
FOR_CORDS = frozenset("FHY")
HARMONISED_SOURCE = Source(
    "HD 361: letters of harmonised cables and cords",
    Status.SECOND_HAND,
    "cable-world.co.uk/a-guide-to-harmonised-cable-codes; katalog.cablestore-online.com/en107",
)
AMERICAN_CORD_SOURCE = Source(
    "NEC cord types: S 600 V; J, V and P 300 V; T and E thermoplastic; O oil, W weather",
    Status.SECOND_HAND,
    "wiki.vintagemachinery.org/Electrical-Power-Cord-Type-Designations.ashx",
)
# Longest letters first, so that V2 is not read as V.
_LETTER = "V[2-5]|Z1|[VRNBSQTGJZ]"
_HARMONISED = re.compile(
    rf"^[HA](01|03|05|07)((?:{_LETTER}){{1,3}})(H[2-8]?)?-?([UKRFHY])"
    r"(?:(?:([1-9])([GX]))?(\d{1,2}(?:\.\d{1,2})?))?$"
)
_AMERICAN = re.compile(r"^(S(?:[JVP])?)(T|E)?(O{0,2})(W)?(?:-?([123]))?(?:(\d{2})/([2-4])C?)?$")


class CordPrint(msgspec.Struct, frozen=True):
    """What the print says. None where it does not say it; `volt` is to earth, then between cores.

    `has_earth` is taken from the letter G or X; from three North American cores it is presumed.
    """

    kind: str
    volt: tuple[int, int]
    insulation: str
    sheath: str
    conductor: str
    is_for_cords: bool
    is_flat: bool
    cores: int | None
    has_earth: bool | None
    area_mm2: float | None
    awg: int | None


def read_print(text: str) -> CordPrint | None:
    """Read `H05VV-F 3G0.75` or `SVT 18/3`; None if it is neither.

    Source: HD 361 and the cord types of the NEC, second-hand.
    """
    plain = re.sub(r"\s|MM2|MM²|AWG", "", text.upper().replace(",", ".").replace("×", "X"))
    found = _HARMONISED.match(plain)
    if found is not None:
        return _harmonised(found)
    # Some makers put the cores first: SVT 3X18.
    turned = re.sub(r"([2-4])X(\d{2})$", r"\2/\1", plain)
    american = _AMERICAN.match(turned)
    return _american(american) if american is not None else None


def _harmonised(found: re.Match[str]) -> CordPrint:
    volts, letters, flat, conductor, cores, earth, area = found.groups()
    layers = re.findall(_LETTER, letters)
    return CordPrint(
        kind="harmonised",
        volt=VOLTS[volts],
        insulation=MATERIALS[layers[0]],
        sheath=MATERIALS[layers[1]] if len(layers) > 1 else "",
        conductor=CONDUCTORS[conductor],
        is_for_cords=conductor in FOR_CORDS,
        is_flat=flat is not None,
        cores=int(cores) if cores else None,
        has_earth=earth == "G" if earth else None,
        area_mm2=float(area) if area else None,
        awg=None,
    )


def _american(found: re.Match[str]) -> CordPrint:
    grade, plastic, _oil, _weather, _thick, awg, cores = found.groups()
    volt = 600 if grade == "S" else 300
    material = MATERIALS["V"] if plastic == "T" else _noop("rubber or elastomer")
    return CordPrint(
        kind="north_american",
        volt=(volt, volt),
        insulation=material,
        sheath="" if grade == "SP" else material,
        conductor=CONDUCTORS["F"],
        is_for_cords=True,
        is_flat=grade == "SP",
        cores=int(cores) if cores else None,
        has_earth=int(cores) >= 3 if cores else None,
        area_mm2=None,
        awg=int(awg) if awg else None,
    )
