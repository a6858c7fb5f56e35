"""What stands on a fuse's cap: read it, check it against the series, write it."""

from __future__ import annotations

import re
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.fuses.gates import GATE_MEMORY, GATE_SOURCE, Gate, breaking_capacity_ampere, gate_for
from shop.calc.fuses.series import (
    ANY_IEC,
    R10_MILLIAMPERE,
    SERIES_MEMORY,
    SERIES_SOURCE,
    UL_MILLIAMPERE,
    UL_SERIES_SOURCE,
    around,
    in_words,
)
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

Characteristic = Literal["FF", "F", "M", "T", "TT"]
BreakingLetter = Literal["L", "E", "H"]
Standard = Literal["iec", "ul"]
STANDARD_LABELS = {"x-labels": {"iec": "IEC 60127", "ul": "UL 248-14"}}
MarkText = Annotated[
    str,
    Meta(
        min_length=1,
        max_length=40,
        description="marking on the cap: characteristic, current, breaking capacity, volts",
        examples=["T160mAL250V", "T315L250V", "T2AL250V", "F1.6A", "T2A5"],
    ),
]

MARKING_SOURCES = [
    Source("IEC 60127-1 clause 6: FF, F, M, T, TT", Status.VERIFIED, "ajdocs.ru/gsp/31172/16"),
    Source(
        "IEC 60127-2 clause 6.1: L, E, H stands between current and voltage",
        Status.VERIFIED,
        "ajdocs.ru/gsp/29451/6",
    ),
    Source("A number of 32 or more without a unit is in mA", Status.FROM_MEMORY),
]

# North American caps write 1/2 A and 1-1/2 A. A slash before the volts (160/250V) is no fraction.
_FRACTION = re.compile(
    r"(?<![\d.,/])(?:(\d{1,2})(?:\s+|\s*-\s*))?(\d{1,2})\s*/\s*(\d{1,2})(?!\s*\d|\s*V)"
)
# `2A5` is 2.5 A as `4k7` is 4.7 k; a voltage never follows the figure directly without a letter.
_MARK = re.compile(
    r"(?P<kind>FF|F|M|TT|T)?(?P<number>\d+(?:[.,]\d{1,3})?)(?!\d)"
    r"(?:(?P<unit>MA)|(?P<ampere>A)(?:(?P<fraction>\d{1,2})(?=[LEH]|$))?)?"
    r"(?P<letter>[LEH])?/?(?:(?P<volt>\d{2,4})V/?(?:AC|~)?)?",
)


class FuseMark(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A fuse by its marking. Fields that the cap does not show are None."""

    current_milliampere: float
    characteristic: Characteristic | None = None
    breaking_letter: BreakingLetter | None = None
    rated_volt: int | None = None
    standard: Standard = "iec"
    unit_assumed: bool = False

    def text(self) -> str:
        """The marking in the order of IEC 60127: `T160mAL250V`."""
        amount = self.current_milliampere
        current = f"{amount:g}mA" if amount < 1000 else f"{amount / 1000:g}A"
        volt = f"{self.rated_volt}V" if self.rated_volt else ""
        return f"{self.characteristic or ''}{current}{self.breaking_letter or ''}{volt}"


class MarkIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A marking as typed from the cap or the plate."""

    mark: Annotated[MarkText, Meta(title="Marking", description="as on the cap or the plate")]
    standard: Annotated[
        Standard,
        Meta(
            title="Standard",
            description="which series the rating belongs to",
            extra_json_schema=STANDARD_LABELS,
        ),
    ] = "iec"


class MarkOut(msgspec.Struct, frozen=True):
    """The marking taken apart. `breaking_capacity_ampere` at 250 V a.c., None without a letter.

    `gate` holds the time limits of its standard sheet with their status, None where none is known.
    """

    mark: str
    fuse: FuseMark
    current_text: str
    in_r10: bool
    breaking_capacity_ampere: float | None
    lower_milliampere: int | None
    higher_milliampere: int | None
    gate: Gate | None


def read_mark(text: str, field: str = "mark", standard: Standard = "iec") -> FuseMark:
    """Take a marking apart.

    Raises BadInput if it cannot be read, or if its current is in no series (with the neighbours).
    """
    squeezed = re.sub(r"\s+", "", _without_fraction(text.upper(), field))
    found = _MARK.fullmatch(squeezed)
    if not found:
        raise BadInput(
            field, _("“{text}” is not read as a fuse marking such as T2AL250V", text=text)
        )
    milliampere, is_assumed = _current(found, text, field)
    require_member(milliampere, field, standard)
    volt = int(found["volt"]) if found["volt"] else None
    if volt is not None and not 12 <= volt <= 1000:
        raise BadInput(field, _("{volt} V is no rated voltage of a fuse", volt=volt))
    return FuseMark(
        milliampere,
        found["kind"],  # type: ignore[arg-type]  # the pattern admits only these letters
        found["letter"],  # type: ignore[arg-type]  # as above
        volt,
        standard,
        is_assumed,
    )


def _without_fraction(text: str, field: str) -> str:
    """`1/2A` as `0.5A`; 1/16 and 3/16 A, whose marks are cut short, by the mark just below."""
    found = _FRACTION.search(text)
    if not found:
        return text
    whole, over, under = (int(part or 0) for part in found.groups())
    if not 0 < over < under:
        raise BadInput(field, _("{part} is no fraction of an ampere", part=found[0].strip()))
    milliampere = (whole * under + over) * 1000 // under
    unit = "" if text[found.end() :].lstrip().startswith("A") else "A"
    return f"{text[: found.start()]}{milliampere / 1000:g}{unit}{text[found.end() :]}"


def _current(found: re.Match[str], text: str, field: str) -> tuple[float, bool]:
    number, fraction = found["number"].replace(",", "."), found["fraction"]
    if fraction and "." in number:
        raise BadInput(field, _("“{text}” has two decimal marks", text=text))
    amount = float(f"{number}.{fraction}" if fraction else number)
    if found["unit"]:
        return amount, False
    if found["ampere"]:
        return round(amount * 1000, 6), False
    # Under 1 A the standard form is mA without a unit; below 32 only ampere can be meant.
    return (amount, False) if amount >= 32 else (round(amount * 1000, 6), True)


def require_member(milliampere: float, field: str, standard: Standard) -> None:
    """Raise BadInput, naming the neighbours, for a current (mA) in no series of the standard."""
    members = ANY_IEC if standard == "iec" else UL_MILLIAMPERE
    if milliampere in members:
        return
    if milliampere <= 0:
        raise BadInput(field, _("a fuse needs a current above zero"))
    near = around(milliampere, R10_MILLIAMPERE if standard == "iec" else members)
    names = _(" and ").join(in_words(member) for member in near if member)
    series = "IEC 60127 (R10, R20)" if standard == "iec" else "UL 248-14"
    reason = _(
        "{current} is in no series of {series}; nearest: {names}",
        current=in_words(milliampere),
        series=series,
        names=names,
    )
    if standard == "iec" and milliampere in UL_MILLIAMPERE:
        # Nearest by number would open far later: the rating means something else.
        reason += "; " + _("it is a UL rating: choose UL 248-14, never the nearest number")
    raise BadInput(field, reason)


@calculator(
    "fuses.parse",
    "Read a fuse marking",
    question="What does the marking on this fuse say?",
    example={"mark": "T160mAL250V"},
)
def parse(given: MarkIn) -> Answer[MarkOut]:
    """Take a fuse marking apart and check it against the series.

    Units: mA, A, V. Raises BadInput at `mark` if it cannot be read or is in no series.
    Source: IEC 60127-1 clause 6, IEC 60127-2 clause 6.1.
    """
    given = fit(given)
    fuse = read_mark(given.mark, standard=given.standard)
    sources = [*MARKING_SOURCES, SERIES_SOURCE, SERIES_MEMORY, GATE_SOURCE, GATE_MEMORY]
    if given.standard == "ul":
        sources = [MARKING_SOURCES[0], UL_SERIES_SOURCE]
    missing = _missing(fuse)
    cautions = [missing] if missing else []
    if fuse.unit_assumed:
        cautions.append(
            _("The marking names no unit; taken as {current}.", current=_current_of(fuse))
        )
    text = _("{mark}: {current}", mark=fuse.text(), current=_current_of(fuse))
    line = Line(_("read as"), given.mark, fuse.text())
    outcome = Outcome.WARN if cautions else Outcome.OK
    return Answer(outcome, text, mark_out(fuse), Working([line], sources, cautions))


def _current_of(fuse: FuseMark) -> str:
    return in_words(fuse.current_milliampere)


def _missing(fuse: FuseMark) -> str:
    lacking = [
        name
        for name, value in (
            (_("characteristic"), fuse.characteristic),
            (_("breaking capacity"), fuse.breaking_letter),
            (_("rated voltage"), fuse.rated_volt),
        )
        if value is None
    ]
    if not lacking:
        return ""
    names = ", ".join(lacking)
    return _("Not on the marking: {names}. Read it from the fuse or the service data.", names=names)


def mark_out(fuse: FuseMark) -> MarkOut:
    letter, current = fuse.breaking_letter, fuse.current_milliampere
    lower, higher = around(current)
    return MarkOut(
        fuse.text(),
        fuse,
        in_words(current),
        current in R10_MILLIAMPERE,
        breaking_capacity_ampere(letter, current / 1000) if letter else None,
        lower,
        higher,
        gate_for(fuse.characteristic, letter, current) if fuse.characteristic and letter else None,
    )
