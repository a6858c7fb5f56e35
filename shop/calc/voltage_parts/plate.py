"""What stands on a rating plate: one place for its lines and their order."""

from __future__ import annotations

from collections.abc import Sequence

from shop.calc.fuses.marking import FuseMark
from shop.calc.words import _


def plate_lines(
    *,
    volt: float,
    hz: Sequence[float],
    va: float | None = None,
    watt: float | None = None,
    ampere: float | None = None,
    fuse: FuseMark | None = None,
    protection_class: str = "I",
) -> list[str]:
    """Supply, power or current, fuse, class. Units: V, Hz, VA, W, A.

    Source: IEC 62368-1 annex F, IEC 60065 clause 5 (from memory).
    """
    hertz = "/".join(f"{one:g}" for one in hz)
    lines = [f"{volt:g} V ~ {hertz} Hz"]
    if va is not None:
        lines.append(f"{va:g} VA")
    if watt is not None:
        lines.append(f"{watt:g} W")
    if ampere is not None:
        lines.append(f"{ampere:.3g} A")
    if fuse is not None:
        lines.append(_("Fuse {mark}", mark=fuse.text()))
    if protection_class == "II":
        lines.append(_("Class II"))
    return lines
