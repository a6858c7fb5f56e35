"""When a unit counts as dead: volts at the plug, on reservoirs, the proving source, the waits.

The plug: the lowest volts of all published rules. A reservoir: the bench's own 50 V, in damp
places the 30 V d.c. of IEC 61140. Times: how long to wait where nothing is known, and how long
before volts that came back are read again. Units: volt d.c. (proving: r.m.s.), second.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.discharge.plug_pins import RULES
from shop.calc.discharge.shared import LIVE_VOLT, RECHECK_SECONDS, SAFE_VOLT
from shop.calc.fields import MainsVolt, fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

DAMP_VOLT: Final = 30.0
# Every proving unit gives this much; a meter that misses it would miss a reservoir too.
PROVING_LOW_VOLT: Final = 12.0
PROVING_HIGH: Final = 1.1
LEAST_WAIT_SECONDS: Final = 10.0
BLIND_WAIT_SECONDS: Final = 300.0

EXAMPLE = {"bench_volt": 230}


class DeadIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The bench at which is worked."""

    bench_volt: Annotated[
        MainsVolt | None,
        Meta(title="Supply at the bench", description="V r.m.s.; the source a meter is proved on"),
    ] = None
    is_damp: Annotated[
        bool, Meta(title="Damp place", description="wet floor, wet hands, a cellar")
    ] = False


class Dead(msgspec.Struct, frozen=True):
    """The volts at or below which it may be touched, and the times; `live_volt` is to know.

    `proving_high_volt` is None where the bench's supply was not given.
    """

    plug_volt: float
    reservoir_volt: float
    live_volt: float
    proving_low_volt: float
    proving_high_volt: float | None
    least_wait_seconds: float
    blind_wait_seconds: float
    again_seconds: float


def plug_volt() -> float:
    """The lowest volts that a published rule allows at the pins of a plug just pulled."""
    return min(rule.volt for rule in RULES if rule.volt is not None)


@calculator(
    "discharge.dead",
    "When a unit counts as dead",
    question="Below which volts may I touch the plug and the reservoirs, and what proves my meter?",
    example=EXAMPLE,
)
def dead(given: DeadIn) -> Answer[Dead]:
    """The limits of dead working: plug, reservoirs, proving source, waiting times.

    Units: volt d.c. (proving source r.m.s.), second.
    Source: the rules of `plug_discharge`; IEC 61140; 50 V and the times are proposals.
    """
    given = fit(given)
    value = Dead(
        plug_volt=plug_volt(),
        reservoir_volt=DAMP_VOLT if given.is_damp else SAFE_VOLT,
        live_volt=LIVE_VOLT,
        proving_low_volt=PROVING_LOW_VOLT,
        proving_high_volt=given.bench_volt and round(given.bench_volt * PROVING_HIGH, 6),
        least_wait_seconds=LEAST_WAIT_SECONDS,
        blind_wait_seconds=BLIND_WAIT_SECONDS,
        again_seconds=RECHECK_SECONDS,
    )
    text = _(
        "At most {plug:g} V at the plug and {reservoir:g} V d.c. on every reservoir.",
        plug=value.plug_volt,
        reservoir=value.reservoir_volt,
    )
    return Answer(Outcome.OK, text, value, _working(given, value))


def _working(given: DeadIn, value: Dead) -> Working:
    lines = [
        Line(_("plug's pins"), _("lowest of the published rules"), f"{value.plug_volt:g} V"),
        Line(
            _("reservoirs"),
            _("in damp places") if given.is_damp else _("the rule of this bench"),
            f"{value.reservoir_volt:g} V",
        ),
        Line(_("wait, nothing known"), _("then measure all the same"),
             f"{value.blind_wait_seconds:g} s"),
        Line(_("read again after"), _("volts come back"), f"{value.again_seconds:g} s"),
    ]  # fmt: skip
    if value.proving_high_volt is not None:
        span = f"{value.proving_low_volt:g} – {value.proving_high_volt:g} V"
        lines.append(Line(_("proving source"), _("to 110 % of the bench's supply"), span))
    return Working(lines, _SOURCES, _cautions(), _disagreements())


def _cautions() -> list[str]:
    return [
        _("Prove the meter, read, prove it again: a dead meter reads dead."),
        _("Between both ends of a reservoir, then each end to chassis. Above 60 V is live."),
        _("Local codes and licensed practice come first."),
    ]


def _disagreements() -> list[str]:
    return [
        _("Safe d.c. volts: 60 V (IEC 61140, dry), 30 V (damp), 42.4 V (IEC 60335-1); here 50 V."),
        _("One national summary gives 45 V for the plug where IEC 60335-1 says 34 V."),
    ]


_SOURCES = [
    *(
        Source(f"{rule.name}: {rule.volt:g} V after {rule.after_seconds:g} s", rule.status)
        for rule in RULES
        if rule.volt is not None
    ),
    Source("60 V d.c. dry, 30 V d.c. damp", Status.VERIFIED,
           "IEC 61140 as excerpted in IEC 63044-3"),
    Source("50 V on a reservoir before touching; waits of 10 s, 60 s and 300 s", Status.PROPOSED),
    Source("prove, test, prove", Status.SECOND_HAND, "HSE GS38, by training text"),
    Source("a proving source from 12 V to 110 % of the bench's supply", Status.PROPOSED),
]  # fmt: skip
