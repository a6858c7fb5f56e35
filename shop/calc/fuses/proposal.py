"""What is proposed when a fuse is scaled to another supply."""

from __future__ import annotations

import msgspec


class FuseProposal(msgspec.Struct, frozen=True):
    """A proposal for a competent person. Currents in mA, residual in % of the exact value."""

    mark: str
    from_maker: bool
    current_milliampere: float
    current_text: str
    characteristic: str | None
    breaking_letter: str | None
    breaking_capacity_ampere: float | None
    rated_volt: int
    old_rated_volt_suffices: bool | None
    computed_mark: str | None
    exact_milliampere: float | None
    steps: int
    residual_percent: float
    lower_milliampere: int | None
    higher_milliampere: int | None
    show_lower: bool
    show_higher: bool
    steps_from_maker: int | None = None
