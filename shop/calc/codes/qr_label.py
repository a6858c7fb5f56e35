"""How large a QR label comes out on a label printer, and from how far it can be read."""

from __future__ import annotations

from typing import Annotated, Final, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

Level = Literal["L", "M", "Q", "H"]
Mode = Literal["numeric", "alphanumeric", "byte"]
ALPHANUMERIC: Final = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
MODES: Final[tuple[Mode, ...]] = ("numeric", "alphanumeric", "byte")
# Characters that go into versions 1 to 6: numeric, alphanumeric, byte.
CAPACITY: Final[dict[Level, tuple[tuple[int, int, int], ...]]] = {
    "L": ((41, 25, 17), (77, 47, 32), (127, 77, 53), (187, 114, 78), (255, 154, 106),
          (322, 195, 134)),
    "M": ((34, 20, 14), (63, 38, 26), (101, 61, 42), (149, 90, 62), (202, 122, 84),
          (255, 154, 106)),
    "Q": ((27, 16, 11), (48, 29, 20), (77, 47, 32), (111, 67, 46), (144, 87, 60),
          (178, 108, 74)),
    "H": ((17, 10, 7), (34, 20, 14), (58, 35, 24), (82, 50, 34), (106, 64, 44),
          (139, 84, 58)),
}  # fmt: skip
QUIET_MODULES: Final = 4
PHONE_MILLIMETRE: Final = 0.4
READER_MILLIMETRE: Final = 0.25
REACH: Final = 10.0


class QrLabelIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the label says, and the printer it comes from."""

    text: Annotated[str, Meta(min_length=1, max_length=400, title="Text in the code")]
    level: Annotated[
        Level,
        Meta(
            title="Error correction",
            description="how much of it may be lost",
            extra_json_schema={
                "x-labels": {"L": "L, 7 %", "M": "M, 15 %", "Q": "Q, 25 %", "H": "H, 30 %"}
            },
        ),
    ] = "M"
    dots_per_inch: Annotated[
        int, Meta(ge=72, le=2400, title="Printer", description="dots per inch, 72 to 2400")
    ] = 203
    dots_per_module: Annotated[
        int, Meta(ge=1, le=100, title="Dots per module", description="whole dots, 1 to 100")
    ] = 4
    distance_millimetre: Annotated[
        float, Meta(ge=10, le=10_000, title="Reading distance", description="phone to label")
    ] = 150.0


class QrLabel(msgspec.Struct, frozen=True):
    """The smallest code for the text, its size on paper, and how far it is read."""

    version: int
    mode: Mode
    modules: int
    module_millimetre: float
    label_millimetre: float
    reach_millimetre: float


@calculator(
    "codes.qr_label",
    "Size of a QR label",
    question="How large does this QR label come out, and can a phone read it?",
    example={"text": "HTTPS://SHOP.EXAMPLE/T/NR7Q2K9A", "dots_per_inch": 203},
)
def qr_label(given: QrLabelIn) -> Answer[QrLabel]:
    """Smallest version of 1 to 6 for the text, and its size. NO_ANSWER where it needs more.

    Formulas: modules = 17 + 4 x version; label = (modules + 8) x dots per module x 25.4 / dpi mm;
    reach = 10 x width of the code.
    Units: mm, dpi. Source: ISO/IEC 18004:2015.
    """
    given = fit(given)
    mode = mode_of(given.text)
    version = version_for(given.text, given.level)
    if version is None:
        text = _("This text is too long for a small label: shorten it, or take less correction.")
        line = Line(mode, _("most characters in version 6"), str(_most(6, given.level, mode)))
        return Answer(Outcome.NO_ANSWER, text, None, Working([line], SOURCES))
    value = _label(given, version, mode)
    doubts = _doubts(given, value)
    text = _("Version {version}, {side:.1f} mm square with its quiet zone.", version=version,
             side=value.label_millimetre)  # fmt: skip
    working = Working(_lines(given, value), SOURCES, doubts, _disagreements())
    return Answer(Outcome.WARN if doubts else Outcome.OK, text, value, working)


def mode_of(text: str) -> Mode:
    """The densest mode for the whole text. One small letter makes it a byte code."""
    if text.isascii() and text.isdigit():
        return "numeric"
    return "alphanumeric" if set(text) <= ALPHANUMERIC else "byte"


def version_for(text: str, level: Level) -> int | None:
    """The smallest version of 1 to 6 in which the text fits, by UTF-8 bytes in byte mode."""
    mode = mode_of(text)
    length = len(text.encode()) if mode == "byte" else len(text)
    versions = range(1, len(CAPACITY[level]) + 1)
    return next((version for version in versions if length <= _most(version, level, mode)), None)


def _most(version: int, level: Level, mode: Mode) -> int:
    return CAPACITY[level][version - 1][MODES.index(mode)]


def _label(given: QrLabelIn, version: int, mode: Mode) -> QrLabel:
    modules = 17 + 4 * version
    module = given.dots_per_module * 25.4 / given.dots_per_inch
    side = (modules + 2 * QUIET_MODULES) * module
    return QrLabel(version, mode, modules, module, side, REACH * modules * module)


def _doubts(given: QrLabelIn, value: QrLabel) -> list[str]:
    doubts = []
    if value.module_millimetre < READER_MILLIMETRE:
        doubts.append(_("Modules below 0.25 mm are hard even for industrial readers."))
    elif value.module_millimetre < PHONE_MILLIMETRE:
        doubts.append(_("Modules below 0.4 mm are hard to read with a phone in the hand."))
    if given.distance_millimetre > value.reach_millimetre:
        doubts.append(_("Too small for this distance by the 10 to 1 rule."))
    in_capitals = version_for(given.text.upper(), given.level)
    if in_capitals is not None and in_capitals < value.version:
        doubts.append(_("In capitals it would be version {version}.", version=in_capitals))
    return doubts


def _lines(given: QrLabelIn, value: QrLabel) -> list[Line]:
    modules, dots = value.modules, given.dots_per_module
    return [
        Line(_("kind of text"), value.mode, _("at most {n} in version {version}",
             n=_most(value.version, given.level, value.mode), version=value.version)),
        Line(_("side"), f"17 + 4 x {value.version}", _("{n} modules", n=modules)),
        Line(_("one module"), f"{dots} x 25.4 mm / {given.dots_per_inch}",
             f"{value.module_millimetre:.3f} mm"),
        Line(_("label"), f"({modules} + 2 x {QUIET_MODULES}) x {value.module_millimetre:.3f} mm",
             f"{value.label_millimetre:.1f} mm"),
        Line(_("read from"), f"10 x {modules} x {value.module_millimetre:.3f} mm",
             f"{value.reach_millimetre:.0f} mm"),
    ]  # fmt: skip


def _disagreements() -> list[str]:
    return [
        _("One page takes 10 times the width of a module for the distance; others, and this "
          "answer, 10 times the width of the whole code.")
    ]  # fmt: skip


SOURCES: Final = [
    Source("capacities of versions 1 to 6, from the bit table of ISO/IEC 18004:2015",
           Status.COMPUTED, "PyPI package segno 1.6.6, consts"),
    Source("side of 17 + 4 v modules, quiet zone of 4", Status.SECOND_HAND,
           "ISO/IEC 18004 as told on a page of the code's inventor (qrgene4-e.html)"),
    Source("0.25 mm modules for readers, 0.4 mm for phones", Status.SECOND_HAND,
           "qrtool.ch, a page on sizes in print"),
    Source("distance 10 times the width: not in the standard", Status.SECOND_HAND,
           "imgkilo.com/guides/qr-minimum-size-for-print"),
]  # fmt: skip
