"""How far off a reading may be by the meter's specification, and whether that is good enough."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.decimals import canonical
from shop.calc.fields import fit
from shop.calc.judging import SQRT_3, Accuracy, expanded_uncertainty, meter_limit
from shop.calc.quantities import Quantity
from shop.calc.readings.parse import QUANTITY_LABELS
from shop.calc.readings.typed import format_reading
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

LOWEST_RATIO: Final = 4.0
LEADS_MATTER_BELOW_OHM: Final = 100.0
SHOWN_DIGITS: Final = 6
# Below this a meter would be called perfect, and a ratio to it says nothing.
SMALLEST_LIMIT: Final = 1e-15
PermittedError = Annotated[float, Meta(ge=1e-15, le=1e12)]


class AccuracyIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A reading, the meter's specification on that range, and what it is to be compared with."""

    value: Annotated[
        float,
        Meta(ge=-1e12, le=1e12, title="Reading", description="in volt, ampere, ohm and so on"),
    ]
    quantity: Annotated[
        Quantity,
        Meta(
            title="Quantity",
            description="decides the unit",
            extra_json_schema={"x-labels": QUANTITY_LABELS},
        ),
    ]
    accuracy: Annotated[
        Accuracy,
        Meta(title="Accuracy of the meter", description="per cent of reading and counts"),
    ]
    permitted_error: Annotated[
        PermittedError | None,
        Meta(
            title="Permitted error",
            description="plus and minus this much is allowed, in the unit of the reading; for the "
            "ratio of it to the meter's own error",
        ),
    ] = None


class MeterBand(msgspec.Struct, frozen=True):
    """Largest error of the meter, where the true value lies, and the uncertainties."""

    limit: float
    low: float
    high: float
    standard_uncertainty: float
    expanded_uncertainty: float
    test_accuracy_ratio: float | None


@calculator(
    "readings.accuracy",
    "How far a meter can be trusted",
    question="How far off may this reading be with my meter?",
    # A published meter specification: 2.000 V on 0.08 % + 2 counts of 1 mV is ±0.0036 V.
    example={
        "value": 2.0,
        "quantity": "voltage_dc",
        "accuracy": {"pct": 0.08, "counts": 2, "resolution": 0.001},
    },
)
def accuracy(given: AccuracyIn) -> Answer[MeterBand]:
    """Band of the true value from ±(per cent of reading + counts).

    Formulas: limit = |reading| x pct / 100 + counts x resolution; u = limit / sqrt(3); U = 2 u;
    ratio = permitted error / limit.
    Units: the quantity's own, %. Source: meters' manuals; u by the GUM, type B (from memory).
    """
    given = fit(given)
    value = _band(given)
    doubts = _doubts(given, value)
    text = _(
        "{value} ± {limit}: between {low} and {high}.",
        value=_shown(given.value, given),
        limit=_shown(value.limit, given),
        low=_shown(value.low, given),
        high=_shown(value.high, given),
    )
    return Answer(
        Outcome.WARN if doubts else Outcome.OK,
        text,
        value,
        Working(_lines(given, value), SOURCES, [*doubts, *_usual(given)]),
    )


def _band(given: AccuracyIn) -> MeterBand:
    limit = meter_limit(given.value, given.accuracy)
    has_ratio = given.permitted_error is not None and limit >= SMALLEST_LIMIT
    ratio = (given.permitted_error or 0.0) / limit if has_ratio else None
    return MeterBand(
        limit,
        given.value - limit,
        given.value + limit,
        limit / SQRT_3,
        expanded_uncertainty(given.value, given.accuracy),
        ratio,
    )


def _doubts(given: AccuracyIn, band: MeterBand) -> list[str]:
    doubts = []
    if band.test_accuracy_ratio is not None and band.test_accuracy_ratio < LOWEST_RATIO:
        doubts.append(_("The meter is less than four times better than what it is to judge."))
    if band.limit >= abs(given.value):
        doubts.append(_("The meter's error is as large as the reading: take a lower range."))
    return doubts


def _usual(given: AccuracyIn) -> list[str]:
    if given.quantity is not Quantity.RESISTANCE or given.value >= LEADS_MATTER_BELOW_OHM:
        return []
    return [_("Subtract what the meter shows with its leads shorted, usually 0.2 to 0.5 ohm.")]


def _shown(value: float, given: AccuracyIn) -> str:
    return format_reading(canonical(f"{value:.15g}"), given.quantity, SHOWN_DIGITS)


def _lines(given: AccuracyIn, band: MeterBand) -> list[Line]:
    spec = given.accuracy
    terms = f"{abs(given.value):g} x {spec.pct:g} % + {spec.counts:g} x {spec.resolution:g}"
    between = f"{_shown(band.low, given)} … {_shown(band.high, given)}"
    lines = [
        Line(_("largest error"), terms, f"±{_shown(band.limit, given)}"),
        Line(_("true value between"), _("reading ± largest error"), between),
        Line(_("standard uncertainty u"), "limit / sqrt(3)",
             _shown(band.standard_uncertainty, given)),
        Line(_("expanded uncertainty U"), "2 u", _shown(band.expanded_uncertainty, given)),
    ]  # fmt: skip
    if band.test_accuracy_ratio is not None:
        ratio = f"{band.test_accuracy_ratio:.3g} : 1"
        lines.append(Line(_("test accuracy ratio"), _("permitted error / largest error"), ratio))
    return lines


SOURCES: Final = [
    Source("±(per cent of reading + counts of the last digit)", Status.SECOND_HAND,
           "two published guides to meter specifications"),
    Source("u = limit / sqrt(3), U = 2 u", Status.FROM_MEMORY, "JCGM 100:2008 4.3.7 and 6.2.1"),
    Source("a ratio of at least 4 to 1 was demanded", Status.SECOND_HAND,
           "MIL-STD-45662A as quoted in an instrument's service manual"),
    Source("leads of 0.2 to 0.5 ohm are subtracted", Status.SECOND_HAND,
           "a published guide to meter specifications"),
]  # fmt: skip
