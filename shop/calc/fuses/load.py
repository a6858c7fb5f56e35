"""A fuse from the load: steady current, temperature, inrush, and building-practice ceiling."""

from __future__ import annotations

from math import sqrt
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, Celsius, MainsVolt, VoltAmpere, fit
from shop.calc.fuses.ceiling import CEILING_SOURCE, primary_percent
from shop.calc.fuses.gates import GATE_MEMORY
from shop.calc.fuses.marking import STANDARD_LABELS, Standard
from shop.calc.fuses.series import R10_MILLIAMPERE, SERIES_SOURCE, in_words
from shop.calc.fuses.ul import CONTINUOUS_LOAD_OF_UL, UL_RATIO_SOURCE
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

INRUSH_SOURCE = Source(
    "Control-transformer inrush 25 to 40 times full load in the first half cycle",
    Status.SECOND_HAND,
    "studylib.net/doc/18075878/primary-fuses-for-lv-control-transformers",
)
TEMPERATURE_SOURCE = Source(
    "Slopes above 25 C: 0.5 %/K time-lag, 0.2 %/K quick", Status.FROM_MEMORY
)
SURGE_SOURCE = Source("T L holds 10 times for 20 ms: I >= k I_load sqrt(0.01/2)", Status.COMPUTED)


class LoadIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The load as a current, or as volt-amperes at a voltage."""

    load_ampere: Annotated[
        Ampere | None, Meta(title="Load current", description="steady; or give VA and volts")
    ] = None
    load_va: Annotated[
        VoltAmpere | None, Meta(title="Load power", description="needs the mains volts")
    ] = None
    mains_volt: Annotated[MainsVolt | None, Meta(title="Mains")] = None
    standard: Annotated[
        Standard,
        Meta(
            title="Standard",
            description="of the rating that is wanted",
            extra_json_schema=STANDARD_LABELS,
        ),
    ] = "iec"
    characteristic: Annotated[
        Literal["F", "T"],
        Meta(
            title="Characteristic",
            description="in a transformer primary T, unless the unit says F",
            extra_json_schema={"x-labels": {"F": _noop("F, quick"), "T": _noop("T, time-lag")}},
        ),
    ] = "T"
    ambient_celsius: Annotated[
        Celsius, Meta(title="Temperature at the fuse", description="-40 to 125 °C, inside the unit")
    ] = 25.0
    continuous_factor: Annotated[
        float | None,
        Meta(
            title="Load over rating",
            description="0.25 to 1; 0.75 for UL and 1 for IEC if left out",
        ),
    ] = None
    temperature_factor: Annotated[
        float | None,
        Meta(
            title="Derating by temperature",
            description="0.25 to 1 from the maker's curve; by slope if left out",
        ),
    ] = None
    is_transformer_primary: Annotated[
        bool, Meta(title="Feeds a transformer", description="then the inrush counts")
    ] = True
    own_marking_says_f: Annotated[
        bool, Meta(title="Unit says F", description="the unit's own marking asks for F here")
    ] = False
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


class LoadOut(msgspec.Struct, frozen=True):
    """Currents in ampere. `ceiling_ampere` is building practice, not a recommendation."""

    load_ampere: float
    minimum_ampere: float
    inrush_peak_ampere: float
    inrush_minimum_ampere: float
    ceiling_ampere: float
    motor_control_ceiling_ampere: float | None
    pick_ampere: float | None
    pick_text: str
    characteristic: str
    inrush_guaranteed: bool


@calculator(
    "fuses.for_load",
    "Fuse for a load",
    question="Which fuse carries this load at this temperature and survives switching on?",
    # Fuse-maker's guide for control transformers: studylib.net/doc/18075878.
    example={"load_va": 300.0, "mains_volt": 600.0},
)
def for_load(given: LoadIn) -> Answer[LoadOut]:
    """Size a fuse from the steady load.

    Units: A, V, VA, C. Formula: I_min = I_load / (k_cont k_temp); for the inrush
    I >= k I_load sqrt(0.01/2).
    Picks the lowest R10 member that meets both and stays under the ceiling of NEC 450.3(B).
    Raises BadInput where the load is missing, or for F in a transformer primary whose own marking
    does not say F (a quick fuse has no minimum time at inrush).
    Source: NEC table 450.3(B) (second-hand), IEC 60127-2 gates (from memory); see the working.
    """
    given = fit(given)
    if given.is_transformer_primary and given.characteristic == "F":
        _require_own_marking(given)
    load = load_ampere(given.load_ampere, given.load_va, given.mains_volt)
    continuous, temperature = _factors(given)
    minimum = load / (continuous * temperature)
    value = _value(given, load, minimum)
    outcome = _outcome(given, value)
    lines = [
        Line(_("steady load"), "I = VA / V", f"{load:.4g} A"),
        Line(_("least rating"), f"I / ({continuous:g} × {temperature:.4g})", f"{minimum:.4g} A"),
        Line(
            _("inrush"),
            f"{given.inrush_times:g} × I for 10 ms",
            f"{value.inrush_peak_ampere:.4g} A",
        ),
        Line(_("ceiling"), "NEC 450.3(B)", f"{value.ceiling_ampere:.4g} A"),
    ]
    text = (
        _("Proposed rating: {kind} {pick}.", kind=given.characteristic, pick=value.pick_text)
        if value.pick_ampere
        else _("No member of the series fits between least rating and ceiling.")
    )
    return Answer(
        outcome, text, value, Working(lines, _sources(given), _cautions(given, value), _differ())
    )


def _require_own_marking(given: LoadIn) -> None:
    if not given.own_marking_says_f:
        raise BadInput(
            "characteristic",
            _("F is not for a transformer primary unless the unit's own marking says F"),
        )


def load_ampere(ampere: float | None, va: float | None, volt: float | None) -> float:
    """The load in A, from volt-amperes where those are given. Raises BadInput for neither or both.

    The fields are called `load_ampere`, `load_va` and `mains_volt`.
    """
    if ampere is not None:
        if va is not None:
            raise BadInput("load_va", _("give the load as ampere or as volt-ampere, not both"))
        return ampere
    if va is None:
        raise BadInput("load_ampere", _("the load is missing"))
    if volt is None:
        raise BadInput("mains_volt", _("volt-amperes need the mains voltage"))
    load = va / volt
    if load > 1000:
        raise BadInput("load_va", _("this load is no bench unit"))
    return load


def _factors(given: LoadIn) -> tuple[float, float]:
    default = CONTINUOUS_LOAD_OF_UL if given.standard == "ul" else 1.0
    slope = 0.005 if given.characteristic == "T" else 0.002
    by_slope = min(1.0, 1 - slope * (given.ambient_celsius - 25))
    return (
        _factor(given.continuous_factor, default, "continuous_factor"),
        _factor(given.temperature_factor, by_slope, "temperature_factor"),
    )


def _factor(value: float | None, default: float, field: str) -> float:
    if value is None:
        return default
    if not 0.25 <= value <= 1:
        raise BadInput(field, _("a factor lies between 0.25 and 1"))
    return value


def _value(given: LoadIn, load: float, minimum: float) -> LoadOut:
    surge = given.inrush_times * load * sqrt(0.01 / 2)
    thin = surge * sqrt(2)  # below 125 mA a T L fuse holds ten times for 10 ms only
    wanted = max(minimum, surge) if given.is_transformer_primary else minimum
    ceiling = primary_percent(load) / 100 * load
    fits = [m / 1000 for m in R10_MILLIAMPERE if minimum <= m / 1000 * (1 + 1e-9)]
    under = [m for m in fits if m <= max(ceiling, minimum * 1.26)]
    pick = next((m for m in under if m >= wanted * (1 - 1e-9)), under[-1] if under else None)
    needed = surge if pick is None or pick >= 0.125 else thin
    # The hold time is one of IEC sheets, to 10 A: UL 248-14 knows none at ten times the rating.
    is_sheet_t = given.characteristic == "T" and given.standard == "iec" and (pick or 0) <= 10
    guaranteed = pick is not None and pick >= needed * (1 - 1e-9) and is_sheet_t
    return LoadOut(
        load_ampere=load,
        minimum_ampere=minimum,
        inrush_peak_ampere=given.inrush_times * load,
        inrush_minimum_ampere=surge,
        ceiling_ampere=ceiling,
        motor_control_ceiling_ampere=5.0 * load if load < 2 else None,
        pick_ampere=pick,
        pick_text=in_words(pick * 1000) if pick else "",
        characteristic=given.characteristic,
        inrush_guaranteed=guaranteed,
    )


def _outcome(given: LoadIn, value: LoadOut) -> Outcome:
    if value.pick_ampere is None:
        return Outcome.NO_ANSWER
    unsure = given.is_transformer_primary and not value.inrush_guaranteed
    return Outcome.WARN if unsure or value.pick_ampere > value.ceiling_ampere else Outcome.OK


def _sources(given: LoadIn) -> list[Source]:
    named = [SERIES_SOURCE, TEMPERATURE_SOURCE, SURGE_SOURCE, GATE_MEMORY, INRUSH_SOURCE]
    return [*named, CEILING_SOURCE, *([UL_RATIO_SOURCE] if given.standard == "ul" else [])]


def _differ() -> list[str]:
    return [
        _("Toroid inrush: 8 to 15 times rated (r.m.s., first cycles) or 30 to 90 times (peak)."),
        _("Time-lag in primaries: above 100 VA by one note, below 300 VA enough by another."),
        _("A guide for space hardware loads fuses to 25 to 50 % only, less above 25 °C."),
    ]


def _cautions(given: LoadIn, value: LoadOut) -> list[str]:
    said = [
        _("A computed fuse is a proposal for a competent person to confirm."),
        _("The maker's marking for the target supply always wins over a computed value."),
        _("Local codes and licensed practice come first."),
    ]
    if given.is_transformer_primary and not value.inrush_guaranteed:
        said.append(_("This rating is not guaranteed to survive the assumed inrush."))
    return said
