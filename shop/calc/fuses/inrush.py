"""Whether a fuse survives switching a transformer on."""

from __future__ import annotations

from math import sqrt
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, MainsVolt, VoltAmpere, fit
from shop.calc.fuses.gates import GATE_MEMORY, gate_for
from shop.calc.fuses.load import INRUSH_SOURCE, SURGE_SOURCE, load_ampere
from shop.calc.fuses.marking import FuseMark, MarkText, read_mark
from shop.calc.fuses.series import R10_MILLIAMPERE, in_words
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# Ampere-squared seconds before the arc, of fuses of 1 A; they grow about with the square.
TYPICAL_I2T = {"FF": 0.18, "F": 1.045, "M": 6.0, "T": 6.73, "TT": 9.0}
TYPICAL_SOURCE = Source(
    "Melting integrals of 1 A types of several makers: FF 0.18, F 1.045, M 6, T 6.73, TT 9 A²s",
    Status.SECOND_HAND,
    "changpuak.ch/electronics/Choosing_the_correct_Fuse.php",
)
TOROID_SOURCE = Source(
    "Toroids: 8 to 15 times rated in the first cycles; from 1.5 kVA NTC or bypassed resistor",
    Status.SECOND_HAND,
    "relipowertech.com/blog/toroidal-transformer-inrush-current/; "
    "avellindberg.com/transformers/tech_notes/tech_notes13.htm",
)
PEAK_SOURCE = Source(
    "Toroids: first peak 30 to 90 times the operating current; below 300 VA slow fuses suffice",
    Status.SECOND_HAND,
    "powertronix.com/design-resources/inrush-current-protection",
)
EXAMPLE = {"load_va": 300.0, "mains_volt": 600.0, "inrush_times": 40.0, "mark": "T1.6AL600V"}


class InrushIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The load, how hard it is switched on, and the fuse that is to survive it."""

    load_ampere: Annotated[
        Ampere | None, Meta(title="Full-load current", description="or give VA and volts")
    ] = None
    load_va: Annotated[
        VoltAmpere | None, Meta(title="Rated power", description="needs the mains volts")
    ] = None
    mains_volt: Annotated[MainsVolt | None, Meta(title="Mains")] = None
    inrush_times: Annotated[
        float,
        Meta(
            ge=1,
            le=100,
            title="Inrush over full load",
            description="1 to 100 times; 25 if left out, 40 to be strict",
            examples=[25.0],
        ),
    ] = 25.0
    pulse_seconds: Annotated[
        float,
        Meta(
            ge=0.001,
            le=1,
            title="Length of the surge",
            description="0.001 to 1 s; a half cycle if left out",
        ),
    ] = 0.01
    mark: Annotated[
        MarkText | None,
        Meta(title="Fuse", description="marking of the fuse to judge, such as T2AL250V"),
    ] = None
    melting_ampere2_seconds: Annotated[
        float | None,
        Meta(
            title="Melting integral of the fuse",
            description="A²s off the maker's sheet, 0.000001 to 1000000",
        ),
    ] = None


class InrushOut(msgspec.Struct, frozen=True):
    """The surge, the least T L rating sure to survive it, and the fuse against it.

    Integrals in A²s. `guaranteed` is by the sheet's hold time at ten times the rating, None where
    the sheet knows none; `typical` is what such fuses have, and proves nothing.
    """

    load_ampere: float
    surge_ampere: float
    surge_ampere2_seconds: float
    least_ampere: float
    least_member_ampere: float | None
    guaranteed_ampere2_seconds: float | None
    typical_ampere2_seconds: float | None
    survives: bool | None


@calculator(
    "fuses.inrush",
    "Fuse against inrush",
    question="Does this fuse survive the surge when the transformer is switched on?",
    example=EXAMPLE,
)
def inrush(given: InrushIn) -> Answer[InrushOut]:
    """Compare the surge of a transformer with what a fuse is sure to survive.

    Units: A, V, VA, s, A²s. Formulas: surge = (k I)² t; a T L fuse from 125 mA holds 10 I for
    20 ms, so at least 2 I² A²s. A quick fuse has no such time: nothing is sure without its
    maker's integral.
    Raises BadInput where the load is missing or the marking cannot be read.
    Source: control-transformer guide (second-hand), IEC 60127-2 gates (from memory).
    """
    given = fit(given)
    fuse = read_mark(given.mark) if given.mark else None
    value = _value(given, fuse)
    text, outcome = _verdict(fuse, value, given.melting_ampere2_seconds is not None)
    working = Working(_lines(given, value), _sources(), _cautions(given, fuse, value), _differ())
    return Answer(outcome, text, value, working)


def _value(given: InrushIn, fuse: FuseMark | None) -> InrushOut:
    load = load_ampere(given.load_ampere, given.load_va, given.mains_volt)
    surge = given.inrush_times * load
    integral = surge**2 * given.pulse_seconds
    least = sqrt(integral / 2)
    sure = _guaranteed(fuse) if fuse else None
    known = _melting(given, fuse) or sure
    return InrushOut(
        load_ampere=load,
        surge_ampere=surge,
        surge_ampere2_seconds=integral,
        least_ampere=least,
        least_member_ampere=next(
            (
                m / 1000
                for m in R10_MILLIAMPERE
                if max(125, least * 1000) * (1 - 1e-9) <= m <= 10000
            ),
            None,
        ),
        guaranteed_ampere2_seconds=sure,
        typical_ampere2_seconds=_typical(fuse) if fuse else None,
        survives=None if known is None else known >= integral * (1 - 1e-9),
    )


def _melting(given: InrushIn, fuse: FuseMark | None) -> float | None:
    value = given.melting_ampere2_seconds
    if value is None:
        return None
    if fuse is None:
        raise BadInput("mark", _("a melting integral belongs to a fuse: give its marking"))
    if not 1e-6 <= value <= 1e6:
        raise BadInput(
            "melting_ampere2_seconds", _("a melting integral lies between 0.000001 and 1000000 A²s")
        )
    return value


def _guaranteed(fuse: FuseMark) -> float | None:
    """(10 I)² times the shortest time the sheet allows there, None where it sets no limit."""
    if fuse.characteristic is None or fuse.breaking_letter is None:
        return None
    gate = gate_for(fuse.characteristic, fuse.breaking_letter, fuse.current_milliampere)
    if gate is None or gate.at_10[0] is None:
        return None
    return (fuse.current_milliampere / 100) ** 2 * gate.at_10[0]


def _typical(fuse: FuseMark) -> float | None:
    if fuse.characteristic is None:
        return None
    return TYPICAL_I2T[fuse.characteristic] * (fuse.current_milliampere / 1000) ** 2


def _verdict(fuse: FuseMark | None, value: InrushOut, is_by_maker: bool) -> tuple[str, Outcome]:
    if fuse is None:
        if value.least_member_ampere is None:
            return _("No miniature fuse is sure to survive this surge."), Outcome.NO_ANSWER
        least = in_words(value.least_member_ampere * 1000)
        return _("By its sheet a T L fuse from {least} survives.", least=least), Outcome.WARN
    if value.survives is None:
        text = _("Nothing sure is known of {mark} against a surge.", mark=fuse.text())
        return text, Outcome.WARN
    if value.survives and is_by_maker:
        return _("{mark} survives the surge.", mark=fuse.text()), Outcome.OK
    if value.survives:
        return _("By its sheet {mark} survives the surge.", mark=fuse.text()), Outcome.WARN
    return _("{mark} may blow when switched on.", mark=fuse.text()), Outcome.WARN


def _lines(given: InrushIn, value: InrushOut) -> list[Line]:
    load, surge = f"{value.load_ampere:.4g} A", f"{value.surge_ampere:.4g} A"
    integral = f"{value.surge_ampere2_seconds:.4g} A²s"
    lines = [
        Line(_("full load"), "I = VA / V" if given.load_va else "I", load),
        Line(_("surge"), f"{given.inrush_times:g} × {load}", surge),
        Line(_("its integral"), f"({surge})² × {given.pulse_seconds:g} s", integral),
        Line(_("least T L rating"), f"√({integral} / 2)", f"{value.least_ampere:.4g} A"),
    ]
    found = (
        (
            _("sure by the sheet"),
            _("(10 I)² × least time at 10 I"),
            value.guaranteed_ampere2_seconds,
        ),
        (_("by the maker"), _("as given"), given.melting_ampere2_seconds),
        (_("typical of the kind"), _("for comparison only"), value.typical_ampere2_seconds),
    )
    return lines + [
        Line(label, formula, f"{integral:.4g} A²s")
        for label, formula, integral in found
        if integral is not None
    ]


def _sources() -> list[Source]:
    return [INRUSH_SOURCE, SURGE_SOURCE, GATE_MEMORY, TYPICAL_SOURCE, TOROID_SOURCE, PEAK_SOURCE]


LARGE_VA = 1500.0


def _volt_ampere(given: InrushIn, value: InrushOut) -> float | None:
    if given.load_va is not None:
        return given.load_va
    return given.mains_volt * value.load_ampere if given.mains_volt is not None else None


def _cautions(given: InrushIn, fuse: FuseMark | None, value: InrushOut) -> list[str]:
    va = _volt_ampere(given, value)
    said = [
        _("A fuse that blows at switching on is no reason for a larger or slower one: look first."),
        _("The maker's marking for the target supply always wins over a computed value."),
    ]
    if given.melting_ampere2_seconds is None:
        said.append(_("The sheet's times are from memory: read the sheet or the maker's curve."))
    if va is not None and va >= LARGE_VA:
        said.append(
            _("A toroid of this size wants an NTC or a resistor bypassed after 30 to 300 ms.")
        )
    if fuse is not None and fuse.characteristic in ("F", "FF"):
        said.append(
            _("A quick fuse in a transformer primary only where the unit's own marking says so.")
        )
    return said


def _differ() -> list[str]:
    return [
        _("Toroid inrush: 8 to 15 times rated (r.m.s., first cycles) or 30 to 90 times (peak)."),
        _("Time-lag in primaries: above 100 VA by one note, below 300 VA enough by another."),
    ]
