"""What is asked when a fuse is scaled to another supply."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import MainsVolt
from shop.calc.fuses.marking import STANDARD_LABELS, MarkText, Standard
from shop.calc.words import gettext_noop as _noop

Position = Literal["common_line", "winding"]


class ScaleIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The fuse for the old supply, both supplies, and what the maker prints for the new one."""

    old_volt: Annotated[MainsVolt, Meta(title="Supply before")]
    new_volt: Annotated[MainsVolt, Meta(title="Supply after")]
    old_mark: Annotated[
        MarkText | None,
        Meta(
            title="Fuse before",
            description="its marking; left out only where the maker's for the new supply is known",
        ),
    ] = None
    supply_high_volt: Annotated[
        float | None,
        Meta(
            title="Upper limit of the supply",
            description="of the new supply; nominal + 10 % if left out",
        ),
    ] = None
    maker_marking: Annotated[
        str | None,
        Meta(
            title="Maker's marking",
            description="what unit or service data say for the new supply; it wins",
        ),
    ] = None
    position: Annotated[
        Position,
        Meta(
            title="Where the fuse is",
            description="a fuse in each winding of a dual primary stays as it is",
            extra_json_schema={
                "x-labels": {
                    "common_line": _noop("one fuse in the line"),
                    "winding": _noop("one fuse in each winding"),
                }
            },
        ),
    ] = "common_line"
    primary_reconnected: Annotated[
        bool,
        Meta(
            title="Primary re-connected",
            description="no: the same winding just sees another voltage",
        ),
    ] = True
    old_standard: Annotated[
        Standard,
        Meta(
            title="Standard of the fuse before",
            description="what its rating means: a UL rating counts as three quarters",
            extra_json_schema=STANDARD_LABELS,
        ),
    ] = "iec"
