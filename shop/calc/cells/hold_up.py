"""How long a capacitor keeps a memory alive while its cell is changed."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working


class HoldUpIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A capacitor from `from_volt` down to `to_volt` at a constant current."""

    farad: Annotated[float, Meta(ge=1e-12, le=10_000, description="F")]
    from_volt: Annotated[float, Meta(ge=0.1, le=100, description="V")]
    to_volt: Annotated[float, Meta(ge=0, le=100, description="V the memory still needs")]
    current_a: Annotated[float, Meta(ge=1e-12, le=100, description="A")]
    esr_ohm: Annotated[float, Meta(ge=0, le=1000, description="ohm")] = 0.0


class HoldUp(msgspec.Struct, frozen=True):
    """Seconds, and the energy given up (J)."""

    seconds: float
    joule: float


def hold_up_seconds(
    farad: float, from_volt: float, to_volt: float, current_a: float, esr_ohm: float = 0.0
) -> float:
    """t = C (V1 - I ESR - V2) / I; nothing if the first drop already takes it all."""
    return max(farad * (from_volt - current_a * esr_ohm - to_volt) / current_a, 0.0)


def hold_up_seconds_at_power(farad: float, from_volt: float, to_volt: float, watt: float) -> float:
    """t = C (V1^2 - V2^2) / (2 P), for a load that takes constant power."""
    return max(farad * (from_volt**2 - to_volt**2) / (2.0 * watt), 0.0)


@calculator("cells.hold_up", "How long a capacitor keeps the memory during the swap")
def hold_up(given: HoldUpIn) -> Answer[HoldUp]:
    """Hold-up at constant current. Raises BadInput if the volts are the wrong way round."""
    given = fit(given)
    if given.to_volt >= given.from_volt:
        reason = _("The capacitor must start above what the memory needs.")
        raise BadInput("to_volt", reason, "limits_crossed")
    seconds = hold_up_seconds(
        given.farad, given.from_volt, given.to_volt, given.current_a, given.esr_ohm
    )
    joule = 0.5 * given.farad * (given.from_volt**2 - given.to_volt**2)
    lines = [
        Line(_("hold-up"), "C (V1 - I ESR - V2) / I", f"{seconds:.1f} s"),
        Line(_("energy"), "C (V1^2 - V2^2) / 2", f"{joule:.4g} J"),
    ]
    sources = [Source("constant-current discharge of a capacitor", Status.COMPUTED)]
    caution = _("Do not rely on the unit's own capacitors: dump the memory first.")
    working = Working(lines, sources, [caution])
    return Answer(Outcome.OK, f"{seconds:.0f} s", HoldUp(seconds, joule), working)
