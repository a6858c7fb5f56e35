"""A primary's setting for a supply: what the answer says."""

from __future__ import annotations

import msgspec

from shop.calc.windings.drawing import Drawing
from shop.calc.windings.phasing import PhasingTest
from shop.calc.windings.secondaries import SecondaryAt
from shop.calc.windings.window import Band
from shop.calc.working import Outcome


class ExpectedVolt(msgspec.Struct, frozen=True):
    """The volts a whole section, start to finish, must show at the line voltage taken.

    A section that carries no mains current (`in_use` false) shows them too, by induction.
    """

    section: str
    terminals: list[str]
    volt: float
    in_use: bool


class ForSupplyOut(msgspec.Struct, frozen=True):
    """The setting for the supply. Where `can_be_converted` is false, `reason` says why.

    Then the other fields show the nearest setting that was judged, and must not be powered.
    `drawing_now` shows the links as found, without mains, where they are given. `tolerable_volts`
    bounds what this setting may be fed with at the supply's frequency: flux below, heaters above
    their limits; None where no voltage serves both.
    """

    can_be_converted: bool
    reason: str
    arrangement: str
    mode: str
    from_model_sheet: bool
    rated_volt: float
    line_volt: float
    line_terminals: list[str]
    links: list[list[str]]
    links_to_set: list[list[str]]
    links_to_remove: list[list[str]]
    section_volts: list[ExpectedVolt]
    factor: float
    secondaries: list[SecondaryAt]
    heater_verdict: Outcome | None
    flux_ratio: float
    flux_verdict: Outcome
    voltage_verdict: Outcome
    line_ampere: float | None
    available_va: float | None
    phasing_tests: list[PhasingTest]
    drawing: Drawing
    drawing_now: Drawing | None
    tolerable_volts: Band | None
