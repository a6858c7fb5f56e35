"""What each guard band lets through: acceptance limits and the worst risk of a wrong pass."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.judging.rules import chance_outside
from shop.calc.registry import calculator
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# Guard band as a multiple of U, and whose habit it is.
GUARDS: Final = (
    (0.0, gettext_noop("simple acceptance")),
    (0.5, gettext_noop("half of U")),
    (0.825, gettext_noop("1.65 u, one-sided 95 %")),
    (1.0, gettext_noop("guarded: the whole of U")),
    (1.5, gettext_noop("1.5 U")),
)
Limit = Annotated[float, Meta(ge=-1e12, le=1e12)]


class GuardBandsIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The limits and the expanded uncertainty of the readings to come."""

    expanded_uncertainty: Annotated[
        float,
        Meta(ge=0, le=1e12, title="Expanded uncertainty",
             description="U with k = 2, in the unit of the limits"),
    ]  # fmt: skip
    low: Annotated[
        Limit | None, Meta(title="Lower limit", description="same unit; none if left out")
    ] = None
    high: Annotated[
        Limit | None, Meta(title="Upper limit", description="same unit; none if left out")
    ] = None


class GuardBand(msgspec.Struct, frozen=True):
    """One guard band: what passes, None without that limit, and the worst risk of a wrong pass.

    `is_possible` is false where nothing is left between the acceptance limits.
    """

    share_of_u: float
    accept_low: float | None
    accept_high: float | None
    is_possible: bool
    worst_risk: float | None


class GuardBands(msgspec.Struct, frozen=True):
    """All guard bands, from none to the widest."""

    bands: list[GuardBand]


@calculator(
    "judging.guard_bands",
    "Guard bands and their risk",
    question="How sure is a pass with this meter, by each decision rule?",
    example={"high": 10.0, "expanded_uncertainty": 1.0},
)
def guard_bands(given: GuardBandsIn) -> Answer[GuardBands]:
    """Acceptance limits AL = limit - w (or + w) and the risk of a true value outside, at AL.

    Raises BadInput (no_limits, limits_crossed).
    Source: ILAC-G8:09/2019.
    """
    given = fit(given)
    if given.low is None and given.high is None:
        raise BadInput("low", _("Give a lower or an upper limit."), "no_limits")
    if given.low is not None and given.high is not None and given.low > given.high:
        raise BadInput("low", _("The lower limit is above the upper one."), "limits_crossed")
    bands = [_band(given, share) for share, _name in GUARDS]
    lines = [_line(band, name) for band, (_share, name) in zip(bands, GUARDS, strict=True)]
    guarded = next(band for band in bands if band.share_of_u == 1.0)
    if not guarded.is_possible:
        text = _("Meter not good enough: with the whole of U as guard band nothing can pass.")
        return Answer(Outcome.WARN, text, GuardBands(bands), Working(lines, SOURCES))
    text = _("Passes from {low} to {high} with the whole of U as guard band; risk {risk:.1%}.",
             low=_said(guarded.accept_low), high=_said(guarded.accept_high),
             risk=guarded.worst_risk)  # fmt: skip
    return Answer(Outcome.OK, text, GuardBands(bands), Working(lines, SOURCES))


def _band(given: GuardBandsIn, share: float) -> GuardBand:
    w = share * given.expanded_uncertainty
    low = None if given.low is None else given.low + w
    high = None if given.high is None else given.high - w
    if low is not None and high is not None and low > high:
        return GuardBand(share, low, high, False, None)
    edges = [edge for edge in (low, high) if edge is not None]
    risks = [
        chance_outside(edge, given.low, given.high, given.expanded_uncertainty) for edge in edges
    ]
    return GuardBand(share, low, high, True, max(risks))


def _line(band: GuardBand, name: str) -> Line:
    formula = f"w = {band.share_of_u:g} U"
    if band.worst_risk is None:
        return Line(_(name), formula, _("nothing can pass"))
    between = f"{_said(band.accept_low)} … {_said(band.accept_high)}"
    result = _("{between}, risk {risk:.2%}", between=between, risk=band.worst_risk)
    return Line(_(name), formula, result)


def _said(limit: float | None) -> str:
    return _("no limit") if limit is None else f"{limit:.6g}"


SOURCES: Final = [
    Source("w = 0: up to 50 %; w = U: below 2.5 %", Status.SECOND_HAND,
           "ILAC-G8:09/2019 as quoted at tla.sgs.com/thelabsgs/Decision-Rule.php"),
    Source("the other risks: Phi(-w / u), u = U / 2", Status.COMPUTED, "normal distribution"),
    Source("w = 1.65 u", Status.FROM_MEMORY, "ISO 14253-1:2017, default of 95 %"),
]  # fmt: skip
