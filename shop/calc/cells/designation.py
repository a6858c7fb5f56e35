"""A cell's designation, read letter by letter: `6LR61`, `CR2032`, `ER14250`.

Cells in series, system, shape, size: [n][letter][R|F|S][size]. Round sizes of three figures and
more tell the diameter in whole millimetres, rounded down, and the height in tenths (three figures
of it after a code of five); up to two figures are numbers out of a table.
"""

from __future__ import annotations

import re
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.cells.systems import DIAMETERS, SHAPES, SIZES, SOURCES, SYSTEMS, TRADE_NAMES, System
from shop.calc.cells.table import CELLS
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Working

_MARK: Final = re.compile(
    r"(?P<series>\d{1,2})?(?P<letter>[A-Z])??(?P<shape>[RFS])(?P<size>\d{1,5})(?P<more>[A-Z]{0,3})"
)
MOST_SERIES: Final = 20
# Printed volts may differ by this share from the system's before they contradict it; a proposal.
PRINTED_SHARE: Final = 0.1
# A coin cell: flat, and as wide as only lithium cells are made; a proposal.
COIN_DIAMETER, COIN_HEIGHT = 16.0, 6.0


class DesignationIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is printed on the cell."""

    mark: Annotated[
        str,
        Meta(
            min_length=1,
            max_length=16,
            title="Designation",
            description="as printed, for example CR2032, LR6, 6LR61",
            examples=["CR2032"],
        ),
    ]
    printed_volt: Annotated[
        Annotated[float, Meta(ge=0.1, le=100)] | None,
        Meta(title="Printed volts", description="checks that they fit the letters"),
    ] = None


class Designation(msgspec.Struct, frozen=True):
    """What the designation says. Volts of the whole; sizes are the highest allowed, None: unknown.

    `in_table` names the rows of the cell table made of this cell.
    """

    mark: str
    series: int
    letter: str
    system: str
    is_rechargeable: bool
    is_lithium: bool
    nominal_volt: float
    open_volt: float | None
    shape: str
    diameter_millimetre: float | None
    height_millimetre: float | None
    in_table: list[str]


@calculator(
    "cells.designation",
    "Read a cell's designation",
    question="What do the letters and figures on this cell say?",
    example={"mark": "CR2450", "printed_volt": 3},
)
def designation(given: DesignationIn) -> Answer[Designation]:
    """System, volts and size from an IEC 60086 designation.

    Units: V, mm. Raises BadInput for what is no designation, and names one to look for where a
    trade name was typed. Volts that contradict the letters are a warning.
    Source: IEC 60086-1 (most letters and sizes from memory).
    """
    given = fit(given)
    value = _read(given.mark)
    doubts = _doubts(value, given.printed_volt)
    text = _(
        "{mark}: {system}, {volt:g} V.",
        mark=value.mark,
        system=value.system,
        volt=value.nominal_volt,
    )
    outcome = Outcome.WARN if doubts else Outcome.OK
    return Answer(outcome, " ".join([text, *doubts]), value, _working(value, doubts))


def _read(typed: str) -> Designation:
    mark = re.sub(r"[\s-]", "", typed).upper()
    if mark in TRADE_NAMES:
        reason = _(
            "“{mark}” names a size, not what is inside: look for {marks}.",
            mark=typed,
            marks=TRADE_NAMES[mark],
        )
        raise BadInput("mark", reason, "trade_name")
    found = _MARK.fullmatch(mark)
    system = SYSTEMS.get(found["letter"] or "") if found else None
    if found is None or system is None:
        reason = _("“{mark}” is no IEC 60086 designation, such as LR6 or CR2032.", mark=typed)
        raise BadInput("mark", reason, "unknown_designation")
    return _designation(mark, found, system, _series(found["series"]))


def _series(figures: str | None) -> int:
    series = int(figures or 1)
    if not 1 <= series <= MOST_SERIES:
        raise BadInput("mark", _("1 to 20 cells stand in series."), "out_of_range")
    return series


def _designation(mark: str, found: re.Match[str], system: System, series: int) -> Designation:
    letter, shape, size = found["letter"] or "", found["shape"], found["size"]
    diameter, height = round_size(size) if shape == "R" else (None, None)
    cell = f"{letter}{shape}{size}"
    return Designation(
        mark,
        series,
        letter,
        _(system.title),
        system.is_rechargeable,
        system.is_lithium,
        round(system.nominal_volt * series, 2),
        system.open_volt and round(system.open_volt * series, 2),
        _(SHAPES[shape]),
        diameter,
        height,
        [row.name for row in CELLS if row.name.rpartition("x")[2] == cell],
    )


def round_size(size: str) -> tuple[float | None, float | None]:
    """(diameter, height) in mm, highest allowed; None where the table does not tell.

    The last two figures are the height in 0.1 mm, the last three in a size of five figures.
    """
    if len(size) < 3:
        return SIZES.get(size, (None, None))
    cut = 3 if len(size) == 5 else 2
    return DIAMETERS.get(int(size[:-cut])), int(size[-cut:]) / 10


def _doubts(value: Designation, printed_volt: float | None) -> list[str]:
    doubts = []
    nominal = value.nominal_volt
    if printed_volt is not None and abs(printed_volt - nominal) > PRINTED_SHARE * nominal:
        doubts.append(
            _(
                "{printed:g} V contradicts the letters, which say {nominal:g} V: trust neither, "
                "measure.",
                printed=printed_volt,
                nominal=nominal,
            )
        )
    diameter, height = value.diameter_millimetre, value.height_millimetre
    is_coin = diameter and height and diameter >= COIN_DIAMETER and height <= COIN_HEIGHT
    if is_coin and not value.is_lithium:
        doubts.append(
            _(
                "Coins this wide are made with lithium: {mark} is likely a misprint of CR{size}.",
                mark=value.mark,
                size=value.mark.rpartition("R")[2],
            )
        )
    if value.letter in ("M", "N"):
        doubts.append(_("A mercury cell: withdrawn, hand it in; its circuit may count on 1.35 V."))
    return doubts


def _working(value: Designation, doubts: list[str]) -> Working:
    volt = f"{value.series} x {value.nominal_volt / value.series:g} V = {value.nominal_volt:g} V"
    lines = [
        Line(_("system"), value.letter or _("no letter"), value.system),
        Line(_("nominal"), _("cells in series x volts of one"), volt),
    ]
    if value.open_volt is not None:
        lines.append(Line(_("fresh, open, at most"), _("the same"), f"{value.open_volt:g} V"))
    if value.diameter_millimetre and value.height_millimetre:
        size = f"{value.diameter_millimetre:g} x {value.height_millimetre:g} mm"
        lines.append(Line(_("size, at most"), _("diameter code; height in 0.1 mm"), size))
    return Working(lines, SOURCES, _cautions(value), _disagreements(value))


def _cautions(value: Designation) -> list[str]:
    cautions = [_("The designation tells the system and size, not the maker's limits.")]
    if value.is_lithium:
        cautions.append(_("Lithium: never charge it, heat it or solder to the cell itself."))
    if value.is_lithium and (value.diameter_millimetre or 0) >= COIN_DIAMETER:
        cautions.append(_("Swallowed coin cells burn within two hours: keep from children."))
    return cautions


def _disagreements(value: Designation) -> list[str]:
    said = []
    if value.letter == "B":
        said.append(_("An encyclopaedia gives 2.8 V for BR2032, the letter table 3.0 V."))
    if value.diameter_millimetre == DIAMETERS[24]:
        said.append(_("Popular pages read the 24 as 24.0 mm; makers' sheets say 24.5 mm."))
    if value.mark in ("CR2025", "LR2016"):
        said.append(
            _(
                "A widely copied chart (batterytools.net/button-cell-battery-chart) gives CR2025 "
                "225 to 270 mAh and lists a 3 V “LR2016”: all others contradict it."
            )
        )
    return said
