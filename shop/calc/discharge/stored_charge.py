"""May a charged part be touched: the published limits of charge, energy, capacitance and volts.

Q = C V, E = C V^2 / 2. The rules differ in what they bound, so each is answered on its own, with
the voltage to which the part would have to come down for it.
"""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.discharge.arithmetic import charge, energy, returning
from shop.calc.discharge.shared import cautions
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.shown import farads
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

STEADY_PEAK_VOLT: Final = 42.4
STEADY_DC_VOLT: Final = 60.0
TOUCH_CHARGE_COULOMB: Final = 45e-6
MACHINE_CHARGE_COULOMB: Final = 60e-6
TOUCH_JOULE: Final = 0.35
SMALL_FARAD: Final = 0.1e-6
# From here a metal short throws sparks that hurt; a proposal.
BURN_JOULE: Final = 1.0
CHARGE_TOP_VOLT: Final = 15_000.0
# What is exactly at a limit must not fail by the last bit of a product.
LAST_BIT: Final = 1 + 1e-9
# Farad and peak volts; a size between two rows gets the volts of the larger.
ES1_ROWS: Final = (
    (300e-9, 60.0), (170e-9, 75.0), (91e-9, 100.0), (61e-9, 125.0), (41e-9, 150.0),
    (28e-9, 200.0), (18e-9, 250.0), (12e-9, 350.0), (8e-9, 500.0), (4e-9, 1000.0),
)  # fmt: skip


class StoredChargeIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A charged part that a hand could reach: its size and the volts on it."""

    farad: Annotated[
        float,
        Meta(title="Capacitance", ge=1e-12, le=10, description="farad, 1 pF to 10 F"),
    ]
    peak_volt: Annotated[
        float,
        Meta(
            title="Voltage on it",
            ge=0,
            le=50_000,
            description="peak volts when it is touched: measured, or after the waiting time",
        ),
    ]


class TouchRule(msgspec.Struct, frozen=True):
    """One rule on this part; `down_to_volt` is the highest voltage that it would allow."""

    name: str
    bounds: str
    is_met: bool
    down_to_volt: float


class StoredCharge(msgspec.Struct, frozen=True):
    """Charge, energy, each rule, and the strictest of the voltages they allow."""

    coulomb: float
    joule: float
    rules: list[TouchRule]
    is_touchable: bool
    down_to_volt: float
    may_return_volt: tuple[float, float]


# Case of a test engineers' list: 4.4 uF still at 80 V five seconds after disconnection.
EXAMPLE = {"farad": 4.4e-6, "peak_volt": 80.0}


def household_volt(farad: float) -> float:
    """The highest peak volts that IEC 60335-1, 8.1.4, allows for a size, without a gap below.

    42.4 V; up to 0.1 uF also 450 V, or the volts for 45 uC up to 15 kV, or for 350 mJ above.
    """
    if farad > SMALL_FARAD * LAST_BIT:
        return STEADY_PEAK_VOLT
    by_charge = TOUCH_CHARGE_COULOMB / farad
    if by_charge < CHARGE_TOP_VOLT:
        return max(by_charge, 450.0)
    return max(CHARGE_TOP_VOLT, sqrt(2 * TOUCH_JOULE / farad))


def es1_volt(farad: float) -> float:
    """ES1 peak volts of IEC 62368-1, table 5: of the row at or above the size, the stricter."""
    rows = reversed(ES1_ROWS)
    return next((volt for size, volt in rows if farad <= size * LAST_BIT), STEADY_DC_VOLT)


def charge_volt(farad: float) -> float:
    """The steady 60 V d.c., or the volts for 45 uC (IEC 61010-1, 6.3)."""
    return max(STEADY_DC_VOLT, TOUCH_CHARGE_COULOMB / farad)


def machine_volt(farad: float) -> float:
    """60 V, or the volts for 60 uC (IEC 60204-1, 6.2.4)."""
    return max(STEADY_DC_VOLT, MACHINE_CHARGE_COULOMB / farad)


_RULES: Final[tuple[tuple[str, str, Callable[[float], float]], ...]] = (
    ("IEC 60335-1, 8.1.4", _noop("42.4 V; 0.1 µF to 450 V; 45 µC to 15 kV; then 350 mJ"),
     household_volt),
    ("IEC 62368-1, table 5", _noop("ES1: 60 V, more below 300 nF"), es1_volt),
    ("IEC 61010-1, 6.3", _noop("60 V d.c. or 45 µC"), charge_volt),
    ("IEC 60204-1, 6.2.4", _noop("60 V or 60 µC"), machine_volt),
)  # fmt: skip


@calculator(
    "discharge.stored_charge",
    "May a charged part be touched",
    question="Is what is still on this capacitor too much for a part that can be touched?",
    example=EXAMPLE,
)
def stored_charge(given: StoredChargeIn) -> Answer[StoredCharge]:
    """Judge a charge that a hand could reach by four published rules; the strictest counts.

    Units: farad, peak volt in; coulomb, joule, volt out. Formula: Q = C V, E = C V^2 / 2.
    Warns of what one rule forbids. Raises BadInput outside 1 pF to 10 F and 0 to 50 kV.
    Source: IEC 60335-1 8.1.4, IEC 62368-1 table 5, IEC 61010-1 6.3, IEC 60204-1 6.2.4.
    """
    given = fit(given)
    rules = [_judge(given, *rule) for rule in _RULES]
    value = StoredCharge(
        coulomb=charge(given.farad, given.peak_volt),
        joule=energy(given.farad, given.peak_volt),
        rules=rules,
        is_touchable=all(rule.is_met for rule in rules),
        down_to_volt=min(rule.down_to_volt for rule in rules),
        may_return_volt=returning(given.peak_volt),
    )
    outcome = Outcome.OK if value.is_touchable else Outcome.WARN
    said = cautions()
    if value.joule >= BURN_JOULE:
        said.insert(0, _("Touchable or not: a tool or a ring across it draws an arc and burns."))
    working = Working(_lines(given, value), SOURCES, said, _differ())
    return Answer(outcome, _said(value), value, working)


def _judge(
    given: StoredChargeIn, name: str, bounds: str, most: Callable[[float], float]
) -> TouchRule:
    down_to = most(given.farad)
    is_met = given.peak_volt <= down_to * LAST_BIT
    return TouchRule(name, _(bounds), is_met, down_to)


def _said(value: StoredCharge) -> str:
    if value.is_touchable:
        return _("All four rules allow it on a part that can be touched.")
    failed = [rule.name for rule in value.rules if not rule.is_met]
    names = _("all four rules") if len(failed) == len(value.rules) else ", ".join(failed)
    return _(
        "Too much to be touched by {rules}: it has to come down to {volt:.3g} V first.",
        rules=names,
        volt=value.down_to_volt,
    )


def _lines(given: StoredChargeIn, value: StoredCharge) -> list[Line]:
    low, high = value.may_return_volt
    return [
        Line(_("capacitor"), "C", farads(given.farad)),
        Line(_("voltage on it"), "V", f"{given.peak_volt:g} V"),
        Line(_("charge"), "Q = C V", _coulombs(value.coulomb)),
        Line(_("energy"), "E = C V^2 / 2", _joules(value.joule)),
        Line(_("volts that would make 45 µC"), "45 µC / C",
             f"{TOUCH_CHARGE_COULOMB / given.farad:.3g} V"),
        *(Line(rule.name, rule.bounds, _rule_result(rule)) for rule in value.rules),
        Line(_("may return after a short discharge"), "10 to 15 % of V",
             f"{low:.3g} to {high:.3g} V"),
    ]  # fmt: skip


def _coulombs(coulomb: float) -> str:
    if coulomb >= 1e-3:
        return f"{coulomb:.4g} C" if coulomb >= 0.1 else f"{coulomb * 1000:.4g} mC"
    return f"{coulomb * 1e6:.4g} µC"


def _joules(joule: float) -> str:
    return f"{joule:.4g} J" if joule >= 1 else f"{joule * 1000:.4g} mJ"


def _rule_result(rule: TouchRule) -> str:
    said = _("met") if rule.is_met else _("not met")
    return _("{said}: at most {volt:.3g} V for this size", said=said, volt=rule.down_to_volt)


def _differ() -> list[str]:
    return [
        _("The four rules bound different things: capacitance, charge, energy or volts alone."),
        _(
            "Inside an opened unit the bench rule here is 50 V d.c.; on a part that a customer "
            "can touch the strictest rule counts."
        ),
    ]


SOURCES: Final = [
    Source("42.4 V peak; 0.1 µF, 45 µC, 350 mJ", Status.VERIFIED, "IEC 60335-1, 8.1.4, an excerpt"),
    Source("capacitors of ES1 by size, 60 V from 300 nF", Status.FROM_MEMORY,
           "IEC 62368-1, table 5"),
    Source("45 µC line, 5 s after disconnection", Status.SECOND_HAND,
           "IEC 61010-1, 6.3.1 and 6.10.3, by a message to the emc-pstc list"),
    Source("60 V d.c. steady limit of IEC 61010-1", Status.FROM_MEMORY),
    Source("sparks that hurt from 1 J", Status.PROPOSED),
    Source("60 V or 60 µC", Status.VERIFIED, "IEC 60204-1, 6.2.4, a translation"),
    Source("10 to 15 % come back in wet aluminium parts", Status.SECOND_HAND,
           "encyclopaedia article on aluminium electrolytic capacitors"),
]  # fmt: skip
