"""Which kinds of supply may be powered through a lamp at all."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.lamp import cautions
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working


class SupplyKind(StrEnum):
    """The kind of supply inside the unit."""

    LINEAR = "linear"
    VALVE_RECTIFIER = "valve_rectifier"
    MOTOR = "motor"
    RELAY = "relay"
    SWITCH_MODE = "switch_mode"
    UNKNOWN = "unknown"


KIND_LABELS = {
    "linear": gettext_noop("transformer and rectifier"),
    "valve_rectifier": gettext_noop("valve rectifier"),
    "motor": gettext_noop("with a mains motor"),
    "relay": gettext_noop("with relays"),
    "switch_mode": gettext_noop("switch-mode"),
    "unknown": gettext_noop("not known yet"),
}
Kind = Annotated[
    SupplyKind,
    Meta(
        title="Kind of supply",
        description="what feeds the rails inside the unit; look before you guess",
        extra_json_schema={"x-labels": KIND_LABELS},
    ),
]


class GateIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The kind of supply."""

    kind: Kind


class Gate(msgspec.Struct, frozen=True):
    """Whether the ramp may begin, and what is different for this kind."""

    may_ramp: bool
    reason: str


_GATES = {
    SupplyKind.LINEAR: (
        Outcome.OK,
        gettext_noop("Transformer and rectifier: the lamp and a ramp suit it."),
    ),
    SupplyKind.VALVE_RECTIFIER: (
        Outcome.WARN,
        gettext_noop(
            "A valve rectifier conducts only when hot: no rail at low settings, then a step. Judge "
            "the rail from about three quarters of full line upwards."
        ),
    ),
    SupplyKind.MOTOR: (
        Outcome.WARN,
        gettext_noop(
            "A motor may stall and overheat at low voltage: unplug it for the ramp, or go quickly "
            "past the low settings."
        ),
    ),
    SupplyKind.RELAY: (
        Outcome.WARN,
        gettext_noop(
            "Relays chatter at low voltage: a pulsing lamp may be no fault. Block them or go on."
        ),
    ),
    SupplyKind.SWITCH_MODE: (
        Outcome.REFUSE,
        gettext_noop(
            "A switch-mode supply takes more current as the voltage falls (I = P / V): behind a "
            "lamp it has a starved state or no operating point, and may burn its switch."
        ),
    ),
    SupplyKind.UNKNOWN: (
        Outcome.NO_ANSWER,
        gettext_noop(
            "Find out first what kind of supply it is: a switch-mode one must not be ramped."
        ),
    ),
}


@calculator(
    "series_lamp.gate",
    "May this unit be powered up through a lamp",
    question="May I bring this unit up slowly behind a lamp?",
    example={"kind": "linear"},
)
def gate(given: GateIn) -> Answer[Gate]:
    """Refuse switch-mode supplies; say what is different for motors, relays, valve rectifiers.

    Source: constant power draws more current from less voltage; the rest from memory.
    """
    outcome, key = _GATES[fit(given).kind]
    reason = _(key)
    lines = [Line(_("constant power, 100 W"), "I = P / V", _("0.43 A at 230 V, 1.11 A at 90 V"))]
    sources = [
        Source("current of a constant-power load rises as voltage falls", Status.COMPUTED),
        Source("motors, relays, valve rectifiers at low voltage", Status.FROM_MEMORY),
    ]
    may_ramp = outcome in (Outcome.OK, Outcome.WARN)
    return Answer(outcome, reason, Gate(may_ramp, reason), Working(lines, sources, cautions()))
